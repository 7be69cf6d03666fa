/**
 * Slips of the thumb in words of the trade: one edit in words of four letters and more, two in words of seven
 * and more, and only if no other known word is as near. Number words are figures: never touched.
 */
import { everydayWords } from "./everyday-words.js";
import { allWords, isLabel, meansOf, plainFillers, sameMeaning, tradeWords } from "./phrases.js";
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD } from "./units.js";
import {
  HUES,
  NUMBER_CONFUSIONS,
  ONES,
  ORDINALS,
  PARTS,
  SHADES,
  TEENS,
  TENS,
  ZEROS,
} from "./vocabulary.js";

const ONE_EDIT_FROM = 4;
const TWO_EDITS_FROM = 7;
const LONGEST = 18;

const numbers = [ONES, TEENS, TENS, PARTS, ORDINALS, NUMBER_CONFUSIONS]
  .flatMap((table) => Object.keys(table))
  .flatMap((words) => words.split(" "))
  .concat(ZEROS.split(", "), ["hundred", "thousand", "point", "dozen", "couple", "and"]);

const protectedWords = new Set([
  ...allWords(),
  ...UNIT_OF_WORD.keys(),
  ...numbers,
  ...SHADES.split(/[ ,]+/),
  ...HUES.split(/[ ,]+/),
]);

/** Names of times that a slip may hit. */
const TIME_WORDS = [
  "morning",
  "afternoon",
  "evening",
  "yesterday",
  "tonight",
  "o'clock",
  "minutes",
  "seconds",
];
const targets = [
  ...TIME_WORDS,
  ...tradeWords(),
  ...UNIT_OF_WORD.keys(),
  ...HUES.split(/[ ,]+/),
].filter(
  (word) =>
    word.length >= ONE_EDIT_FROM &&
    !numbers.includes(word) &&
    (word === "forged" || !plainFillers().has(word)),
);

/** Every string that is left when up to `edits` letters are taken out. */
function shortened(word: string, edits: number, into: Set<string>): Set<string> {
  into.add(word);
  if (edits === 0) return into;
  for (let i = 0; i < word.length; i += 1)
    shortened(word.slice(0, i) + word.slice(i + 1), edits - 1, into);
  return into;
}

let nearby: Map<string, string[]> | undefined;
function neighbourhood(): Map<string, string[]> {
  if (nearby) return nearby;
  nearby = new Map();
  for (const word of new Set([
    ...targets,
    ...numbers.filter((one) => one.length >= ONE_EDIT_FROM),
  ])) {
    if (word.length > LONGEST) continue;
    for (const part of shortened(word, word.length >= TWO_EDITS_FROM ? 2 : 1, new Set())) {
      const list = nearby.get(part);
      if (list) list.push(word);
      else nearby.set(part, [word]);
    }
  }
  return nearby;
}

/** Edits (insert, drop, change, swap of neighbours) between two words; `limit + 1` when more. */
export function edits(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) > limit) return limit + 1;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        least = Math.min(least, (before[j - 2] ?? 0) + 1);
      row.push(least);
    }
    before = last;
    last = row;
  }
  return Math.min(last[b.length] ?? limit + 1, limit + 1);
}

/** The word of the trade that was meant, or undefined if the word is known, too far or between two. */
export function nearestWord(
  word: string,
  fits: (other: string) => boolean = () => false,
): string | undefined {
  if (word.length === SHORTEST_SKELETON && /^[^aeiouy'\d]+$/.test(word) && !isKnownWord(word))
    return consonants(word);
  if (word.length < ONE_EDIT_FROM || word.length > LONGEST || isKnownWord(word)) return undefined;
  if (word.includes("'")) return undefined;
  const limit = word.length >= TWO_EDITS_FROM ? 2 : 1;
  let least = limit + 1;
  let best: string[] = [];
  const seen = new Set<string>();
  for (const part of shortened(word, limit, new Set())) {
    for (const other of neighbourhood().get(part) ?? []) {
      if (seen.has(other)) continue;
      seen.add(other);
      const apart = edits(word, other, limit);
      if (apart > limit || (other.length < TWO_EDITS_FROM && apart > 1)) continue;
      if (apart < least) {
        best = [other];
        least = apart;
      } else if (apart === least) best.push(other);
    }
  }
  if (best.length === 0) best = alike(word);
  const [first] = best;
  if (first === undefined) return undefined;
  const one = best.every((other) => sameStem(first, other) || sameMeaning(first, other));
  const fitting = one ? [] : best.filter(fits);
  const heard = one || fitting.length === 1 ? [] : alike(word);
  const [sounds] = heard;
  const same =
    sounds !== undefined &&
    heard.every((other) => sameStem(sounds, other) || sameMeaning(sounds, other));
  const chosen = one ? first : fitting.length === 1 ? fitting[0] : same ? sounds : undefined;
  return chosen === undefined || numbers.includes(chosen) ? undefined : chosen;
}

/** What is left of a word for the ear: `straitend` and `straightened` are the same. */
function skeleton(word: string): string {
  return word
    .replace(/gh/g, "")
    .replace(/ck|c|q/g, "k")
    .replace(/z/g, "s")
    .replace(/ph/g, "f")
    .replace(/(?<=.)[aeiouy]/g, "")
    .replace(/(.)\1+/g, "$1");
}
const SHORTEST_SKELETON = 3;
let skeletons: Map<string, string[]> | undefined;
/** Words of the trade that sound like this one, the nearest in letters first in line and alone if it is nearer than the rest. */
function alike(word: string): string[] {
  if (!skeletons) {
    skeletons = new Map();
    for (const target of targets) {
      const key = skeleton(target);
      skeletons.set(key, [...(skeletons.get(key) ?? []), target]);
    }
  }
  const key = skeleton(word);
  const same = (key.length < SHORTEST_SKELETON ? [] : (skeletons.get(key) ?? [])).filter(
    (other) =>
      other[0] === word[0] && (key.length > SHORTEST_SKELETON || edits(word, other, 1) <= 1),
  );
  const apart = same.map((other) => edits(word, other, LONGEST));
  const least = Math.min(...apart);
  return same.filter((_, i) => apart[i] === least);
}
/** `mlt`, `drw`: a word written without its vowels, if all words of the trade that it can be mean the same. */
function consonants(word: string): string | undefined {
  const [first, ...others] = targets.filter(
    (other) =>
      !UNIT_OF_WORD.has(other) &&
      other.length <= ONE_EDIT_FROM + 1 &&
      other.replace(/(?<=.)[aeiouy]/g, "") === word,
  );
  return first !== undefined && others.every((other) => sameMeaning(first, other))
    ? first
    : undefined;
}
const numberWords = [ONES, TEENS, TENS]
  .flatMap((table) => Object.keys(table))
  .filter((word) => word.length >= ONE_EDIT_FROM);
/** An unknown word that a slip parts from a number word: `tweny`, `sevnty`. */
export const isNearNumber = (word: string): boolean =>
  word.length >= ONE_EDIT_FROM &&
  !isKnownWord(word) &&
  numberWords.some((number) => edits(word, number, 1) <= 1);

/** `crack` and `cracks` are no doubt. */
function sameStem(a: string, b: string): boolean {
  const short = a.length < b.length ? a : b;
  const long = a.length < b.length ? b : a;
  return (
    long.startsWith(short.slice(0, Math.max(3, short.length - 1))) &&
    long.length - short.length <= 2
  );
}

/** A word of the vocabulary. */
export const isTradeWord = (word: string): boolean => protectedWords.has(word);

/** A word of the vocabulary, or a plain English one. */
export const isKnownWord = (word: string): boolean =>
  protectedWords.has(word) || everydayWords.has(word);

/** A capital in the middle of a sentence: a name. `raw`: the message as typed. */
function isCapital(tokens: readonly Token[], at: number, raw: string, shouted: boolean): boolean {
  const [token, before] = [tokens[at], tokens[at - 1]];
  const first = raw[token?.start ?? raw.length] ?? "";
  if (!/\p{Lu}/u.test(first) || before?.kind !== "word" || shouted) return false;
  // `Heat 4 At 950 Darw It`: where every word has one, it says nothing.
  const other = raw[before.start] ?? "";
  return !/\p{Lu}/u.test(other) || /^(ingot|called|named)$/.test(before.text);
}

const mayFollowIngot = (word: string): boolean =>
  !meansOf(word).some((is) =>
    /^(kind|op|shape|place|removal|severity|what|gone|cooling):/.test(is),
  );

/** Tokens with slips put right, and what was changed. Words of ingots' names and figures are left alone. */
export function respell(
  tokens: readonly Token[],
  names: readonly string[] = [],
  raw = "",
): {
  tokens: readonly Token[];
  changed: readonly string[];
} {
  const changed: string[] = [];
  const memory = new Map<string, string | undefined>();
  const named = new Set(names.flatMap((name) => name.toLowerCase().split(/\s+/)));
  const shouted = raw === raw.toUpperCase();
  const out = tokens.map((token, i) => {
    if (token.kind !== "word") return token;
    // Beside a figure stands a heat (before it) or a label (after it).
    const before = tokens[i - 1]?.kind === "number";
    const after = tokens[i + 1]?.kind === "number";
    const key = before || after ? `${token.text} ${before} ${after}` : token.text;
    if (named.has(token.text) || isCapital(tokens, i, raw, shouted)) return token;
    if (!memory.has(key))
      memory.set(
        key,
        nearestWord(
          token.text,
          (other) => (after && other === "heat") || (before && isLabel(other)),
        ),
      );
    const better = memory.get(key);
    if (better === undefined) return token;
    // `new ingot brack, puck`: where a name stands, no crack.
    if (/^(ingot|called|named)$/.test(tokens[i - 1]?.text ?? "") && !mayFollowIngot(better))
      return token;
    changed.push(`${token.text} → ${better}`);
    return { ...token, text: better };
  });
  return { tokens: out, changed };
}
