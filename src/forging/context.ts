/** What one plan works with at every stage: the steel at its temperature, the fire, the tool, the blade's sections. */
import { type BladeShape, bladeVolumeMm3, sectionMm2 } from "../shape/index.js";
import {
  cellSpacingUm,
  decarbDepthMm,
  densityGPerMm3,
  flowStressMPa,
  forgingWindow,
  linearExpansion,
  scaleLossMm,
} from "../steel/index.js";
import { type CoolingCurve, coolingCurve } from "./cooling.js";
import { STRAIN_RATE, type Tool, toolOf } from "./force.js";
import { finishedBlade, forgedBlank } from "./goal.js";
import type { IngotInHand } from "./ingot.js";
import * as rule from "./rules-of-thumb.js";
import type { BladeGoal, PlanWindow, Range, Shop } from "./types.js";

/** What a piece's weighings say of its fire: loss over what was reckoned, with its range, nine times in ten. */
export interface MeasuredFire {
  readonly factor: number;
  /** About the factor: low < 1 < high. */
  readonly share: Range;
}

export interface Context {
  readonly ingot: IngotInHand;
  readonly goal: Required<BladeGoal>;
  /** Blades asked for; a split bar gives two, asked for or not. */
  readonly wantedCount: number;
  readonly shop: Shop;
  readonly tool: Tool;
  readonly window: PlanWindow;
  /** Asked for and too hot: planned at the ceiling instead. */
  readonly saidStartC: number | undefined;
  readonly phosphorusLimits: boolean;
  /** Mean of start and floor: where the steel is worked. */
  readonly workC: number;
  readonly densityGPerMm3: number;
  /** Length hot over cold at `workC`. */
  readonly hotFactor: number;
  readonly curve: CoolingCurve;
  readonly stressMPa: Range;
  /** Depth lost a surface in a heat of `REFERENCE_MINUTES`, or of the shop's own minutes. */
  readonly scaleMmPerHeat: Range;
  /** What the weighings of this piece say of the fire, once there are any. */
  readonly measured?: MeasuredFire;
  readonly skinMmPerHeat: number;
  readonly cellUm: Range;
  readonly spreadFactor: number;
  readonly heatsFactor: number;
}

export function contextOf(
  ingot: IngotInHand,
  pPct: number | undefined,
  goal: Required<BladeGoal>,
  shop: Shop,
): Context {
  const { carbonPct } = ingot.ingot;
  const steel = forgingWindow({ carbonPct, ...(pPct === undefined ? {} : { pPct }) });
  const startC = Math.max(
    Math.min(shop.startC ?? steel.workToC, steel.ceilingC),
    steel.floorC + 20,
  );
  const workC = (startC + steel.floorC) / 2;
  const tool = toolOf(shop);
  const minutes = shop.minutesPerHeat ?? rule.REFERENCE_MINUTES;
  const factor = shop.learned?.atmosphereFactor;
  const soak = {
    tempC: startC,
    minutes,
    ...(factor === undefined ? {} : { atmosphereFactor: factor }),
  };
  return {
    ingot,
    goal,
    wantedCount: goal.count,
    shop,
    tool,
    window: {
      floorC: steel.floorC,
      ceilingC: steel.ceilingC,
      acmC: steel.acmC,
      solidusC: steel.solidusC,
      startC,
    },
    saidStartC: shop.startC,
    phosphorusLimits: steel.ceilingReason === "phosphorus",
    workC,
    densityGPerMm3: densityGPerMm3(carbonPct),
    hotFactor: 1 + linearExpansion(carbonPct, workC).likely,
    curve: coolingCurve(startC, steel.floorC, carbonPct, true),
    stressMPa: flowStressMPa({
      carbonPct,
      tempC: workC,
      strain: Math.log(1 / (1 - rule.REDUCTION_PER_PASS.likely)),
      strainRatePerS: STRAIN_RATE[tool],
    }),
    scaleMmPerHeat: scaleLossMm(soak),
    skinMmPerHeat: decarbDepthMm({ tempC: startC, minutes, carbonPct }).likely,
    cellUm: cellSpacingUm(ingot.coolingKPerMin),
    spreadFactor: shop.learned?.spreadFactor ?? 1,
    heatsFactor: shop.learned?.heatsFactor ?? 1,
  };
}

/** The blade and what leads up to it, for a goal: sections do not depend on the length. */
export interface BladeSizes {
  readonly finished: (lengthMm: number) => BladeShape;
  readonly blank: (lengthMm: number) => BladeShape;
  /** Preform: thickness of the blank at the shoulder, width before the bevels are forged. */
  readonly preform: { readonly thicknessMm: number; readonly widthMm: number };
  readonly bar: { readonly thicknessMm: number; readonly widthMm: number };
}

/** Forging the bevels moves steel sideways: the preform has the blank's section in a rectangle as thick as its back. */
export function bladeSizes(goal: Required<BladeGoal>): BladeSizes {
  const blank = forgedBlank(goal);
  const thicknessMm = Math.max(blank.thicknessMm, blank.tangThicknessMm);
  const area = sectionMm2(goal.section, blank.widthMm, blank.thicknessMm, blank.edgeThicknessMm);
  const widthMm = Math.max(area / thicknessMm, blank.tangWidthMm);
  const barThickness = thicknessMm * rule.BAR_OVER_PREFORM;
  return {
    finished: (lengthMm) => finishedBlade(goal, lengthMm),
    blank: (lengthMm) => forgedBlank(goal, lengthMm),
    preform: { thicknessMm, widthMm },
    bar: {
      thicknessMm: Math.min(barThickness, Math.max(widthMm, thicknessMm)),
      widthMm: Math.max(widthMm, thicknessMm),
    },
  };
}

export const finishedG = (context: Context, sizes: BladeSizes, lengthMm: number): number =>
  bladeVolumeMm3(sizes.finished(lengthMm)) * context.densityGPerMm3;
