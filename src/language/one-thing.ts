/** `one` as a word for a thing, not the figure 1: `the small one`, `one side`, `an 88 lb one`. */
import { meansOf, phraseAt } from "./phrases.js";
import { quantityAt, type UnitHints } from "./quantities.js";
import { isNumberWord } from "./spoken.js";
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD } from "./units.js";

/** After these words `one` is no figure. */
const PRONOUN_BEFORE =
  /^(new|the|that|this|small|big|other|last|first|each|every|long|short|old|which|good|nice|final|next|clean|wrong|only|same|little|bad|fresh|another)$/;

/** `one` before a place or before a written figure stands for a thing, not for 1. */
function isPronoun(tokens: readonly Token[], at: number): boolean {
  const next = tokens[at + 1];
  if (next === undefined) return false;
  if (next.kind === "number") return !next.vulgar && tokens[at + 2]?.text !== "/";
  if (next.text === "point") return false;
  const phrase = phraseAt(tokens, at + 1);
  return (
    phrase?.means.some((one) => /^(place|severity|op):/.test(one) || one === "kind:crack") ?? false
  );
}

/** `a tiny one at the corner`, `a real one stole my spoon`: no unit, no label and no other number follows. */
function isSpokenOf(tokens: readonly Token[], at: number): boolean {
  const [next, before, article] = [tokens[at + 1], tokens[at - 1], tokens[at - 2]];
  if (before?.kind !== "word" || isNumberWord(before.text) || next === undefined) return false;
  if (!/^(an?|the|that|this)$/.test(article?.text ?? "")) return false;
  if (isNumberWord(next.text) || UNIT_OF_WORD.has(next.text)) return false;
  if (/^(and|by|x|point|half|quarter|off|more|or|to|more|hundred|thousand)$/.test(next.text))
    return false;
  return !(phraseAt(tokens, at + 1)?.means.some((is) => /^(adj|noun|unit|dir)/.test(is)) ?? false);
}

/** `a nasty one`, `an 88 lb one`: at the end of what is said, after a word or a unit. */
function isThing(tokens: readonly Token[], at: number): boolean {
  const next = tokens[at + 1];
  const before = tokens[at - 1];
  if (next?.kind === "word") return isSpokenOf(tokens, at);
  if (next?.kind === "number") return false;
  if (next?.kind === "sign" && !/^[.,;!?]$/.test(next.text)) return false;
  if (before?.kind !== "word" || isNumberWord(before.text)) return false;
  // `split at the butt, nasty one`.
  if (meansOf(before.text).some((is) => is.startsWith("severity:"))) return true;
  const article = /^(an?|the|that|this|another)$/;
  return article.test(tokens[at - 2]?.text ?? "") || article.test(tokens[at - 3]?.text ?? "");
}

/** Is the token `one` a thing? `phraseEnd`: the token after the longest known phrase that begins here. */
export function isOneThing(
  tokens: readonly Token[],
  at: number,
  hints: UnitHints,
  phraseEnd: number | undefined,
): boolean {
  if (tokens[at]?.text !== "one") return false;
  const after = tokens[at + 1]?.text ?? "";
  if (
    PRONOUN_BEFORE.test(tokens[at - 1]?.text ?? "") &&
    !/^(deep|wide|thick|long|high|off|and)$/.test(after) &&
    quantityAt(tokens, at, hints)?.to === at + 1
  )
    return true;
  // `one side`, `and one 2 deep`: no figure either.
  return (phraseEnd ?? at + 1) === at + 1 && (isPronoun(tokens, at) || isThing(tokens, at));
}
