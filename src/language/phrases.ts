/** The vocabulary, indexed for looking up the longest phrase at a token. */
import type { Token } from "./tokens.js";
import { FILLERS, NOTE_PHRASES, NOTE_WORDS, PHRASES, SMALL_TALK } from "./vocabulary.js";

interface Entry {
  readonly words: readonly string[];
  readonly means: string[];
}

const index = new Map<string, Entry[]>();
const known = new Map<string, Entry>();

function add(means: string, phrases: string): void {
  for (const phrase of phrases.split(",").map((one) => one.trim())) {
    if (phrase === "") continue;
    const old = known.get(phrase);
    if (old) {
      if (!old.means.includes(means)) old.means.push(means);
      continue;
    }
    const entry: Entry = { words: phrase.split(" "), means: [means] };
    known.set(phrase, entry);
    const first = entry.words[0] ?? "";
    const list = index.get(first);
    if (list) list.push(entry);
    else index.set(first, [entry]);
  }
}
for (const [means, phrases] of Object.entries(PHRASES)) add(means, phrases);
add("notable:word", NOTE_WORDS);
add("notable:phrase", NOTE_PHRASES);
add("filler:talk", SMALL_TALK);
add("filler:word", FILLERS);
for (const list of index.values()) list.sort((a, b) => b.words.length - a.words.length);

/** Words that may stand inside a phrase without a line of their own: `drew it out`. */
const INSIDE = new Set(["it", "him", "her", "them"]);
const ARTICLE = new Set(["the", "this", "that", "my"]);
const PIECE = new Set([
  "disc",
  "bar",
  "ingot",
  "block",
  "piece",
  "cake",
  "puck",
  "blade",
  "billet",
]);
/** Tokens after `at` that a phrase may have inside: `it`, `the disc`. */
function insideAt(tokens: readonly Token[], at: number): number {
  const text = tokens[at]?.text ?? "";
  if (INSIDE.has(text)) return 1;
  return ARTICLE.has(text) && PIECE.has(tokens[at + 1]?.text ?? "") ? 2 : 0;
}

export interface Phrase {
  readonly means: readonly string[];
  readonly words: string;
  readonly next: number;
}

/** The longest phrase that begins at token `at`. */
export function phraseAt(tokens: readonly Token[], at: number): Phrase | undefined {
  const list = index.get(tokens[at]?.text ?? "");
  if (!list) return undefined;
  for (const entry of list) {
    let next = at + 1;
    let matched = true;
    for (let i = 1; i < entry.words.length; i += 1) {
      const wanted = entry.words[i];
      if (tokens[next]?.text !== wanted) next += insideAt(tokens, next);
      if (tokens[next]?.text !== wanted) {
        matched = false;
        break;
      }
      next += 1;
    }
    if (matched) return { means: entry.means, words: entry.words.join(" "), next };
  }
  return undefined;
}

/** Every single word of the trade lines (not of the fillers). */
export function tradeWords(): ReadonlySet<string> {
  const words = new Set<string>();
  for (const phrases of Object.values(PHRASES))
    for (const word of phrases.split(/[ ,]+/)) words.add(word);
  for (const word of NOTE_WORDS.split(/[ ,]+/)) words.add(word);
  return words;
}

/** Every word that any line knows. */
export function allWords(): ReadonlySet<string> {
  const words = new Set(tradeWords());
  for (const phrases of [FILLERS, SMALL_TALK, NOTE_PHRASES])
    for (const word of phrases.split(/[ ,]+/)) words.add(word);
  return words;
}

/** Do two single words mean the same? */
export const sameMeaning = (a: string, b: string): boolean => {
  const first = known.get(a)?.means[0];
  return first !== undefined && first === known.get(b)?.means[0];
};

/** What a single word means. */
export const meansOf = (word: string): readonly string[] => known.get(word)?.means ?? [];

/** A word that labels the figure before it: `thick`. */
export const isLabel = (word: string): boolean =>
  known.get(word)?.means.some((one) => one.startsWith("adj:")) ?? false;

/** Single words that only fill. */
export const plainFillers = (): ReadonlySet<string> =>
  new Set(
    FILLERS.split(",")
      .map((one) => one.trim())
      .filter((one) => !one.includes(" ") && known.get(one)?.means.length === 1),
  );
