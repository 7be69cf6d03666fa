/**
 * How sure the recogniser may be. `fit`: how much better the grammar explains the sound than bare phones do, in the
 * engine's own steps a frame; `margin`: how far the best figures are ahead of the next best; `alone`: the note is a figure and
 * nothing else. The numbers were fitted on the tuning part of the corpus (docs/voice.md).
 */
export interface Signs {
  readonly fit: number;
  readonly margin: number;
  readonly alone: boolean;
  /** The bot has asked for a figure, and this is one. */
  readonly asked: boolean;
}

/** Below this a note is talk, music or hammering where nothing else is known of it. */
const LEAST_FIT = 0;
/** Below this it is, whatever else is known. -10 to -6. */
const LEAST_FIT_OF_ALL = -8;
/** A figure that answers a question of the bot is expected: down to this it is put to the smith, with the figure next to it. -13 to -10. */
const LEAST_FIT_ASKED = -12;
/** Such a figure is kept unasked above this only. -9 to -8. */
const POOR_FIT_ASKED = -8;
/** A note that fits better than this is not weighed against plain talk. 8 to 15. */
const SURE_FIT = 12;
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

interface Sounding {
  readonly fit: number;
  /** Share of the sounding time that is words. */
  readonly covered: number;
  readonly words: number;
  /** The bot has asked for a figure, and this is one. */
  readonly asked: boolean;
}

const isNoise = ({ fit, covered, words, asked }: Sounding): boolean =>
  covered <= LEAST_COVERED || (!asked && words <= 1 && fit <= LEAST_FIT_ALONE);

/** Whether a note is worth weighing against plain talk: the answer is not known without. */
export const isOpen = (signs: Sounding): boolean =>
  !signs.asked && signs.fit > LEAST_FIT_OF_ALL && signs.fit < SURE_FIT && !isNoise(signs);

export function isForTheLog(
  signs: Sounding & {
    /** How much better the grammar explains the sound than plain talk does, a frame. Undefined if it was not weighed. */
    readonly lead: number | undefined;
    /** Another figure is there to offer beside it. */
    readonly rival: boolean;
  },
): boolean {
  const { fit, lead, asked, rival } = signs;
  if (isNoise(signs)) return false;
  if (asked) return fit > (rival ? LEAST_FIT_ASKED : POOR_FIT_ASKED);
  if (lead === undefined) return fit > LEAST_FIT;
  return lead > LEAST_LEAD && fit + lead > LEAST_SUM;
}

export const isDoubtful = ({ margin, fit, alone, asked }: Signs): boolean =>
  (asked && fit <= POOR_FIT_ASKED) ||
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
