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

/** Share of the sounding time that must be words: the engine hides talk that it can not place in its pauses. */
export const LEAST_COVERED = 0.7;

/** One word alone is found in many a noise: it must fit well. */
export const LEAST_FIT_ALONE = -4;

export const isForTheLog = (signs: { fit: number; covered: number; words: number }): boolean =>
  signs.fit > (signs.words > 1 ? LEAST_FIT : LEAST_FIT_ALONE) && signs.covered > LEAST_COVERED;
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
