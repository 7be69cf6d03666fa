/** A word that is told again: `on the spine, no, the edge`, `dull orange no sorry bright orange`, `melt 16, sorry, melt 17`. */
import { phraseAt } from "./phrases.js";
import type { Token } from "./tokens.js";
import { HUES, SHADES } from "./vocabulary.js";
import { editAt, mayEdit, type Repair, TOLD, wordsOf } from "./words-of-editing.js";

const COLOURS = new Set([...SHADES.split(/[ ,]+/), ...HUES.split(/[ ,]+/)]);
/** Groups of words that can be put right in passing. */
const SWAPPED = ["place:", "severity:", "op:", "route:", "edge:", "ingotshape:"];
const ARTICLES = /^(the|an?|rather|on|in|at)$/;
/** Tokens before the words of editing that are looked at for what is told again. */
const LOOKS_BACK = 6;

/** `melt 16, sorry, melt 17`, `back to Brook, no, back to Magpie`, `small crack, no, a nasty crack`: told again from a word on. */
export function toldAgain(tokens: readonly Token[]): Repair | undefined {
  for (let at = 1; at < tokens.length; at += 1) {
    const to = mayEdit(tokens, at) ? editAt(tokens, at) : undefined;
    if (to === undefined) continue;
    let start = to;
    while (ARTICLES.test(tokens[start]?.text ?? "")) start += 1;
    const again = tokens[start];
    if (again?.kind !== "word" || again.text.length < 3) continue;
    const phrase = phraseAt(tokens, start);
    const group = phrase && SWAPPED.find((one) => phrase.means.some((is) => is.startsWith(one)));
    const known =
      phrase?.means.some((is) => /^(kind|adj|noun|say:switch|removal|op)/.test(is)) ?? false;
    for (let from = at - 1; from >= Math.max(0, at - LOOKS_BACK); from -= 1) {
      if (/^[.;!?\n,]$/.test(tokens[from]?.text ?? "")) break;
      const same = known && tokens[from]?.text === again.text;
      const first = group === undefined ? undefined : phraseAt(tokens, from);
      const swapped =
        group !== undefined &&
        first?.means.some((is) => is.startsWith(group)) === true &&
        !first.means.some((is) => phrase?.means.includes(is));
      if (!same && !swapped) continue;
      if (TOLD.test(tokens[from - 1]?.text ?? "")) break;
      return {
        tokens: [...tokens.slice(0, from), ...tokens.slice(start)],
        dropped: wordsOf(tokens.slice(from, at)),
      };
    }
  }
  return undefined;
}

/** `dull orange no sorry bright orange`: a heat colour for another. */
export function colourRepaired(tokens: readonly Token[]): Repair | undefined {
  for (let at = 1; at < tokens.length; at += 1) {
    if (!COLOURS.has(tokens[at - 1]?.text ?? "")) continue;
    const to = mayEdit(tokens, at) ? editAt(tokens, at) : undefined;
    if (to === undefined || !COLOURS.has(tokens[to]?.text ?? "")) continue;
    let from = at - 1;
    while (COLOURS.has(tokens[from - 1]?.text ?? "")) from -= 1;
    return {
      tokens: [...tokens.slice(0, from), ...tokens.slice(to)],
      dropped: wordsOf(tokens.slice(from, at)),
    };
  }
  return undefined;
}

/** `on the spine, no, the edge`: a word of one group for another of the same. */
export function wordRepaired(tokens: readonly Token[]): Repair | undefined {
  for (let at = 1; at < tokens.length; at += 1) {
    const to = mayEdit(tokens, at) ? editAt(tokens, at) : undefined;
    if (to === undefined) continue;
    const skip = /^(on|in|at)$/.test(tokens[to]?.text ?? "") ? 1 : 0;
    const article = tokens[to + skip]?.text === "the" ? 1 : 0;
    const start = to + skip + article;
    const second = phraseAt(tokens, start);
    const group = second && SWAPPED.find((one) => second.means.some((is) => is.startsWith(one)));
    if (!second || group === undefined) continue;
    for (let from = at - 1; from >= Math.max(0, at - 3); from -= 1) {
      const first = phraseAt(tokens, from);
      if (first?.next !== at || !first.means.some((is) => is.startsWith(group))) continue;
      if (first.means.some((is) => second.means.includes(is))) continue;
      // `I said double, I meant single`: that was another message.
      if (TOLD.test(tokens[from - 1]?.text ?? "")) continue;
      return {
        tokens: [...tokens.slice(0, from), ...tokens.slice(start)],
        dropped: wordsOf(tokens.slice(from, at)),
      };
    }
  }
  return undefined;
}
