/**
 * A voice note that can be taken in two ways carries both in its text, the likelier first, so that the log keeps what
 * was heard. Here they are put together, taken apart, and made into a question with two buttons.
 */
import { type Token, tokenise, vocabulary } from "../language/index.js";
import type { Ask, Draft, Reading } from "../logbook/index.js";

const SIGN = "\n≈ ";
const LABEL = 40;

export const twoWays = (text: string, other: string): string => `${text}${SIGN}${other}`;

export function waysOf(text: string): { readonly text: string; readonly other?: string } {
  const at = text.indexOf(SIGN);
  return at < 0 ? { text } : { text: text.slice(0, at), other: text.slice(at + SIGN.length) };
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
    list
      .slice(start, Math.min(list.length, list.length - back + 1))
      .join(" ")
      .slice(0, LABEL);
  const found = [part(a), part(b)] as const;
  return found[0] === found[1] ? [one.slice(-LABEL), two.slice(-LABEL)] : found;
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
