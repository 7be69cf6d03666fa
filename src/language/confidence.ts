/**
 * How sure an entry is: the share of such entries that are right. The shares were counted on messages of writers who never saw the reader, read
 * once before any rule was changed for them (docs/reading.md shows the table; `npm run calibrate` counts again).
 */
import type { Ledger } from "./ledger.js";

/** Everything in the message was understood (1374 of 1398 entries). */
const CLEAR = 0.98;
/** A word of the message was put right (41 of 43). */
const SPELLING = 0.95;
/** Something beside it was handed back unread (33 of 44). */
const WITH_UNREAD = 0.75;
/** Something beside it is asked about (29 of 44). */
const WITH_QUESTION = 0.65;
/** A label was guessed (4 of 9). */
const GUESSED = 0.5;

/** How sure the entries of a message are, 0 to 1, by the weakest that they lean on. */
export function confidenceOf(ledger: Ledger, unread: boolean, asked: boolean): number {
  let share = CLEAR;
  for (const guess of ledger.guesses)
    if (guess !== "leftovers") share = Math.min(share, guess === "spelling" ? SPELLING : GUESSED);
  if (unread) share = Math.min(share, WITH_UNREAD);
  if (asked) share = Math.min(share, WITH_QUESTION);
  return share;
}
