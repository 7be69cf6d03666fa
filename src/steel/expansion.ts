/**
 * How much longer a hot bar is than the same bar cold: targets are given cold and as a caliper reads them hot.
 * The published curves disagree for high carbon by half a percent; the answer is a band.
 */
import { mustBeCarbon, mustBeTemperature } from "./composition.js";
import { carbonInSolutionPct, cementiteFraction, EUTECTOID_C } from "./iron-carbon.js";
import {
  austeniteCm3PerG,
  austeniteLatticeOninkNm,
  austeniteLatticeSekiNm,
  CEMENTITE_G_PER_CM3,
  cementiteCm3PerG,
  FERRITE_G_PER_CM3,
  ferriteCm3PerG,
} from "./lattice.js";
import type { NotedRange, SteelNote } from "./range.js";

const ROOM_K = 293.15;
const KELVIN = 273.15;
/** K over A1 within which a heated bar has turned to austenite. Common practice, no source; 20 to 50. */
const TRANSFORMED_OVER_K = 30;
/** Half width of the band as a share of the likely value: 1.5 % ± 0.3 at 950 °C. Judgement over the curves, [S04] to [S07]. */
const BAND_SHARE = 0.2;
/** Below A1 the curves agree better: 12e-6/K to 400 °C and 14e-6/K to 700 °C lie within this share of the likely. */
const BAND_SHARE_PEARLITE = 0.1;

/**
 * Growth of structural carbon steel from 20 °C, dl/l as a fraction.
 * Holds: 20 to 1200 °C, low carbon. Error on high carbon: to −0.4 % of length at 950 °C. Source: [S03] 3.4.1.1.
 */
export function structuralSteelExpansion(tempC: number): number {
  if (tempC < 750) return 1.2e-5 * tempC + 0.4e-8 * tempC ** 2 - 2.416e-4;
  if (tempC <= 860) return 0.011;
  return 2e-5 * tempC - 6.2e-3;
}

/** Growth of ferrite with cementite, dl/l. Holds: to A1. Source: [S04], [S08]. */
function pearliteExpansion(carbonPct: number, tempK: number): number {
  const f = cementiteFraction(carbonPct, 20);
  const hot = (1 - f) * ferriteCm3PerG(tempK) + f * cementiteCm3PerG(tempK);
  const cold = (1 - f) * ferriteCm3PerG(ROOM_K) + f / CEMENTITE_G_PER_CM3;
  return Math.cbrt(hot / cold) - 1;
}

/**
 * Growth from ferrite + cementite at 20 °C to austenite with what cementite is left, dl/l, by one of two lattice laws.
 * Holds: above A1; `onink` is extrapolated past 0.8 %C, `seki` in carbon below 1180 °C. Source: [S05], [S04], [S08].
 */
export function austeniteExpansion(
  law: "onink" | "seki",
  carbonPct: number,
  tempC: number,
): number {
  const tempK = tempC + KELVIN;
  const dissolved = carbonInSolutionPct(carbonPct, tempC);
  const lattice =
    law === "onink"
      ? austeniteLatticeOninkNm(tempK, dissolved)
      : austeniteLatticeSekiNm(tempK, dissolved);
  const left = cementiteFraction(carbonPct, Math.max(tempC, EUTECTOID_C + 0.01));
  const hot = (1 - left) * austeniteCm3PerG(lattice, dissolved) + left * cementiteCm3PerG(tempK);
  const f = cementiteFraction(carbonPct, 20);
  const ferrite = law === "onink" ? 1 / FERRITE_G_PER_CM3 : ferriteCm3PerG(ROOM_K);
  const cold = (1 - f) * ferrite + f / CEMENTITE_G_PER_CM3;
  return Math.cbrt(hot / cold) - 1;
}

/**
 * Linear growth from 20 °C, dl/l as a fraction, as the band of the published curves.
 * Likely: the mean of [S03] and the lattice law [S05] (1.5 % at 950 °C, 1.5 %C), through the dip at A1; low and high hold all curves
 * and at least ±20 % (±10 % below A1).
 * Holds: 0.5 to 2.05 %C, 20 to 1200 °C; outside it is extrapolated and noted. Source: [S03], [S04], [S05], [S08].
 */
export function linearExpansion(carbonPct: number, tempC: number): NotedRange {
  mustBeCarbon(carbonPct);
  mustBeTemperature(tempC);
  const notes: SteelNote[] = [];
  if (carbonPct < 0.5 || carbonPct > 2.05 || tempC < 20 || tempC > 1200)
    notes.push("outside-range");
  const tempK = tempC + KELVIN;
  const norm = structuralSteelExpansion(tempC);
  const cold = bandOf([norm, pearliteExpansion(carbonPct, tempK)], BAND_SHARE_PEARLITE);
  if (tempC <= EUTECTOID_C) return { ...cold, notes };
  const onink = austeniteExpansion("onink", carbonPct, tempC);
  const hot = bandOf([norm, onink], BAND_SHARE, [austeniteExpansion("seki", carbonPct, tempC)]);
  const turned = Math.min(1, (tempC - EUTECTOID_C) / TRANSFORMED_OVER_K);
  const mix = (a: number, b: number) => a + (b - a) * turned;
  return {
    low: mix(cold.low, hot.low),
    likely: mix(cold.likely, hot.likely),
    high: mix(cold.high, hot.high),
    notes,
  };
}

function bandOf(averaged: readonly number[], share: number, others: readonly number[] = []) {
  const likely = averaged.reduce((sum, value) => sum + value, 0) / averaged.length;
  const edge = Math.abs(likely) * share;
  const all = [...averaged, ...others];
  return {
    low: Math.min(likely - edge, ...all),
    likely,
    high: Math.max(likely + edge, ...all),
  };
}

/** What a caliper reads hot of a length that is `coldMm` at 20 °C, mm, by the likely growth. Error: ±0.3 % of the length. */
export const hotFromColdMm = (coldMm: number, carbonPct: number, tempC: number): number =>
  coldMm * (1 + linearExpansion(carbonPct, tempC).likely);

/** What remains at 20 °C of a length read hot, mm; the inverse of `hotFromColdMm`. Error: ±0.3 % of the length. */
export const coldFromHotMm = (hotMm: number, carbonPct: number, tempC: number): number =>
  hotMm / (1 + linearExpansion(carbonPct, tempC).likely);
