/** The words with which a speaker puts himself right: `no`, `sorry`, `I mean`. Lists are common practice, no source. */
import type { Token } from "./tokens.js";

/** What was said, with what was given up dropped. */
export interface Repair {
  readonly tokens: readonly Token[];
  readonly dropped: string;
}
export const wordsOf = (tokens: readonly Token[]): string =>
  tokens.map((token) => token.text).join(" ");

/** Words of editing: one of these is needed. */
const EDITS = phrases(
  "no, nope, nah, sorry, wait, i mean, i meant, i tell a lie, tell a lie, i lie, what am i saying, what am i on about, correction, rather, make that, make it, oops, whoops, let me correct that, let me correct myself, my mistake, strike that, i misspoke, not that, i said that wrong, excuse me, pardon",
);
/** Words that may stand among them. */
const BETWEEN = phrases(
  "um, uh, er, erm, ah, oh, hmm, well, or, but, hang on, let me think, let me see, it was, it's, it is, that's, that was, that is, more like, call it, i make it, say, damn, dammit, actually, no, silly me, now, the, a, an, at, make, you know, what, just",
);
/** At the end of a repair: `nine minutes I mean`. */
export const AFTERWARDS = phrases("i mean, i meant, rather, sorry, that is");
export const USED_TO_BE = phrases("used to be, it used to be, it was once");
const MOST_EDIT_WORDS = 14;
export const PAUSES = new Set([",", "-", ":"]);
/** Words of an earlier message. */
export const TOLD = /^(said|put|told|wrote|typed|not)$/;
export const ENDS = /^[.;!?\n]$/;

function phrases(list: string): readonly (readonly string[])[] {
  return list
    .split(", ")
    .map((phrase) => phrase.split(" "))
    .sort((a, b) => b.length - a.length);
}
const FIRST = new Set([...EDITS, ...AFTERWARDS, ...USED_TO_BE].map(([word]) => word));
/** Most messages put nothing right: a look at their words is enough to know. */
export const mayPutRight = (tokens: readonly Token[]): boolean =>
  tokens.some((token) => FIRST.has(token.text));

export const takes = (
  tokens: readonly Token[],
  at: number,
  list: readonly (readonly string[])[],
): number => {
  const found = list.find((words) => words.every((word, k) => tokens[at + k]?.text === word));
  return found === undefined ? 0 : found.length;
};

/** The words of editing that begin at `at`; the token after them. */
export function editAt(tokens: readonly Token[], at: number): number | undefined {
  let next = at;
  let edited = false;
  while (next < tokens.length && next - at < MOST_EDIT_WORDS) {
    const token = tokens[next];
    if (token === undefined) break;
    const edit = takes(tokens, next, EDITS);
    // `make it 22`, `a, an`: only behind a word of editing do they lead to the repair.
    const filler = edit > 0 ? 0 : takes(tokens, next, BETWEEN);
    const dots = token.text === "." && tokens[next + 1]?.text === ".";
    if (edit > 0) edited = true;
    else if (filler === 0 && !PAUSES.has(token.text) && !dots && !(token.text === "." && edited))
      break;
    next += Math.max(1, edit, filler);
  }
  return edited ? next : undefined;
}

/** Only these can begin words of editing: most messages are left at once. */
export const mayEdit = (tokens: readonly Token[], at: number): boolean => {
  const token = tokens[at];
  return (
    token !== undefined &&
    (takes(tokens, at, EDITS) > 0 ||
      PAUSES.has(token.text) ||
      (token.text === "." && tokens[at + 1]?.text === ".") ||
      /^(um|uh|er|erm|ah|oh|hmm|well|or)$/.test(token.text))
  );
};
