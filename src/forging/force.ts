/** Force of a bite against the press, energy of a blow against the work. */
import { flowStressMPa } from "../steel/index.js";
import * as rule from "./rules-of-thumb.js";
import type { Range, Shop } from "./types.js";

export type Tool = "press" | "power-hammer" | "hand-hammer";

/** 1/s, by tool. [S22]'s own reading of a slow press and of hammers. */
export const STRAIN_RATE = { press: 1, "power-hammer": 10, "hand-hammer": 10 } as const;
const PLANE_STRAIN = 2 / Math.sqrt(3);
/** Pressure of a narrow die on a thick body over the plane-strain stress: 1 + π/2. [S47] */
const INDENTATION_LIMIT = 1 + Math.PI / 2;
/** Rise of that pressure with height over bite: a straight line to the slip-line figure 2.57 at 8.7. Memory, medium; [S47]. */
const INDENTATION_SLOPE = (INDENTATION_LIMIT - 1) / 7.72;

export const toolOf = (shop: Shop): Tool =>
  shop.pressKn ? "press" : shop.hammerKg ? "power-hammer" : "hand-hammer";

/** Mean pressure over flow stress of a disc with sliding friction, handbook form: 1 + 0.4 μ D/h. Source: [S45]. */
export const discPressureFactor = (mu: number, diameterMm: number, heightMm: number): number =>
  1 + (0.4 * mu * diameterMm) / heightMm;
/** The slab form: 1 + μ d/(3h). Source: [S47]. */
export const siebelFactor = (mu: number, diameterMm: number, heightMm: number): number =>
  1 + (mu * diameterMm) / (3 * heightMm);
/** The slab form in full: 2(eˣ − x − 1)/x², x = μ d/h. Exact for constant friction shear growing with pressure. Source: [S47]. */
export function slabDiscFactor(mu: number, diameterMm: number, heightMm: number): number {
  const x = (mu * diameterMm) / heightMm;
  return x < 1e-3 ? 1 + x / 3 : (2 * (Math.exp(x) - x - 1)) / x ** 2;
}
/** Sticking disc: 1 + d/(3√3 h). Source: [S47]. */
export const stickingDiscFactor = (diameterMm: number, heightMm: number): number =>
  1 + diameterMm / (3 * Math.sqrt(3) * heightMm);
/** Sliding flat tool, over the plane-strain stress: (eˣ − 1)/x, x = μ b/h. Source: [S47]. */
export function slidingToolFactor(mu: number, biteMm: number, heightMm: number): number {
  const x = (mu * biteMm) / heightMm;
  return x < 1e-6 ? 1 : (Math.exp(x) - 1) / x;
}
/** Sticking flat tool, over the flow stress: (2/√3)(1 + b/(4h)). Source: [S47]. */
export const stickingToolFactor = (biteMm: number, heightMm: number): number =>
  PLANE_STRAIN * (1 + biteMm / (4 * heightMm));

/**
 * Mean pressure over flow stress of a bite b on a height h: the larger of sticking friction (long bites) and of the stiff body
 * beside a short one, to (2/√3)(1 + π/2) = 2.97. Holds: hot, dry, scaled steel. Error: ±15 %. Source: [S47].
 */
export function bitePressureFactor(biteMm: number, heightMm: number): number {
  const narrow = Math.min(
    INDENTATION_LIMIT,
    1 + INDENTATION_SLOPE * Math.max(0, heightMm / biteMm - 1),
  );
  return Math.max(stickingToolFactor(biteMm, heightMm), PLANE_STRAIN * narrow);
}

export interface Bite {
  /** Height that is squeezed. */
  readonly thicknessMm: number;
  readonly widthMm: number;
  readonly biteMm: number;
  /** Share of the height taken in the pass, 0 to 1. */
  readonly reduction?: number;
  readonly tempC: number;
  readonly carbonPct: number;
  readonly tool?: Tool;
}

export interface BiteForce extends Range {
  /** Widest bite that a press force allows, when one was given; undefined when none does. */
  readonly biteInReachMm?: number;
}

/**
 * Force of one bite, kN: flow stress × pressure factor × bite × width.
 * Holds: flat dies as wide as the piece, 700 to 1200 °C. Error: the band, which is the flow stress's and ±15 % of the factor.
 * Source: [S47] with [S22].
 */
export function forceForBite(bite: Bite, pressKn?: number): BiteForce {
  const reduction = Math.min(0.6, Math.max(0.01, bite.reduction ?? rule.REDUCTION_PER_PASS.likely));
  const stress = flowStressMPa({
    carbonPct: bite.carbonPct,
    tempC: bite.tempC,
    strain: Math.log(1 / (1 - reduction)),
    strainRatePerS: STRAIN_RATE[bite.tool ?? "press"],
  });
  const perMPa = (b: number) => (bitePressureFactor(b, bite.thicknessMm) * b * bite.widthMm) / 1000;
  const kn = perMPa(bite.biteMm);
  const answer = {
    low: stress.low * kn * 0.85,
    likely: stress.likely * kn,
    high: stress.high * kn * 1.15,
  };
  if (pressKn === undefined) return answer;
  const reach = widestBiteMm(bite.biteMm, (b) => stress.likely * perMPa(b) <= pressKn);
  return reach === undefined ? answer : { ...answer, biteInReachMm: reach };
}

function widestBiteMm(most: number, inReach: (biteMm: number) => boolean): number | undefined {
  const least = Math.min(most, rule.LEAST_BITE_MM);
  if (inReach(most)) return most;
  if (!inReach(least)) return undefined;
  let low = least;
  let high = most;
  for (let step = 0; step < 20; step++) {
    const middle = (low + high) / 2;
    if (inReach(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/**
 * Work of forging a volume to a strain, J: σ V ε × redundant / efficiency; MPa × mm³ is a thousandth of a J.
 * Exact but for the two factors, both common practice. Source: [S53].
 */
export const forgingWorkJ = (
  stressMPa: number,
  volumeMm3: number,
  strain: number,
  redundant: number = rule.REDUNDANT_WORK,
  efficiency: number = rule.BLOW_EFFICIENCY,
): number => ((stressMPa * volumeMm3 * strain) / 1000) * (redundant / efficiency);

/** Energy of a moving tup or hammer head, J: m v²/2. Exact. */
export const blowEnergyJ = (massKg: number, speedMPerS: number): number =>
  (massKg * speedMPerS ** 2) / 2;

/** Share of a blow's energy that a free anvil leaves for forging: (1 − e²) M/(M + m). Source: [S53]. */
export const anvilShare = (anvilKg: number, hammerKg: number, rebound: number): number =>
  ((1 - rebound ** 2) * anvilKg) / (anvilKg + hammerKg);

/** Warming of the steel by its own working, K: 0.95 σ ε/(ρ c). Source: [S53]. */
export const warmingK = (
  stressMPa: number,
  strain: number,
  densityKgPerM3: number,
  heatJPerKgK: number,
): number => (0.95 * stressMPa * 1e6 * strain) / (densityKgPerM3 * heatJPerKgK);

/** Blows for a pass: its work over the energy of a blow. */
export function blowsForPass(
  pass: {
    readonly volumeMm3: number;
    readonly reduction: number;
    readonly tempC: number;
    readonly carbonPct: number;
  },
  shop: Shop,
): { blows: number; workJ: number; blowJ: number } {
  const tool = toolOf(shop);
  const strain = Math.log(1 / (1 - pass.reduction));
  const stress = flowStressMPa({
    carbonPct: pass.carbonPct,
    tempC: pass.tempC,
    strain,
    strainRatePerS: STRAIN_RATE[tool],
  });
  const workJ = forgingWorkJ(stress.likely, pass.volumeMm3, strain);
  const blowJ = shop.hammerKg
    ? blowEnergyJ(shop.hammerKg, rule.TUP_SPEED_M_PER_S)
    : rule.HAND_BLOW_J;
  return { blows: workJ / blowJ, workJ, blowJ };
}
