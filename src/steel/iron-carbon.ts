/**
 * The lines of the iron–carbon diagram that a smith of high-carbon steel meets, and how alloying shifts them.
 * The curves are fits to a computed assessment [S09]; they meet the textbook corners 727 °C/0.77 %, 1148 °C/2.1 % [S10].
 */
import {
  CEMENTITE_CARBON_PCT,
  type Composition,
  mustBeCarbon,
  mustBeTemperature,
} from "./composition.js";

/** Eutectoid line of plain iron–carbon, °C. [S10] */
export const EUTECTOID_C = 727;
/** Eutectoid carbon, wt%: where the Acm curve below reaches 727 °C. [S09]; diagrams print 0.76 to 0.77. */
export const EUTECTOID_CARBON_PCT = 0.761;
/** Eutectic line, °C, and the most carbon austenite can hold, wt%. [S09], [S10] (diagrams print 2.03 to 2.14 %) */
export const EUTECTIC_C = 1148;
export const MOST_CARBON_IN_AUSTENITE_PCT = 2.05;
/** Carbon that ferrite holds just under A1, wt%. [S10] */
const CARBON_IN_FERRITE_PCT = 0.02;

/** K per wt% on A1. [S11], low-alloy steels. */
const A1_SHIFT = { mnPct: -10.7, niPct: -16.9, siPct: 29.1, crPct: 16.9, asPct: 290, wPct: 6.38 };
/** K per wt% on the liquidus. [S13], from memory with high confidence. */
const LIQUIDUS_SHIFT = { siPct: -7.6, mnPct: -4.9, pPct: -34.4, sPct: -38 };
/** K per wt% on the solidus. [S14], from memory, a regression on low-carbon steels: a direction rather than a figure. */
const SOLIDUS_SHIFT = { siPct: -12.3, mnPct: -6.8, pPct: -124.5, sPct: -183.9 };
/** K per wt% on Acm; for Cr, Mn and Ni only the direction is known, so they are left out. [S12], from memory, medium. */
const ACM_SHIFT = { siPct: 17 };

function shift(slopes: Partial<Record<keyof Composition, number>>, of?: Composition): number {
  if (!of) return 0;
  let sum = 0;
  for (const [element, slope] of Object.entries(slopes)) {
    sum += slope * (of[element as keyof Composition] ?? 0);
  }
  return sum;
}

/**
 * A1: where pearlite and austenite change into each other, °C.
 * Holds: low-alloy steels (Σ alloy < 5 %). Error: ±10 K with alloying; plain steel ±1 K. On heating at a shop's rate it lies
 * 10 to 30 K higher, on air cooling 50 to 100 K lower. Source: 727 °C [S10] + the element slopes of [S11].
 */
export const a1C = (composition?: Composition): number =>
  EUTECTOID_C + shift(A1_SHIFT, composition);

/** Ac1 as published: 723 °C + slopes. Holds: low-alloy, C < 0.6 %. Error ±11 K. Source: [S11]. */
export const andrewsAc1C = (composition: Composition): number => 723 + shift(A1_SHIFT, composition);

/** The curve itself, 0.77 to 2.05 %C, °C. It bulges up: the straight chord is 33 K too low at 1.5 %. */
const acmCurve = (c: number): number => 375.77 + 527.216 * c - 93.536 * c ** 2 + 9.779 * c ** 3;

/**
 * Acm: above it no cementite is left in austenite of this carbon, °C.
 * Holds: 0.77 to 2.05 %C. Below the eutectoid there is no such line and A1 is returned; above 2.05 % the eutectic, 1148 °C.
 * Error: ±10 K plain (fit 0.3 K). Alloy shift only for silicon, about +17 K/%, from memory. Source: [S09]; [S12].
 */
export function acmC(carbonPct: number, composition?: Composition): number {
  mustBeCarbon(carbonPct);
  if (carbonPct <= EUTECTOID_CARBON_PCT) return a1C(composition);
  if (carbonPct >= MOST_CARBON_IN_AUSTENITE_PCT) return EUTECTIC_C;
  return acmCurve(carbonPct) + shift(ACM_SHIFT, composition);
}

/**
 * Solidus: where the first liquid appears in homogeneous austenite, °C. A casting melts sooner, where its last liquid froze.
 * Holds: 0.77 to 2.05 %C; 1148 °C above; extrapolated below (15 K at 0.5 %). Error: ±10 K. Source: [S09]; shifts [S14].
 */
export function solidusC(carbonPct: number, composition?: Composition): number {
  mustBeCarbon(carbonPct);
  const base =
    carbonPct >= MOST_CARBON_IN_AUSTENITE_PCT
      ? EUTECTIC_C
      : 1510.83 - 150.456 * carbonPct - 12.595 * carbonPct ** 2;
  return base + shift(SOLIDUS_SHIFT, composition);
}

/**
 * Liquidus: above it all is liquid, °C.
 * Holds: 0.77 to 2.05 %C, extrapolated to 4.3 %; constant 1148 °C beyond. Error: ±8 K (±25 K at 4 %). Source: [S09]; shifts [S13].
 */
export function liquidusC(carbonPct: number, composition?: Composition): number {
  mustBeCarbon(carbonPct);
  const base = Math.max(EUTECTIC_C, 1527.91 - 59.94 * carbonPct - 5.925 * carbonPct ** 2);
  return base + shift(LIQUIDUS_SHIFT, composition);
}

/** Liquidus by the published slope form 1536 − 78 C − …, °C. Error ±10 K above 1 %C. Source: [S13], from memory, high. */
export const liquidusBySlopesC = (composition: Composition): number =>
  1536 - 78 * composition.carbonPct + shift(LIQUIDUS_SHIFT, composition);

/**
 * Carbon dissolved in austenite that touches cementite, wt%: what is in solution, whatever the bulk holds.
 * Holds: 727 to 1148 °C; at and below A1 the eutectoid carbon (what the austenite had when it turned to pearlite), above 1148 °C
 * the most it can hold. Error: ±0.03. Source: the Acm curve of [S09], solved for carbon.
 */
export function carbonInAusteniteAtPct(tempC: number): number {
  mustBeTemperature(tempC);
  let low = EUTECTOID_CARBON_PCT;
  let high = MOST_CARBON_IN_AUSTENITE_PCT;
  if (tempC <= acmCurve(low)) return low;
  if (tempC >= acmCurve(high)) return high;
  for (let step = 0; step < 40; step += 1) {
    const middle = (low + high) / 2;
    if (acmCurve(middle) < tempC) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Carbon in solution at this temperature, wt%: the bulk, or what austenite can hold if that is less. */
export const carbonInSolutionPct = (carbonPct: number, tempC: number): number =>
  Math.min(carbonPct, carbonInAusteniteAtPct(tempC));

/**
 * Cementite by mass, 0 to 1, by the lever rule: above A1 what is undissolved, at and below A1 all of it, pearlite's included.
 * Holds: 0 to 6.69 %C, 20 to 1148 °C, after a soak long enough. Error: ±0.005 from the carbon line. Source: [S09], lever rule.
 */
export function cementiteFraction(carbonPct: number, tempC: number): number {
  mustBeCarbon(carbonPct);
  const matrix = tempC <= EUTECTOID_C ? CARBON_IN_FERRITE_PCT : carbonInAusteniteAtPct(tempC);
  return Math.max(0, (carbonPct - matrix) / (CEMENTITE_CARBON_PCT - matrix));
}
