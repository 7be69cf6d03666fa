/** Scale: what the fire eats of the steel. It goes with the root of time in each heat, and heats add up. */
import { mustBeTemperature } from "./composition.js";
import { mustLie, type NotedRange, type Range } from "./range.js";

const GAS_CONSTANT = 8.314; // J/(mol K)
const KELVIN = 273.15;
/** mm of scale per mm of iron: FeO at 5.7 g/cm³ with 77.73 % iron. Density from memory. [S26] */
export const SCALE_PER_STEEL = 1.777;
/** Iron in FeO by mass: 55.845/71.844. [S06] */
export const IRON_IN_SCALE = 0.7773;
/**
 * Share of clean iron's rate that a forge fire gives: reducing gas and lifted scale less, a sharp or steamy fire up to all of it.
 * Common practice with a published spread of four between two burner settings [S27]; to be learnt from the shop's own weighings.
 */
export const ATMOSPHERE_FACTOR: Range = { low: 0.3, likely: 0.6, high: 1 };
/** Spread left when the shop's factor is known. Judgement. */
const KNOWN_FACTOR_SCATTER = 0.25;

export interface Soak {
  readonly tempC: number;
  readonly minutes: number;
}

/** Parabolic constant of scale thickness on clean iron in air, cm²/s. Holds: 700 to 1250 °C. Error: ×/÷1.5. Source: [S26], memory. */
export const scaleConstantCm2PerS = (tempC: number): number =>
  6.1 * Math.exp(-169_452 / (GAS_CONSTANT * (tempC + KELVIN)));

/** Thickness of scale grown on clean iron in air, mm: √(kp t). Holds and errs as the constant. Source: [S26]. */
export function cleanIronScaleMm({ tempC, minutes }: Soak): number {
  mustBeTemperature(tempC);
  mustLie("minutes", minutes, 0, 100_000, "min");
  return Math.sqrt(scaleConstantCm2PerS(tempC) * minutes * 60) * 10;
}

/**
 * Depth of STEEL lost from each surface in one heat, mm.
 * `minutes` is time at heat; `atmosphereFactor` the shop's own (1 = clean iron in air), when the log knows it.
 * Holds: 700 to 1250 °C, the scale knocked off after the heat. Error: the band. Source: [S26], [S27].
 */
export function scaleLossMm(heat: Soak & { readonly atmosphereFactor?: number }): NotedRange {
  const clean = cleanIronScaleMm(heat) / SCALE_PER_STEEL;
  const known = heat.atmosphereFactor;
  if (known !== undefined) mustLie("atmosphereFactor", known, 0, 5, "(share of clean iron)");
  const share =
    known === undefined
      ? ATMOSPHERE_FACTOR
      : {
          low: known * (1 - KNOWN_FACTOR_SCATTER),
          likely: known,
          high: known * (1 + KNOWN_FACTOR_SCATTER),
        };
  return {
    low: clean * share.low,
    likely: clean * share.likely,
    high: clean * share.high,
    notes: heat.tempC < 700 || heat.tempC > 1250 ? ["outside-range"] : [],
  };
}

/** Loss of several heats, mm a surface: the sum, since each starts on bare steel; N heats lose N √t, not √(N t). */
export function scaleLossOfHeatsMm(
  heats: readonly (Soak & { readonly atmosphereFactor?: number })[],
): Range {
  const losses = heats.map(scaleLossMm);
  const sum = (pick: (range: Range) => number) => losses.reduce((s, r) => s + pick(r), 0);
  return { low: sum((r) => r.low), likely: sum((r) => r.likely), high: sum((r) => r.high) };
}

/** Share of a bar's section lost when `lossMm` goes from each of its four sides, 0 to 1. Exact geometry. */
export function sectionLossFraction(lossMm: number, widthMm: number, thicknessMm: number): number {
  const left = Math.max(0, widthMm - 2 * lossMm) * Math.max(0, thicknessMm - 2 * lossMm);
  return 1 - left / (widthMm * thicknessMm);
}
