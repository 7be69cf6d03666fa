/** What one stage costs: heats, seconds, force, and the steel that the fire eats meanwhile. */
import type { Context } from "./context.js";
import { timesOf } from "./cooling.js";
import { bitePressureFactor, blowEnergyJ, forgingWorkJ, type Tool } from "./force.js";
import * as rule from "./rules-of-thumb.js";
import { type Schedule, type Section, usualBiteMm } from "./spread.js";
import type { Range } from "./types.js";

export interface Effort {
  /** Likely, not rounded. */
  readonly heats: number;
  readonly forceKn: number;
  readonly working: Range;
  /** The press cannot do the narrowest bite that is worth while. */
  readonly outOfReach: boolean;
  /** The bite had to be narrowed for the press to this, mm. */
  readonly biteMm: number;
}

/** Force of a bite at this plan's stress, kN. */
const biteKn = (context: Context, bite: number, height: number, width: number): number =>
  (context.stressMPa.likely * bitePressureFactor(bite, height) * bite * width) / 1000;

/** The usual bite, or as narrow as the press needs it. */
function biteFor(context: Context, wantedMm: number, height: number, width: number) {
  const press = context.shop.pressKn;
  let bite = context.tool === "hand-hammer" ? Math.min(wantedMm, rule.HAND_BITE_MM) : wantedMm;
  let outOfReach = false;
  const allowed = (press ?? 0) * rule.SHARE_OF_RATING;
  if (context.tool === "press" && press && biteKn(context, bite, height, width) > allowed) {
    const least = Math.min(bite, rule.LEAST_BITE_MM);
    outOfReach = biteKn(context, least, height, width) > press;
    let [low, high] = [least, bite];
    for (let step = 0; step < 10; step++) {
      const middle = (low + high) / 2;
      if (biteKn(context, middle, height, width) <= allowed) low = middle;
      else high = middle;
    }
    bite = low;
  }
  return { bite, outOfReach, forceKn: biteKn(context, bite, height, width) };
}

/** Energy of one blow of the shop's hammer, J. */
const blowJ = (context: Context): number =>
  context.shop.hammerKg
    ? blowEnergyJ(context.shop.hammerKg, rule.TUP_SPEED_M_PER_S)
    : rule.HAND_BLOW_J;
const blowsPerS = (tool: Tool): number =>
  tool === "power-hammer" ? rule.POWER_BLOWS_PER_S : rule.HAND_BLOWS_PER_S;

/** Seconds under the tool for a strain over a volume. A press counts bites, a hammer blows: by their energy, at least one a bite. */
function secondsOf(
  context: Context,
  volumeMm3: number,
  strain: number,
  bites: { readonly lengthMm: number; readonly biteMm: number },
): number {
  const passes = strain / Math.log(1 / (1 - rule.REDUCTION_PER_PASS.likely));
  const bitesInAll = passes * (bites.lengthMm / bites.biteMm);
  if (context.tool === "press") return bitesInAll * rule.PRESS_SECONDS_PER_BITE;
  const workJ = forgingWorkJ(context.stressMPa.likely, volumeMm3, strain);
  // However strong the hammer, each bite of a sound pass takes a blow.
  return Math.max(workJ / blowJ(context), bitesInAll) / blowsPerS(context.tool);
}

/** Squeezing a bar from one section to another: settled for the sections, then asked for a volume. */
export function squeezeEffort(
  context: Context,
  from: Section,
  to: Section,
  plan: Schedule,
): (volumeMm3: number) => Effort {
  const t = Math.sqrt(from.thicknessMm * to.thicknessMm);
  const w = Math.sqrt(from.widthMm * to.widthMm);
  const flat = biteFor(context, plan.thicknessBiteMm, t, Math.max(w, to.widthMm));
  const edge = plan.widthStrain > 0.005 ? biteFor(context, plan.widthBiteMm, w, t) : undefined;
  return (volumeMm3) => {
    const lengthMm = volumeMm3 / (t * w);
    const seconds =
      secondsOf(context, volumeMm3, plan.thicknessStrain, { lengthMm, biteMm: flat.bite }) +
      (edge ? secondsOf(context, volumeMm3, plan.widthStrain, { lengthMm, biteMm: edge.bite }) : 0);
    const working = timesOf(
      context.curve.sPerMm,
      volumeMm3 / (2 * (t * w + t * lengthMm + w * lengthMm)),
    );
    return {
      heats: heatsOf(context, seconds, working.likely, plan.thicknessStrain + plan.widthStrain),
      forceKn: Math.max(flat.forceKn, edge?.forceKn ?? 0),
      working,
      outOfReach: flat.outOfReach || (edge?.outOfReach ?? false),
      biteMm: flat.bite,
    };
  };
}

/** Flattening or truing a round body of a height to a disc. */
export function effortOfFlattening(
  context: Context,
  volumeMm3: number,
  fromHeightMm: number,
  disc: { readonly diameterMm: number; readonly heightMm: number },
): Effort {
  const { diameterMm: d, heightMm: h } = disc;
  const strain = Math.max(0.1, Math.abs(Math.log(fromHeightMm / h)));
  const bite = biteFor(context, Math.min(rule.MOST_BITE_MM, Math.max(usualBiteMm(h), d / 2)), h, d);
  const seconds = secondsOf(context, volumeMm3, strain, { lengthMm: d, biteMm: bite.bite });
  const working = timesOf(
    context.curve.sPerMm,
    volumeMm3 / ((Math.PI / 2) * d ** 2 + Math.PI * d * h),
  );
  return {
    heats: heatsOf(context, seconds, working.likely, strain),
    forceKn: bite.forceKn,
    working,
    outOfReach: bite.outOfReach,
    biteMm: bite.bite,
  };
}

/** Bevels, tapers and tang from the preform, with the straightening heats. */
export function bladeEffort(context: Context, section: Section): (volumeMm3: number) => Effort {
  const { thicknessMm: t, widthMm: w } = section;
  const wanted = Math.min(rule.HAND_BITE_MM, Math.max(usualBiteMm(t), w / 2));
  const bite = biteFor(context, wanted, t, w);
  const working = timesOf(context.curve.sPerMm, (t * w) / (2 * (t + w)));
  return (volumeMm3) => {
    const bites = { lengthMm: volumeMm3 / (t * w), biteMm: bite.bite };
    const seconds = secondsOf(context, volumeMm3, rule.BLADE_STRAIN, bites);
    const straightening = rule.STRAIGHTENING_HEATS * context.heatsFactor;
    return {
      heats: heatsOf(context, seconds, working.likely, rule.BLADE_STRAIN) + straightening,
      forceKn: bite.forceKn,
      working,
      outOfReach: bite.outOfReach,
      biteMm: bite.bite,
    };
  };
}

/** Heats by the time that the tool takes, and by what the steel bears in one heat. */
const heatsOf = (context: Context, seconds: number, workingS: number, strain: number): number =>
  Math.max(seconds / (workingS * rule.TIME_IN_USE), strain / rule.MOST_STRAIN_A_HEAT) *
  context.heatsFactor;

/** Most of a piece that one stage's scale may take in the reckoning, in units of e-folds: half of it. */
const MOST_SCALE = 0.7;

/** Minutes at heat of a piece, as a factor on the depth that the context reckoned: depth goes with the root of time. */
function minutesFactor(context: Context, massG: number, surfaceMm2: number): number {
  if (context.shop.minutesPerHeat !== undefined) return 1;
  const volumeOverSurface = massG / context.densityGPerMm3 / surfaceMm2;
  const minutes = rule.MINUTES_AT_LEAST + rule.MINUTES_PER_MM * volumeOverSurface;
  return Math.sqrt(minutes / rule.REFERENCE_MINUTES);
}

/**
 * Steel that the fire eats in a stage, g: heats × depth × surface in the fire, falling as the piece does; or the share that this
 * shop's weighings gave. Of a long piece only `FIRE_LENGTH_MM` is in the fire at a heat.
 */
export function scaleG(
  context: Context,
  massG: number,
  heats: number,
  surfaceMm2: number,
  lengthMm: number,
): number {
  const learned = context.shop.learned?.lossPerHeatFraction;
  const inFire = Math.min(1, rule.FIRE_LENGTH_MM / lengthMm);
  const depthMm = context.scaleMmPerHeat.likely * minutesFactor(context, massG, surfaceMm2);
  const folds =
    learned === undefined
      ? (heats * depthMm * surfaceMm2 * inFire * context.densityGPerMm3) / massG
      : -heats * Math.log(1 - Math.min(0.5, Math.max(0, learned)));
  const measured = context.measured?.factor ?? 1;
  return massG * (1 - Math.exp(-Math.min(folds * measured, MOST_SCALE)));
}
