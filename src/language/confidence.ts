/** How sure a reading is. The shares come from the tuning part of the corpus (docs/reading.md, calibration table). */
import type { DraftBody } from "../logbook/index.js";
import type { Ledger } from "./ledger.js";

/** Share of readings that were right, by what the reader had to do. */
const PLAIN = 0.99;
const SPELLING = 0.95;
const GUESSED = 0.8;
const WITH_LEFTOVERS = 0.85;

export function confidenceOf(_body: DraftBody, ledger: Ledger): number {
  let share = PLAIN;
  if (ledger.guesses.has("spelling")) share = Math.min(share, SPELLING);
  if (ledger.leftovers.length > 0) share = Math.min(share, WITH_LEFTOVERS);
  if ([...ledger.guesses].some((guess) => guess !== "spelling")) share = Math.min(share, GUESSED);
  return share;
}
