/** How words sound: the engine's dictionary, of which only the words of the grammar are kept, and our own pronunciations. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { modelFolder } from "./engine.js";
import { NEW_WORDS, OTHER_WAYS } from "./pronunciations.js";

/** Every way to say a word, the usual one first, as phones with a space between. */
export type Ways = ReadonlyMap<string, readonly string[]>;

/** One pass over the engine's 130,000 lines, `word PH ON ES` or `word(2) PH ON ES`: most are never held in memory. */
export function waysToSay(wanted: ReadonlySet<string>): Ways {
  const full = readFileSync(join(modelFolder(), "en-us", "dict.txt"), "latin1");
  const ways = new Map<string, string[]>();
  const add = (word: string, phones: string): void => {
    const known = ways.get(word);
    if (known === undefined) ways.set(word, [phones]);
    else known.push(phones);
  };
  for (let at = 0; at < full.length; ) {
    const end = full.indexOf("\n", at);
    const line = full.slice(at, end < 0 ? full.length : end);
    at += line.length + 1;
    const space = line.indexOf(" ");
    const head = line.slice(0, space);
    const word = head.endsWith(")") ? head.slice(0, head.indexOf("(")) : head;
    if (wanted.has(word)) add(word, line.slice(space + 1).trim());
  }
  for (const [word, phones] of Object.entries(NEW_WORDS))
    if (wanted.has(word) && !ways.has(word)) add(word, phones);
  for (const [word, phones] of OTHER_WAYS) if (wanted.has(word)) add(word, phones);
  return ways;
}

/** Lines of a dictionary file. */
export const dictionaryLines = (ways: Ways): string[] =>
  [...ways].flatMap(([word, said]) =>
    said.map((phones, index) => `${index === 0 ? word : `${word}(${index + 1})`} ${phones}`),
  );
