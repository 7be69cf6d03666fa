/** Anchors for the quench: they hang on the carbon in SOLUTION, never on the bulk. */
import type { Composition } from "./composition.js";
import { carbonInSolutionPct } from "./iron-carbon.js";

/**
 * Start of martensite, °C, for high-carbon steels. `carbonPct` is the carbon in solution, wt%.
 * Holds: high carbon, low to medium alloy. Error: about ±25 K (memory). Source: [S36].
 */
export function martensiteStartC(solution: Composition): number {
  const { carbonPct: c, mnPct = 0, siPct = 0, niPct = 0, crPct = 0, moPct = 0 } = solution;
  const { alPct = 0, coPct = 0 } = solution;
  return (
    530.2 -
    290.3 * c -
    35.5 * mnPct -
    6.8 * siPct -
    17.2 * niPct -
    20.8 * crPct -
    10.4 * moPct +
    7.1 * alPct +
    4.8 * coPct -
    75 * (1 - Math.exp(-0.96 * c))
  );
}

/** The same after austenitising at `tempC`, °C: bulk carbon is cut to what the austenite can hold there. Source: [S36], [S09]. */
export const martensiteStartAfterC = (steel: Composition, tempC: number): number =>
  martensiteStartC({ ...steel, carbonPct: carbonInSolutionPct(steel.carbonPct, tempC) });

/** Older straight law, °C, for comparison. Holds: carbon in solution under 0.6 %; meaningless above. Source: [S11]. */
export const andrewsMartensiteStartC = (s: Composition): number =>
  539 -
  423 * s.carbonPct -
  30.4 * (s.mnPct ?? 0) -
  17.7 * (s.niPct ?? 0) -
  12.1 * (s.crPct ?? 0) -
  7.5 * (s.moPct ?? 0);

/** Older straight law, °C, for comparison. Holds: 0.1 to 0.55 %C in solution. Source: [S41]. */
export const stevenMartensiteStartC = (s: Composition): number =>
  561 -
  474 * s.carbonPct -
  33 * (s.mnPct ?? 0) -
  17 * (s.crPct ?? 0) -
  17 * (s.niPct ?? 0) -
  21 * (s.moPct ?? 0);

/** Austenite left after quenching to `quenchC`, 0 to 1. Holds: quenchC below Ms. Error: ±0.05. Source: [S37]. */
export const retainedAusteniteFraction = (msC: number, quenchC: number): number =>
  Math.exp(-0.011 * Math.max(0, msC - quenchC));

/** Tempering parameter, K (20 + log10 hours): equal values soften alike. Holds: 100 to 700 °C. Source: [S38]. */
export const temperingParameter = (tempC: number, hours: number): number =>
  (tempC + 273.15) * (20 + Math.log10(hours));

/** K over A1 to harden from, low to high; well under Acm. Memory, high: usual practice for steels over the eutectoid. */
export const AUSTENITISE_OVER_A1_K = { low: 30, high: 60 } as const;
