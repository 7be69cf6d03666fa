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

/** Below this a note is talk, music or hammering where nothing else is known of it. */
const LEAST_FIT = 0;
/** Below this it is, whatever else is known. -10 to -6. */
const LEAST_FIT_OF_ALL = -8;
/** The same for a figure that answers a question of the bot: such a note is expected. */
const LEAST_FIT_ASKED = -9;
/** A note that fits better than this is not weighed against plain talk, nor heard again. 8 to 15. */
export const SURE_FIT = 12;
/** How far plain talk may be ahead of the grammar: of 56 notes that fit poorly it was farther ahead of 7, of 77 of talk ahead of 75. -5 to -3. */
const LEAST_LEAD = -4;
/** Both signs together: soft notes are behind in one of them, talk is in both. -9 to -5. */
const LEAST_SUM = -7.5;
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

/** Whether a note is worth weighing against plain talk: the answer is not known without. */
export const isOpen = (signs: { readonly fit: number; readonly asked: boolean }): boolean =>
  !signs.asked && signs.fit > LEAST_FIT_OF_ALL && signs.fit < SURE_FIT;

export function isForTheLog(signs: {
  readonly fit: number;
  readonly covered: number;
  readonly words: number;
  /** How much better the grammar explains the sound than plain talk does, a frame. Undefined if it was not weighed. */
  readonly lead: number | undefined;
  /** The bot has asked for a figure, and this is one. */
  readonly asked: boolean;
}): boolean {
  const { fit, covered, words, lead, asked } = signs;
  if (covered <= LEAST_COVERED) return false;
  if (asked) return fit > LEAST_FIT_ASKED;
  if (words <= 1 && fit <= LEAST_FIT_ALONE) return false;
  if (lead === undefined) return fit > LEAST_FIT;
  return lead > LEAST_LEAD && fit + lead > LEAST_SUM;
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
