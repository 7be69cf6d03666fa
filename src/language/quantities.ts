/** Fourth step: a figure with its unit, if it has one: `1 lb 11 oz`, `an inch and a half`, `950 °C`, `22`. */
import { type Figure, figureAt } from "./figures.js";
import { andPart } from "./spoken.js";
import type { Token } from "./tokens.js";
import { bareMetre, isWord, text, type UnitHints, unitAt } from "./unit-after.js";
import { type Dimension, UNIT_OF_WORD, UNITS, type Unit, type UnitName } from "./units.js";

export type { UnitHints } from "./unit-after.js";

export interface Quantity {
  /** As said, in the said unit (of compounds: of the first unit). */
  readonly said: number;
  /** In the internal system; without a unit the same as `said`. */
  readonly value: number;
  readonly dimension: Dimension | undefined;
  readonly unit: UnitName | undefined;
  /** Said as a temperature without its scale (`950 degrees`). */
  readonly degrees: boolean;
  readonly fraction: boolean;
  readonly whole: boolean;
  readonly spoken: boolean;
  readonly ordinal: boolean;
  readonly approx: boolean;
  readonly thousands: boolean;
  /** Two spoken numbers joined: `nine fifty`. */
  readonly runOn: boolean;
  readonly from: number;
  readonly to: number;
}
const COMPOUND: Readonly<Record<string, { under: UnitName; below: number; bare: boolean }>> = {
  lb: { under: "oz", below: 16, bare: true },
  foot: { under: "inch", below: 12, bare: true },
  h: { under: "min", below: 60, bare: true },
  min: { under: "s", below: 60, bare: true },
  kg: { under: "g", below: 1000, bare: false },
};

/** `11 oz` after `1 lb`. */
function lower(
  tokens: readonly Token[],
  at: number,
  unit: UnitName,
  hints: UnitHints,
): { value: number; next: number } | undefined {
  const rule = COMPOUND[unit];
  if (!rule) return undefined;
  const comma = text(tokens, at) === "," && (unit === "lb" || unit === "foot");
  const start = text(tokens, at) === "and" || comma ? at + 1 : at;
  // `two pounds and an ounce`.
  if (/^an?$/.test(text(tokens, start)) && UNIT_OF_WORD.get(text(tokens, start + 1)) === rule.under)
    return { value: UNITS[rule.under].take(1), next: start + 2 };
  const figure = figureAt(tokens, start);
  if (!figure || figure.value >= rule.below) return undefined;
  // `half an hour one point six carbon`.
  if ((unit === "h" || unit === "min") && !figure.whole) return undefined;
  const named = unitAt(
    tokens,
    figure.to,
    { ...hints, holding: hints.holding || unit === "min" },
    figure,
  );
  const value = UNITS[rule.under].take(figure.value);
  if (named?.unit === rule.under) return { value, next: named.next };
  if (!rule.bare || named || start !== at) return undefined;
  const glued = tokens[at]?.glued ?? false;
  const follows = text(tokens, figure.to);
  // `an 88 lb one`: the thing, not an ounce.
  if (unit === "lb" && figure.spoken && figure.value === 1) return undefined;
  if (
    unit === "lb" &&
    !figure.spoken &&
    !((figure.whole || figure.fraction) && /^([,.;]?|not)$/.test(follows))
  )
    return undefined;
  if (unit === "foot" && !glued) return undefined;
  // `1min30`.
  if (unit === "min" && !(glued && text(tokens, at).length === 2)) return undefined;
  if (unit === "h" && !glued && follows !== "ago" && !hints.holding) return undefined;
  if (follows === "x" || follows === "by" || follows === "g") return undefined;
  return { value, next: figure.to };
}

const PLAIN = {
  degrees: false,
  ordinal: false,
  approx: false,
  thousands: false,
  runOn: false,
} as const;

/** Units that are said alone only after `a`: `a gram`, `a mil and a half`. */
const SINGLE = /^(gram|gramme|mil|mill|millimetre|millimeter|centimetre|centimeter|ton|tonne)$/;

/** `an inch`, `inch and a half`, `a pound eleven`: a unit that is its own figure. */
function unitAlone(tokens: readonly Token[], at: number, hints: UnitHints): Quantity | undefined {
  if (tokens[at]?.kind !== "word") return undefined;
  const article = text(tokens, at) === "a" || text(tokens, at) === "an" ? 1 : 0;
  const word = text(tokens, at + article);
  const name = UNIT_OF_WORD.get(word);
  if (
    name !== "inch" &&
    name !== "foot" &&
    name !== "kg" &&
    name !== "lb" &&
    name !== "h" &&
    name !== "min" &&
    name !== "oz" &&
    !(article === 1 && SINGLE.test(word))
  )
    return undefined;
  if (name === undefined || !Object.hasOwn(UNITS, name)) return undefined;
  if (word === "in" || (word.length < 4 && word !== "mil")) return undefined;
  if (word.endsWith("s") && article === 0) return undefined;
  const unit: Unit = UNITS[name as UnitName];
  const part = andPart(tokens, at + article + 1);
  // `foot long`, `inch thick`.
  const labelled = /^(long|wide|thick|deep|high|tall|across)$/.test(text(tokens, at + 1));
  if (article === 0 && !part && !labelled) return undefined;
  const more = part ? undefined : lower(tokens, at + article + 1, name as UnitName, hints);
  return {
    ...PLAIN,
    said: 1 + (part?.value ?? 0),
    value: unit.take(1 + (part?.value ?? 0)) + (more?.value ?? 0),
    dimension: unit.dimension,
    unit: name as UnitName,
    fraction: part !== undefined,
    whole: part === undefined,
    spoken: true,
    from: at,
    to: part?.next ?? more?.next ?? at + article + 1,
  };
}

/** The quantity that begins at token `at`. `compact` false keeps spoken numbers apart. */
export function quantityAt(
  tokens: readonly Token[],
  at: number,
  hints: UnitHints,
  compact = true,
): Quantity | undefined {
  const figure = figureAt(tokens, at, compact);
  if (!figure) return unitAlone(tokens, at, hints);
  let after = figure.to;
  let approx = figure.approx;
  if (text(tokens, after) === "-" && text(tokens, after + 1) === "ish") {
    approx = true;
    after += 2;
  } else if (text(tokens, after) === "ish") {
    approx = true;
    after += 1;
  }
  if (figure.ordinal) return bare(figure, after, approx);
  let start = after;
  if (
    text(tokens, start) === "-" &&
    tokens[start]?.glued &&
    isWord(tokens, start + 1) &&
    tokens[start + 1]?.glued
  )
    start += 1;
  if (figure.fraction || figure.approx) {
    if (text(tokens, start) === "of") start += 1;
    if (text(tokens, start) === "a" || text(tokens, start) === "an") start += 1;
  }
  const found = bareMetre(tokens, start, hints, figure) ?? unitAt(tokens, start, hints, figure);
  if (!found) return bare(figure, after, approx);
  let to = found.next;
  if (text(tokens, to) === "-" && text(tokens, to + 1) === "ish") {
    approx = true;
    to += 2;
  }
  const common = {
    fraction: figure.fraction,
    whole: figure.whole,
    spoken: figure.spoken,
    ordinal: false,
    thousands: figure.thousands,
    runOn: figure.runOn ?? false,
    from: at,
    approx,
  };
  if (found.unit === undefined)
    return {
      ...common,
      said: figure.value,
      value: figure.value,
      dimension: "temperature",
      unit: undefined,
      degrees: true,
      to,
    };
  const unit: Unit = UNITS[found.unit];
  const part = andPart(tokens, to);
  const part2 = part && !figure.fraction ? part : undefined;
  const more = part2 ? undefined : lower(tokens, to, found.unit, hints);
  // 1,250 kg is 1.25 kg: a comma before three digits is a decimal comma where thousands would be absurd.
  const decimalComma =
    figure.thousands &&
    (found.unit === "kg" || found.unit === "m" || found.unit === "inch" || found.unit === "lb");
  const said = (decimalComma ? figure.value / 1000 : figure.value) + (part2?.value ?? 0);
  return {
    ...common,
    said,
    value: unit.take(said) + (more?.value ?? 0),
    dimension: unit.dimension,
    unit: found.unit,
    degrees: false,
    to: part2?.next ?? more?.next ?? to,
  };
}

const bare = (figure: Figure, to: number, approx: boolean): Quantity => ({
  said: figure.value,
  value: figure.value,
  dimension: undefined,
  unit: undefined,
  degrees: false,
  fraction: figure.fraction,
  whole: figure.whole,
  spoken: figure.spoken,
  ordinal: figure.ordinal,
  approx,
  thousands: figure.thousands,
  runOn: figure.runOn ?? false,
  from: figure.from,
  to,
});
