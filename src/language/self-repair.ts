/**
 * Who says a figure and at once another one has put himself right: `heat 2 at 950, no, 960`, `24 by, um, no, 22 by 36`, `eight minutes,
 * nine minutes I mean`. What was given up is dropped, and the second telling stands in its place. The three parts (what is given up,
 * the words of editing, the repair) are those of the study of disfluencies in speech; the lists of words are common practice, no source.
 */
import type { UnitHints } from "./quantities.js";
import { figureRepaired, renewed } from "./self-repair-figures.js";
import { colourRepaired, toldAgain, wordRepaired } from "./self-repair-words.js";
import type { Token } from "./tokens.js";
import { mayPutRight } from "./words-of-editing.js";

/** The message without what was given up, and what was dropped, in words. */
export function repaired(
  tokens: readonly Token[],
  hints: UnitHints,
): { readonly tokens: readonly Token[]; readonly dropped: readonly string[] } {
  if (!mayPutRight(tokens)) return { tokens, dropped: [] };
  const dropped: string[] = [];
  let now = tokens;
  for (let round = 0; round < 4; round += 1) {
    const next =
      renewed(now, hints) ??
      figureRepaired(now, hints) ??
      colourRepaired(now) ??
      wordRepaired(now) ??
      toldAgain(now);
    if (next === undefined) break;
    dropped.push(next.dropped);
    now = next.tokens;
  }
  return { tokens: now, dropped };
}
