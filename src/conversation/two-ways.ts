/**
 * A voice note that can be taken in two ways carries both in its text, the likelier first, so that the log keeps what
 * was heard. Here they are put together, taken apart, and made into a question with two buttons.
 */
import { spokenAt, type Token, tokenise, vocabulary } from "../language/index.js";
import type { Ask, Draft, Reading } from "../logbook/index.js";

const SIGN = "\n≈ ";
/** Before a second sentence that is much less likely: a button puts it in the place of the first. */
const LESS = "\n~ ";
const LABEL = 40;

/** `doubtful`: the two are too near to choose; otherwise `other` is what the first may have been misheard from. */
export const twoWays = (text: string, other: string, doubtful: boolean): string =>
  `${text}${doubtful ? SIGN : LESS}${other}`;

/** A note that is kept, and what to write instead if one figure of it was misheard. */
export function misheard(
  text: string,
  read: (words: string) => Reading,
):
  | { readonly reading: Reading; readonly instead?: { label: string; drafts: readonly Draft[] } }
  | undefined {
  const at = text.indexOf(LESS);
  if (at < 0) return undefined;
  const first = text.slice(0, at);
  const other = text.slice(at + LESS.length);
  const reading = read(first);
  const second = read(other);
  if (bodies(reading.drafts) === bodies(second.drafts) || second.ask !== undefined)
    return { reading };
  const undo: Draft = { body: { kind: "undo" }, implied: [], confidence: 1 };
  return { reading, instead: { label: labels(first, other)[1], drafts: [undo, ...second.drafts] } };
}

export function waysOf(text: string): { readonly text: string; readonly other?: string } {
  const at = text.indexOf(SIGN);
  if (at >= 0) return { text: text.slice(0, at), other: text.slice(at + SIGN.length) };
  const less = text.indexOf(LESS);
  return { text: less < 0 ? text : text.slice(0, less) };
}

/** The reading of a note: one way if both say the same, else nothing but the question which it is. */
export function readWays(text: string, read: (words: string) => Reading): Reading {
  const ways = waysOf(text);
  const first = read(ways.text);
  if (ways.other === undefined) return first;
  const second = read(ways.other);
  if (bodies(first.drafts) === bodies(second.drafts)) return first;
  const [one, two] = labels(ways.text, ways.other);
  const ask: Ask = {
    about: "heard",
    choices: [
      { label: one, drafts: first.drafts },
      { label: two, drafts: second.drafts },
    ],
  };
  return { ...first, drafts: [], unread: [], ask };
}

const bodies = (drafts: readonly Draft[]): string => JSON.stringify(drafts.map(({ body }) => body));

/** What differs, with a word before and after; the whole sentences if they differ in more than one place. */
function labels(one: string, two: string): readonly [string, string] {
  const a = words(one);
  const b = words(two);
  let from = 0;
  while (from < a.length && a[from] === b[from]) from += 1;
  let back = 0;
  while (back < Math.min(a.length, b.length) - from && a.at(-1 - back) === b.at(-1 - back))
    back += 1;
  while (from > 0 && isNumber(a[from - 1])) from -= 1;
  while (back > 0 && isNumber(a[a.length - back])) back -= 1;
  const start = Math.max(0, from - 1);
  const part = (list: readonly string[]): string =>
    inDigits(list.slice(start, Math.min(list.length, list.length - back + 1)).join(" ")).slice(
      0,
      LABEL,
    );
  const found = [part(a), part(b)] as const;
  return found[0] === found[1] ? [one.slice(-LABEL), two.slice(-LABEL)] : found;
}

/** `off fifteen grams` → `off 15 grams`: quicker to tell apart on a button. */
function inDigits(text: string): string {
  const tokens = tokenise(text);
  const out: string[] = [];
  for (let at = 0; at < tokens.length; ) {
    const figure = spokenAt(tokens, at);
    const word = tokens[at]?.text ?? "";
    if (figure === undefined || ((word === "a" || word === "an") && figure.next === at + 1)) {
      out.push(word);
      at += 1;
    } else {
      out.push(String(Math.round(figure.value * 1000) / 1000));
      at = figure.next;
    }
  }
  return out.join(" ");
}

const words = (text: string): string[] => tokenise(text).map(({ text: word }: Token) => word);
const NUMBERS = new Set(
  Object.keys({
    ...vocabulary.ONES,
    ...vocabulary.TEENS,
    ...vocabulary.TENS,
    hundred: 0,
    thousand: 0,
    and: 0,
    point: 0,
    oh: 0,
  }),
);
const isNumber = (word: string | undefined): boolean => word !== undefined && NUMBERS.has(word);
