/**
 * How likely each value of a figure is, from what the shop knows of the ingot. Shapes and widths of these chances
 * are rules of thumb (common practice, no source): they only tilt the choice between values that sound alike, and
 * one part in ten is spread over all values, so that the unexpected can be said.
 */
import type { ReadingContext } from "../language/index.js";

export const FIGURE_KINDS = [
  "heat",
  "temp",
  "minutes",
  "thick",
  "wide",
  "long",
  "depth",
  "cracklong",
  "lost",
  "mass",
  "across",
  "high",
  "newmass",
  "carbon",
  "name",
  "peak",
  "bladelong",
  "bladewide",
  "bladethick",
  "said",
] as const;
export type FigureKind = (typeof FIGURE_KINDS)[number];

export interface Spread {
  /** As said: in the chat's own unit. */
  readonly values: readonly number[];
  /** Not normed. */
  readonly chance: (value: number) => number;
}

const MM_PER_INCH = 25.4;
const BROAD = 0.1;
const bell = (distance: number, width: number): number => Math.exp(-0.5 * (distance / width) ** 2);
const span = (from: number, to: number, step = 1): number[] =>
  Array.from(
    { length: Math.round((to - from) / step) + 1 },
    (_, i) => Math.round((from + i * step) * 1e4) / 1e4,
  );

/** Instruments and people round: how much likelier a multiple of ten or five is. */
const rounding = (value: number, ten: number, five: number): number =>
  value % 10 === 0 ? ten : value % 5 === 0 ? five : 1;
/** Tall where `ratio` is the usual one. */
const near = (value: number, usual: number, width: number): number =>
  usual > 0 && value > 0 ? bell(Math.log(value / usual), width) : 0;

/** A length said in the chat's unit: whole or half millimetres, or eighths of an inch. */
function length(
  context: ReadingContext,
  toMm: number,
  chanceOfMm: (mm: number) => number,
  halves = false,
): Spread {
  if (context.units === "inch") {
    const values = [
      ...span(1 / 8, Math.min(24, toMm / MM_PER_INCH), 1 / 8),
      1 / 16,
      3 / 16,
      5 / 16,
      7 / 16,
    ];
    return {
      values,
      chance: (value) => chanceOfMm(value * MM_PER_INCH) * ((value * 8) % 1 === 0 ? 1 : 0.3),
    };
  }
  const whole = span(1, toMm);
  const values = halves ? [...whole, ...span(0.5, Math.min(60, toMm), 1)] : whole;
  return { values, chance: (value) => chanceOfMm(value) * (Number.isInteger(value) ? 1 : 0.05) };
}

export function spreadOf(kind: FigureKind, context: ReadingContext): Spread {
  const { ingot } = context;
  const piece = ingot?.piece;
  const massG = ingot?.massG ?? 0;
  const crackLimit = piece?.thicknessMm ?? piece?.heightMm ?? 30;
  switch (kind) {
    case "heat": {
      const last = ingot?.heats;
      const next = (value: number): number =>
        last === undefined
          ? 1 / value
          : value === last + 1
            ? 0.8
            : value === last
              ? 0.1
              : value === last + 2
                ? 0.03
                : 0.002;
      return { values: span(1, 60), chance: next };
    }
    case "temp": {
      const fahrenheit = context.temperatureUnits === "f";
      const celsius = (value: number): number => (fahrenheit ? ((value - 32) * 5) / 9 : value);
      const values = fahrenheit ? span(1200, 2300, 5) : span(500, 1250);
      const usual = (value: number): number =>
        0.8 * bell(value - 960, 80) + 0.2 * bell(value - 850, 150);
      return {
        values,
        chance: (value) => (usual(celsius(value)) + 0.003) * rounding(value, 25, 8),
      };
    }
    case "minutes":
      return {
        values: span(1, 99),
        chance: (value) => (bell(value - 25, 30) + 0.1) * rounding(value, 25, 20),
      };
    case "thick":
      return length(
        context,
        120,
        (mm) => sized(mm, piece?.thicknessMm ?? piece?.heightMm, -0.12, 0.22, 18),
        true,
      );
    case "wide":
      return length(
        context,
        160,
        (mm) => sized(mm, piece?.widthMm ?? piece?.diameterMm, 0, 0.18, 32),
        true,
      );
    case "long":
      return length(context, 500, (mm) =>
        sized(mm, piece?.lengthMm ?? piece?.diameterMm, 0.12, 0.25, 130),
      );
    case "depth":
      return length(
        context,
        60,
        (mm) => (mm > crackLimit ? 0.002 : Math.exp(-mm / 4) + 0.01),
        true,
      );
    case "cracklong":
      return length(context, 200, (mm) =>
        mm > (piece?.lengthMm ?? 200) ? 0.002 : Math.exp(-mm / 15) + 0.01,
      );
    case "lost":
      return {
        values: span(1, 999),
        chance: (value) =>
          massG > 0 && value > massG / 2
            ? 1e-4
            : (Math.exp(-value / 30) + 0.002) * rounding(value, 4, 4),
      };
    case "mass":
      return {
        values: span(50, 1999),
        chance: (value) => weighed(value, massG) * rounding(value, 4, 4),
      };
    case "newmass":
      return {
        values: [...span(100, 1999), ...span(0.1, 3, 0.1)],
        chance: (value) =>
          (value >= 100 ? near(value, 600, 0.6) : value < 4 ? 0.02 : 0.004) * rounding(value, 4, 4),
      };
    case "peak":
      return {
        values: span(1300, 1700),
        chance: (value) => (bell(value - 1480, 60) + 0.01) * rounding(value, 20, 6),
      };
    case "across":
      return length(context, 200, (mm) => near(mm, 65, 0.3) + 0.01);
    case "high":
      return length(context, 200, (mm) => near(mm, 32, 0.4) + 0.01);
    case "carbon":
      return { values: span(0.1, 3, 0.1), chance: (value) => bell(value - 1.5, 0.3) + 0.01 };
    case "name": {
      const names = new Set((context.names ?? []).map(Number));
      return {
        values: span(1, 150),
        chance: (value) => (names.has(value) ? 1 : names.size > 0 ? 0.05 : 0.5),
      };
    }
    case "bladelong":
      return length(context, 600, (mm) => (near(mm, 160, 0.5) + 0.01) * rounding(mm, 6, 4));
    case "bladewide":
      return length(context, 100, (mm) => near(mm, 30, 0.35) + 0.01);
    case "bladethick":
      return length(context, 30, (mm) => near(mm, 4, 0.4) + 0.01, true);
    case "said":
      return answered(context);
  }
}

/** What the bot asks for that is answered with a figure and a unit at most (`ReadingContext.expects`). */
export const FIGURES_ASKED: ReadonlySet<string> = new Set(["mass", "setup-tup", "setup-press"]);

/** A figure that answers what was asked: as likely as one of the kind asked for, or any. */
function answered(context: ReadingContext): Spread {
  if (context.expects === "mass") return spreadOf("mass", context);
  const long = spreadOf("long", context);
  return { values: [...new Set([...long.values, ...span(1, 999)])], chance: long.chance };
}

/** A side of the bar after some work: `drift` is the usual change of its logarithm. */
function sized(
  mm: number,
  known: number | undefined,
  drift: number,
  width: number,
  usualMm: number,
): number {
  if (known === undefined) return near(mm, usualMm, 0.6) + 0.003;
  return near(mm, known * Math.exp(drift), width) + 0.002;
}

/** Steel is lost, never won. */
function weighed(value: number, massG: number): number {
  if (massG === 0) return near(value, 600, 0.6) + 0.002;
  const ratio = value / massG;
  if (ratio > 1.03) return 5e-4;
  return ratio > 1
    ? 0.1
    : near(value, massG * 0.97, 0.05) + 0.02 * near(value, massG * 0.8, 0.3) + 1e-4;
}

/** Chances of all values, normed, with the share that is spread over all. */
export function chancesOf(spread: Spread): ReadonlyMap<number, number> {
  const raw = spread.values.map((value) => Math.max(0, spread.chance(value)));
  const total = raw.reduce((sum, value) => sum + value, 0) || 1;
  const even = BROAD / spread.values.length;
  return new Map(
    spread.values.map((value, i) => [value, ((raw[i] ?? 0) / total) * (1 - BROAD) + even]),
  );
}
