/** How fast an ingot froze, and the growth cells that come of it. */
import {
  cellSpacingUm,
  liquidusC,
  mustLie,
  type NotedRange,
  type Range,
  solidusC,
} from "../steel/index.js";

/** Cooling rate from two readings, K/min; positive when it cooled. */
export function coolingKPerMin(fromC: number, toC: number, minutes: number): number {
  mustLie("minutes", minutes, 1e-3, 1e6, "min");
  return (fromC - toC) / minutes;
}

/** Mean rate through freezing, K/min, from the time between first and last solid. Source: lines of [S09]. Error: ±10 % from the lines. */
export function rateFromFreezingTime(carbonPct: number, minutes: number): number {
  return coolingKPerMin(liquidusC(carbonPct), solidusC(carbonPct), minutes);
}

/** How melts are let go cold. */
export const COOLING_WAYS = ["furnace-shut", "furnace-open", "air", "mould"] as const;
export type CoolingWay = (typeof COOLING_WAYS)[number];
/**
 * Rate through freezing by the way of cooling, K/min. Replicas of old ingots froze at 3 to 10 [S17] (memory, medium-low); the others are common
 * practice, no source, set by the heat balance of `ownCoolingKPerMin` to an order of magnitude.
 */
export const COOLING_RATES: Readonly<Record<CoolingWay, Range>> = {
  "furnace-shut": { low: 2, likely: 5, high: 10 },
  "furnace-open": { low: 5, likely: 12, high: 30 },
  air: { low: 20, likely: 60, high: 150 },
  mould: { low: 60, likely: 200, high: 600 },
};

/** Words by which a smith says how the melt was let go cold. First match counts. */
const COOLING_WORDS: readonly (readonly [RegExp, CoolingWay])[] = [
  [/\b(mou?ld|poured|cast into)\b/, "mould"],
  [/\b(lid off|furnace open|open furnace|door open|open door|cracked open)\b/, "furnace-open"],
  [
    /\b(furnace|kiln|oven|slow|slowly|buried|ash|ashes|vermiculite|overnight|embers)\b/,
    "furnace-shut",
  ],
  [/\b(air|out|floor|bench|sand)\b/, "air"],
];

/** The way of cooling that a smith's words mean; nothing if they do not say. */
export const coolingWay = (said: string): CoolingWay | undefined =>
  COOLING_WORDS.find(([words]) => words.test(said.toLowerCase()))?.[1];

const STEFAN_BOLTZMANN = 5.670374e-8; // W/(m² K⁴), CODATA
/** Heat of fusion of steel, J/kg. [S57] */
export const FUSION_J_PER_KG = 250_000;
const LIQUID_J_PER_KG_K = 800; // common practice, no source: 750 to 840
const CLAY_J_PER_KG_K = 1100; // common practice, no source: 1000 to 1200
const CLAY_W_PER_M_K = 1.5; // common practice, no source: 1 to 2
const OUTSIDE_EMISSIVITY = 0.85; // common practice, no source: 0.7 to 0.95
const KELVIN = 273.15;

/**
 * Rate at which a clay crucible that stands in the open cools through freezing, K/min.
 * Shape: lump with radiation outside in series with its wall; heat of fusion spread over liquidus to solidus.
 * Holds: 0.77 to 2.05 %C, wall 3 to 20 mm. Error: a factor of 2 either way. Source: worked by us from [S49], [S57].
 */
export function ownCoolingKPerMin(pot: {
  readonly carbonPct: number;
  readonly steelG: number;
  readonly crucibleG: number;
  readonly surfaceMm2: number;
  readonly wallMm: number;
}): number {
  mustLie("steelG", pot.steelG, 1, 1e6, "g");
  mustLie("surfaceMm2", pot.surfaceMm2, 1, 1e8, "mm²");
  const [liquid, solid] = [liquidusC(pot.carbonPct), solidusC(pot.carbonPct)];
  const insideK = (liquid + solid) / 2 + KELVIN;
  const areaM2 = pot.surfaceMm2 * 1e-6;
  const wallWPerM2K = CLAY_W_PER_M_K / (pot.wallMm / 1000);
  // The outer face sits where conduction through the wall equals what it radiates.
  let low = 300;
  let high = insideK;
  for (let step = 0; step < 60; step += 1) {
    const outside = (low + high) / 2;
    const radiated = OUTSIDE_EMISSIVITY * STEFAN_BOLTZMANN * (outside ** 4 - 293 ** 4);
    if (wallWPerM2K * (insideK - outside) > radiated) low = outside;
    else high = outside;
  }
  const watts = wallWPerM2K * (insideK - low) * areaM2;
  const joulesPerK =
    (pot.steelG / 1000) * (LIQUID_J_PER_KG_K + FUSION_J_PER_KG / (liquid - solid)) +
    (pot.crucibleG / 1000) * CLAY_J_PER_KG_K;
  return (watts / joulesPerK) * 60;
}

/**
 * Spacing of growth cells in the ingot, µm, from a range of rates: the widest of both uncertainties.
 * Holds and errs as the spacing law. Source: [S21].
 */
export function cellsOfMelt(rateKPerMin: Range): NotedRange {
  const [slow, middle, fast] = [rateKPerMin.low, rateKPerMin.likely, rateKPerMin.high].map(
    cellSpacingUm,
  ) as [NotedRange, NotedRange, NotedRange];
  return {
    low: fast.low,
    likely: middle.likely,
    high: slow.high,
    notes: [...new Set([...slow.notes, ...middle.notes, ...fast.notes])],
  };
}
