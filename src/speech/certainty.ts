/**
 * How sure the recogniser may be. `fit`: how much better the grammar explains the sound than bare phones do, in the
 * engine's own steps a frame; `margin`: how far the best figures are ahead of the next best; `alone`: the note is a figure and
 * nothing else. The numbers were fitted on the tuning part of the corpus (docs/voice.md).
 */
export interface Signs {
  readonly fit: number;
  readonly margin: number;
  readonly alone: boolean;
}

/** Below this a note is talk, music or hammering. */
export const LEAST_FIT = 0;
/** The same for a figure that answers a question of the bot: such a note is expected. */
const LEAST_FIT_ASKED = -9;
/** Below this two readings are put to the smith. */
export const LEAST_MARGIN = 270;
/** Where the grammar fits the sound poorly, readings are put to the smith below this. */
const POOR_FIT = 12;
const POOR_MARGIN = 350;
/** A figure alone has no other words that would give it away if it was misheard. */
const ALONE_MARGIN = 450;
/** A margin above this says no more. */
const MOST_MARGIN = 800;

/** Share of the sounding time that must be words (more than all of it where a word holds a short pause): the engine hides talk that it can not place in its pauses. */
export const LEAST_COVERED = 0.95;

/** One word alone is found in many a noise: it must fit well. */
export const LEAST_FIT_ALONE = 5;

export function isForTheLog(signs: {
  readonly fit: number;
  readonly covered: number;
  readonly words: number;
  /** The bot has asked for a figure, and this is one. */
  readonly asked: boolean;
}): boolean {
  const least = signs.asked ? LEAST_FIT_ASKED : signs.words > 1 ? LEAST_FIT : LEAST_FIT_ALONE;
  return signs.fit > least && signs.covered > LEAST_COVERED;
}

export const isDoubtful = ({ margin, fit, alone }: Signs): boolean =>
  margin < LEAST_MARGIN ||
  (fit < POOR_FIT && margin < POOR_MARGIN) ||
  (alone && margin < ALONE_MARGIN);

/** Share of notes with such signs whose figures were all right, 0 to 1. */
export function confidenceOf({ fit, margin }: Pick<Signs, "fit" | "margin">): number {
  const score =
    -0.98 +
    (3.11 * Math.max(0, Math.min(margin, MOST_MARGIN))) / MOST_MARGIN +
    0.166 * Math.max(-12, Math.min(25, fit));
  return Math.round((1 / (1 + Math.exp(-score))) * 100) / 100;
}
