/**
 * How sure the recogniser may be. `fit`: how much better the grammar explains the sound than bare phones do, in the
 * engine's own steps a frame; `margin`: how far the best figures are ahead of the next best. The numbers were fitted on
 * the tuning part of the corpus (docs/voice.md).
 */
export interface Signs {
  readonly fit: number;
  readonly margin: number;
}

/** Below this a note is talk, music or hammering. */
export const LEAST_FIT = -11.5;
/** Below this two readings are put to the smith. */
export const LEAST_MARGIN = 250;
/** Where the grammar fits the sound poorly, readings are put to the smith below this. */
const POOR_FIT = -6;
const POOR_MARGIN = 400;
/** A margin above this says no more. */
const MOST_MARGIN = 800;

export const isForTheLog = ({ fit }: { fit: number; words: number }): boolean => fit > LEAST_FIT;
export const isDoubtful = ({ margin, fit }: Signs): boolean =>
  margin < LEAST_MARGIN || (fit < POOR_FIT && margin < POOR_MARGIN);

/** Share of notes with such signs whose figures were all right, 0 to 1. */
export function confidenceOf({ fit, margin }: Signs): number {
  const score =
    1.15 +
    (3.43 * Math.min(margin, MOST_MARGIN)) / MOST_MARGIN +
    0.254 * Math.max(-12, Math.min(8, fit));
  return Math.round((1 / (1 + Math.exp(-score))) * 100) / 100;
}
