/** Carbon lost at the surface: a soft skin that must be ground off, or a ductile one that is wanted against cracks. */
import { mustBeCarbon, mustBeTemperature } from "./composition.js";
import { carbonInSolutionPct, EUTECTOID_C } from "./iron-carbon.js";
import { mustLie, type NotedRange, type SteelNote } from "./range.js";
import type { Soak } from "./scale.js";

const GAS_CONSTANT = 8.314; // J/(mol K)
const GAS_CONSTANT_CAL = 1.987; // cal/(mol K)
const KELVIN = 273.15;
/** Where erf(x) = 1/2, doubled: the half-carbon depth in units of √(Dt). Exact mathematics. */
const HALF_DEPTH = 0.9538726;

/** Diffusivity of carbon in austenite, cm²/s, no carbon term. Holds: 800 to 1100 °C. Error: ×/÷2. Source: [S28]. */
export const carbonDiffusivityCm2PerS = (tempC: number): number =>
  0.15 * Math.exp(-135_000 / (GAS_CONSTANT * (tempC + KELVIN)));

/** The same for low carbon, cm²/s: the slow end. Holds: low-carbon austenite. Source: [S29]. */
export const lowCarbonDiffusivityCm2PerS = (tempC: number): number =>
  0.23 * Math.exp(-148_000 / (GAS_CONSTANT * (tempC + KELVIN)));

/** The same with its rise with dissolved carbon, cm²/s. Holds: to about 1 %C; beyond extrapolated. Source: [S30], memory, high. */
export const carbonRichDiffusivityCm2PerS = (tempC: number, carbonPct: number): number =>
  0.47 *
  Math.exp(-1.6 * carbonPct) *
  Math.exp(-(37_000 - 6600 * carbonPct) / (GAS_CONSTANT_CAL * (tempC + KELVIN)));

/**
 * Depth at which the carbon has fallen to half, mm, counted from the surface of the heat's start.
 * Shape: flat face, surface carbon zero: C/C0 = erf(x / 2√(Dt)); bands from three published diffusivities, [S29] low, [S28] likely,
 * [S30] at the carbon in solution. Scale eats into the same skin: see `decarbLeftMm`.
 * Holds: 800 to 1100 °C. Below Acm undissolved carbide feeds the skin and it stays thinner. Error: the band.
 */
export function decarbDepthMm(soak: Soak & { readonly carbonPct: number }): NotedRange {
  const { tempC, minutes, carbonPct } = soak;
  mustBeTemperature(tempC);
  mustBeCarbon(carbonPct);
  mustLie("minutes", minutes, 0, 100_000, "min");
  const notes: SteelNote[] = [];
  if (tempC < EUTECTOID_C) notes.push("below-a1");
  if (tempC < 800 || tempC > 1100) notes.push("outside-range");
  const depth = (cm2PerS: number) => HALF_DEPTH * Math.sqrt(cm2PerS * minutes * 60) * 10;
  const likely = depth(carbonDiffusivityCm2PerS(tempC));
  const dissolved = carbonInSolutionPct(carbonPct, tempC);
  const others = [
    depth(lowCarbonDiffusivityCm2PerS(tempC)),
    depth(carbonRichDiffusivityCm2PerS(tempC, dissolved)),
  ];
  return { low: Math.min(likely, ...others), likely, high: Math.max(likely, ...others), notes };
}

/**
 * Depth of soft skin left after several heats, mm: depths add as squares (the sum of D t), and what scale ate is gone.
 * Low: the thin skin under the most scale; high: the thick skin under the least. Never below zero. Source: as `decarbDepthMm`.
 */
export function decarbLeftMm(
  soaks: readonly (Soak & { readonly carbonPct: number })[],
  scaleLost: { readonly low: number; readonly likely: number; readonly high: number },
): NotedRange {
  const depths = soaks.map(decarbDepthMm);
  const root = (pick: (range: NotedRange) => number) =>
    Math.sqrt(depths.reduce((sum, range) => sum + pick(range) ** 2, 0));
  return {
    low: Math.max(0, root((r) => r.low) - scaleLost.high),
    likely: Math.max(0, root((r) => r.likely) - scaleLost.likely),
    high: Math.max(0, root((r) => r.high) - scaleLost.low),
    notes: [...new Set(depths.flatMap((r) => r.notes))],
  };
}

/**
 * Share of its first carbon that the steel still has at a depth after one soak, 0 to 1: erf(x / 2√(Dt)).
 * `depthMm` is counted from the surface of the heat's start. Holds and errs as `decarbDepthMm`. Source: [S28], exact erf to 2e-7.
 */
export function carbonLeftFraction(depthMm: number, { tempC, minutes }: Soak): number {
  const spread = 2 * Math.sqrt(carbonDiffusivityCm2PerS(tempC) * minutes * 60) * 10;
  return spread === 0 ? 1 : errorFunction(depthMm / spread);
}

/** erf for x ≥ 0, within 1.5e-7: Abramowitz & Stegun 7.1.26. */
function errorFunction(x: number): number {
  const t = 1 / (1 + 0.3275911 * x);
  const tail =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  return 1 - tail * Math.exp(-x * x);
}
