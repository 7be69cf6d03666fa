/** Third step: figures written with digits, fractions or words. A figure has a value, not yet a unit. */
import { andPart, mayBegin, spokenAt } from "./spoken.js";
import type { Token } from "./tokens.js";
import { ORDINALS, PARTS, TENS } from "./vocabulary.js";

export interface Figure {
  readonly value: number;
  /** First token, and the one after the last. */
  readonly from: number;
  readonly to: number;
  /** Written or said as a workshop fraction. */
  readonly fraction: boolean;
  readonly whole: boolean;
  readonly spoken: boolean;
  readonly ordinal: boolean;
  /** `a couple of`. */
  readonly approx: boolean;
  /** Comma before three digits: `1,250` (thousands unless the figure would be absurd). */
  readonly thousands: boolean;
  /** Two spoken numbers joined: `nine fifty`. */
  readonly runOn?: boolean;
}

const DENOMINATORS = new Set([2, 3, 4, 5, 8, 10, 12, 16, 32, 64]);
const ORDINAL_ENDS = new Set(["st", "nd", "rd", "th"]);

const sign = (tokens: readonly Token[], at: number, text: string): boolean =>
  tokens[at]?.kind === "sign" && tokens[at]?.text === text;

/** `5/8`: the fraction that begins at `at`. Not `22/36/180` (a chain) and not `22/36` (a pair). */
function slashFraction(
  tokens: readonly Token[],
  at: number,
): { value: number; next: number } | undefined {
  const over = tokens[at];
  const under = tokens[at + 2];
  if (!over?.whole || !under?.whole || !sign(tokens, at + 1, "/")) return undefined;
  const tight = (tokens[at + 1]?.glued ?? false) && under.glued;
  if (!tight) return undefined;
  if (
    sign(tokens, at + 3, "/") &&
    tokens[at + 3]?.glued &&
    tokens[at + 4]?.kind === "number" &&
    tokens[at + 4]?.glued
  )
    return undefined;
  if (sign(tokens, at - 1, "/") && over.glued) return undefined;
  if (!DENOMINATORS.has(under.value) || over.value >= under.value || over.value === 0)
    return undefined;
  return { value: over.value / under.value, next: at + 3 };
}

function written(tokens: readonly Token[], at: number): Figure | undefined {
  const token = tokens[at];
  if (token?.kind !== "number" || !Number.isFinite(token.value)) return undefined;
  const base = {
    from: at,
    spoken: false,
    ordinal: false,
    approx: false,
    thousands: token.thousands,
  };
  if (token.vulgar)
    return { ...base, value: token.value, to: at + 1, fraction: true, whole: false };
  const fraction = slashFraction(tokens, at);
  if (fraction)
    return { ...base, value: fraction.value, to: fraction.next, fraction: true, whole: false };
  if (token.whole) {
    const dash = sign(tokens, at + 1, "-") ? 1 : 0;
    const inner = tokens[at + 1 + dash];
    if (inner?.vulgar)
      return {
        ...base,
        value: token.value + inner.value,
        to: at + 2 + dash,
        fraction: true,
        whole: false,
      };
    const mixed =
      inner?.kind === "number" && !inner.glued === !dash
        ? slashFraction(tokens, at + 1 + dash)
        : undefined;
    if (mixed && token.value < 100)
      return {
        ...base,
        value: token.value + mixed.value,
        to: mixed.next,
        fraction: true,
        whole: false,
      };
    const end = tokens[at + 1];
    if (end?.glued && ORDINAL_ENDS.has(end.text))
      return {
        ...base,
        value: token.value,
        to: at + 2,
        fraction: false,
        whole: true,
        ordinal: true,
      };
    const more = andPart(tokens, at + 1);
    if (more)
      return {
        ...base,
        value: token.value + more.value,
        to: more.next,
        fraction: true,
        whole: false,
      };
    if (tokens[at + 1]?.text === "hundred" && token.value < 100)
      return { ...base, value: token.value * 100, to: at + 2, fraction: false, whole: true };
  }
  return { ...base, value: token.value, to: at + 1, fraction: false, whole: token.whole };
}

/** Past `ths` in `3/8ths`. */
const pastEnding = (tokens: readonly Token[], figure: Figure): Figure =>
  figure.fraction &&
  tokens[figure.to]?.glued &&
  /^(ths|th|nds|rds|s)$/.test(tokens[figure.to]?.text ?? "")
    ? { ...figure, to: figure.to + 1 }
    : figure;

/** Words after which `second`, `third` … count. */
const COUNTED = new Set([
  "heat",
  "heat's",
  "heats",
  "pass",
  "blade",
  "ingot",
  "normalising",
  "normalizing",
  "reheat",
]);

/**
 * Figures already looked for in the row of tokens in hand, by token: each is asked for several times. Kept for one row
 * only, and forgotten with the next; the same tokens give the same figure, so nothing outside can tell.
 */
let inHand: readonly Token[] | undefined;
let known: (Figure | null)[] = [];

/** The figure that begins at token `at`, if one does. */
export function figureAt(tokens: readonly Token[], at: number, compact = true): Figure | undefined {
  const token = tokens[at];
  if (token === undefined || (token.kind !== "number" && !mayBegin(token))) return undefined;
  if (!compact) return lookedFor(tokens, at, false);
  if (inHand !== tokens) {
    inHand = tokens;
    known = [];
  }
  const before = known[at];
  if (before !== undefined) return before ?? undefined;
  const found = lookedFor(tokens, at, true);
  known[at] = found ?? null;
  return found;
}

function lookedFor(tokens: readonly Token[], at: number, compact: boolean): Figure | undefined {
  const digit = written(tokens, at);
  if (digit) return pastEnding(tokens, digit);
  const word = tokens[at];
  if (word?.kind !== "word") return undefined;
  const ordinal = Object.hasOwn(ORDINALS, word.text) ? ORDINALS[word.text] : undefined;
  if (ordinal !== undefined && COUNTED.has(tokens[at + 1]?.text ?? ""))
    return {
      value: ordinal,
      from: at,
      to: at + 1,
      fraction: false,
      whole: true,
      spoken: true,
      ordinal: true,
      approx: false,
      thousands: false,
    };
  // `the twenty first heat`.
  const tens = Object.hasOwn(TENS, word.text) ? TENS[word.text] : undefined;
  const units = Object.hasOwn(ORDINALS, tokens[at + 1]?.text ?? "")
    ? ORDINALS[tokens[at + 1]?.text ?? ""]
    : undefined;
  if (
    tens !== undefined &&
    units !== undefined &&
    units < 10 &&
    COUNTED.has(tokens[at + 2]?.text ?? "")
  )
    return {
      value: tens + units,
      from: at,
      to: at + 2,
      fraction: false,
      whole: true,
      spoken: true,
      ordinal: true,
      approx: false,
      thousands: false,
    };
  // `eighth deep`, `quarter thick`: a part of an inch by itself.
  const part = Object.hasOwn(PARTS, word.text) ? PARTS[word.text] : undefined;
  if (
    part !== undefined &&
    /^(deep|thick|wide|high|long|tall|off)$/.test(tokens[at + 1]?.text ?? "")
  )
    return {
      value: 1 / part,
      from: at,
      to: at + 1,
      fraction: true,
      whole: false,
      spoken: true,
      ordinal: false,
      approx: false,
      thousands: false,
    };
  const said = spokenAt(tokens, at, compact);
  if (!said) return undefined;
  const couple = word.text === "couple" || tokens[at + 1]?.text === "couple";
  return {
    value: said.value,
    from: at,
    to: said.next,
    fraction: said.fraction,
    whole: said.whole,
    spoken: true,
    ordinal: false,
    approx: couple,
    thousands: false,
    runOn: said.runOn ?? false,
  };
}
