/** Every unit that reading knows, and every pair of one dimension, against two libraries with definitions of their own. */
import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { UNITS, type UnitName } from "../../src/language/units.js";

const load = createRequire(import.meta.url);
const Qty = load("js-quantities");
const { unit } = load("mathjs");

/** Names in mathjs and js-quantities; `none` where the library does not have the unit. */
const NAMES: Readonly<Record<UnitName, { mathjs: string; qty: string }>> = {
  mm: { mathjs: "mm", qty: "mm" },
  cm: { mathjs: "cm", qty: "cm" },
  m: { mathjs: "m", qty: "m" },
  inch: { mathjs: "inch", qty: "in" },
  foot: { mathjs: "ft", qty: "ft" },
  thou: { mathjs: "mil", qty: "mil" },
  g: { mathjs: "g", qty: "g" },
  kg: { mathjs: "kg", qty: "kg" },
  oz: { mathjs: "oz", qty: "oz" },
  lb: { mathjs: "lbm", qty: "lb" },
  c: { mathjs: "degC", qty: "tempC" },
  f: { mathjs: "degF", qty: "tempF" },
  k: { mathjs: "K", qty: "tempK" },
  s: { mathjs: "s", qty: "s" },
  min: { mathjs: "minute", qty: "min" },
  h: { mathjs: "hour", qty: "h" },
  tonne: { mathjs: "none", qty: "none" },
  shortton: { mathjs: "none", qty: "none" },
  kn: { mathjs: "kN", qty: "kN" },
  bar: { mathjs: "bar", qty: "bar" },
  psi: { mathjs: "psi", qty: "psi" },
  percent: { mathjs: "none", qty: "none" },
};
const names = Object.keys(UNITS) as UnitName[];
const pairs = names.flatMap((from) =>
  names
    .filter((to) => from !== to && UNITS[from].dimension === UNITS[to].dimension)
    .map((to) => [from, to] as const),
);
const FIGURES = [0.375, 1, 17.5, 940];
/** Rounded constants in the libraries: ounce and psi stand there with nine and five figures. */
const LIBRARY_ERROR = 5e-6;

describe("pairs of units", () => {
  it("are all there are", () => expect(pairs.length).toBeGreaterThan(50));
  it.each(pairs.filter(([a, b]) => NAMES[a].mathjs !== "none" && NAMES[b].mathjs !== "none"))(
    "%s in %s",
    (from, to) => {
      for (const figure of FIGURES) {
        const ours = UNITS[from].take(figure);
        // Back into the internal system with the library: both ways of going must end at the same.
        const through = UNITS[to].take(unit(figure, NAMES[from].mathjs).toNumber(NAMES[to].mathjs));
        expect(Math.abs(through - ours) / Math.max(1, Math.abs(ours))).toBeLessThan(LIBRARY_ERROR);
        const second = UNITS[to].take(Qty(figure, NAMES[from].qty).to(NAMES[to].qty).scalar);
        expect(Math.abs(second - ours) / Math.max(1, Math.abs(ours))).toBeLessThan(LIBRARY_ERROR);
      }
    },
  );
  it("tons of force by definition: 1000 kg and 2000 lb in standard gravity", () => {
    const gravity = 9.80665;
    expect(UNITS.tonne.take(1)).toBeCloseTo(gravity, 9);
    expect(UNITS.shortton.take(1)).toBeCloseTo((2000 * 0.45359237 * gravity) / 1000, 9);
  });
});
