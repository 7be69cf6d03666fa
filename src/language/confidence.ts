/**
 * How sure an entry is: the share of such entries that are right, by the weakest rule that it leans on. The shares are
 * set from the corpus (`tests/corpus/calibration.ts` prints the table; docs/reading.md shows it).
 */
import type { Body, Ledger } from "./ledger.js";

/** Every figure was said with its label or stands where only one field fits. */
const PLAIN = 0.99;
/** Unlabelled figures were sorted into thickness, width and length. */
const SORTED = 0.98;
/** A spoken number of two halves was joined (`nine fifty`). */
const RUN_ON = 0.97;
/** A unit was taken from a fraction, from the neighbours or from the range. */
const UNIT = 0.96;
/** A word of the message was put right. */
const SPELLING = 0.95;
/** A stretch beside it was not understood. */
const WITH_LEFTOVERS = 0.9;
/** A label was guessed. */
const GUESSED = 0.8;

const SIZES = ["thicknessMm", "widthMm", "lengthMm", "heightMm", "diameterMm"];

export function confidenceOf(body: Body, ledger: Ledger): number {
  let share = PLAIN;
  const weak = (value: number): void => {
    share = Math.min(share, value);
  };
  const implied = ledger.implied.get(body);
  if (implied && SIZES.some((field) => implied.has(field))) weak(SORTED);
  if (implied?.has("temperatureUnits") && implied.has("fahrenheit")) weak(UNIT);
  for (const fig of ledger.figures.get(body)?.values() ?? []) {
    if (fig.q.runOn) weak(RUN_ON);
    if (fig.dimension === undefined && fig.inches) weak(UNIT);
  }
  for (const guess of ledger.guesses)
    weak(guess === "spelling" ? SPELLING : guess === "leftovers" ? WITH_LEFTOVERS : GUESSED);
  return share;
}
