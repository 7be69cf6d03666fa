/**
 * One note heard twice. A note that is not sure is heard again with other ears (`floor.ts`), and what both heard is put
 * together here: agreement keeps a note, a figure that differs is put to the smith, what neither could follow is refused.
 * Pure. The numbers were fitted on the tuning part of the corpus (docs/voice.md).
 */
import { isDoubtful, type Signs } from "./certainty.js";

/** What one pair of ears made of a note. */
export interface Hearing extends Signs {
  readonly text: string;
  /** Its figures as values, in order. */
  readonly figures: readonly number[];
  /** The next best sentence, which differs in a figure. */
  readonly other: string | undefined;
  /** It is something for the log, as far as these ears tell. */
  readonly forLog: boolean;
  /** How far it is ahead of plain talk, a frame. Undefined if it was not weighed. */
  readonly lead: number | undefined;
}

export interface Outcome<Heard extends Hearing> {
  /** The hearing that is believed. */
  readonly heard: Heard;
  readonly other: string | undefined;
  readonly doubtful: boolean;
}

/** Figures that are farther ahead are sure enough for one hearing. In steps of the score; 350 to 900. */
const SURE_MARGIN = 450;
/** Nothing was ever saved by a second hearing below this fit. -16 to -8. */
const HOPELESS_FIT = -12;
/** Above this no second hearing changed an outcome on the tuning part (the highest fit was 5.4), if not for a near figure. 6 to 12. */
const AGAIN_FIT = 8;
/** A refused note that is farther behind plain talk than this is talk for any ears. -10 to -6. */
const TALK_LEAD = -8;
/** What only the second ears accept must fit them this well if its figures are not those of the first. 0 to 6. */
const OWN_FIT = 2;
/** What the first ears alone can follow must fit them this well, unless it was asked for. 4 to 10. */
const LONE_FIT = 6;
/** The second ears are believed where their words fit better by more than this: the first are the better ones where both fit alike. 1 to 4. */
const BETTER_BY = 2;

/** Whether to hear a note again. What is asked about anyway gains nothing by it where it stands alone, nor does what is clearly talk. */
export function wantsAnother(first: Hearing): boolean {
  if (first.fit < HOPELESS_FIT) return false;
  if (!first.forLog) return first.fit < AGAIN_FIT && (first.lead ?? 0) >= TALK_LEAD;
  if (isAsked(first) && stands(first)) return false;
  return first.fit < AGAIN_FIT || (first.margin < SURE_MARGIN && !isAsked(first));
}

/** The first ears may be believed alone. An answer is expected: it may fit poorly, and the limits for talk are not its limits. */
const stands = (first: Hearing): boolean => first.forLog && (first.asked || first.fit >= LONE_FIT);

/** The outcome of one hearing; undefined is a refusal. */
export const ofOne = <Heard extends Hearing>(heard: Heard): Outcome<Heard> | undefined =>
  heard.forLog ? { heard, other: heard.other, doubtful: isAsked(heard) } : undefined;

/** The outcome of two; undefined is a refusal. `second` is undefined where the second ears found nothing at all. */
export function ofTwo<Heard extends Hearing>(
  first: Heard,
  second: Heard | undefined,
): Outcome<Heard> | undefined {
  if (second === undefined) return stands(first) ? ofOne(first) : undefined;
  if (!first.forLog && !second.forLog) return undefined;
  const isBetter = second.fit > first.fit + BETTER_BY;
  if (sameFigures(first, second)) {
    const heard = first.forLog && !(second.forLog && isBetter) ? first : second;
    // A figure that was near another for the first ears still is.
    const doubtful = isAsked(heard) || (first.forLog && isAsked(first));
    return { heard, other: heard.other ?? first.other, doubtful };
  }
  if (!first.forLog && second.fit < OWN_FIT) return undefined;
  if (!second.forLog && !stands(first)) return undefined;
  const [heard, not] = isBetter ? [second, first] : [first, second];
  // Beside an answer stands a figure, never a sentence of talk.
  const isNoAnswer = heard.asked && !not.asked;
  return { heard, other: isNoAnswer ? (heard.other ?? not.text) : not.text, doubtful: true };
}

const isAsked = (heard: Hearing): boolean => heard.other !== undefined && isDoubtful(heard);

const sameFigures = (a: Hearing, b: Hearing): boolean =>
  a.figures.join(" ") === b.figures.join(" ");
