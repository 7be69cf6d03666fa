/** The last two stages: the bar is cut to length for the preform, and the blade is forged and ground from it. */
import { bladeSurfaceMm2, bladeVolumeMm3, pieceSurfaceMm2 } from "../shape/index.js";
import { type Done, done, NO_LOSS } from "./chain.js";
import type { BladeSizes } from "./context.js";
import { effortOfBlade, effortOfSqueezes, scaleG } from "./effort.js";
import type { RouteFrame, Work } from "./frame.js";
import type { Reason } from "./reasons.js";
import * as rule from "./rules-of-thumb.js";
import { passesOf, type Section, schedule } from "./spread.js";
import type { StagePiece } from "./types.js";
import { type Zone, zoneAfterCuts } from "./zone.js";

type Bar = Extract<StagePiece, { shape: "bar" | "block" }>;

/** What one blade of a length takes, from the blank back to the bar it is cut from, g. */
export interface BladeNeed {
  readonly finishedG: number;
  readonly grindG: number;
  readonly bladeScaleG: number;
  readonly preformScaleG: number;
  /** Cut from the bar: the sum. */
  readonly cutG: number;
  readonly preformG: number;
  readonly preformHeats: number;
  readonly bladeHeats: number;
}

export function bladeNeed(
  frame: RouteFrame,
  sizes: BladeSizes,
  from: Section,
  lengthMm: number,
): BladeNeed {
  const { context } = frame;
  const density = context.densityGPerMm3;
  const finishedG = bladeVolumeMm3(sizes.finished(lengthMm)) * density;
  const blank = sizes.blank(lengthMm);
  const blankMm3 = bladeVolumeMm3(blank);
  const blade = effortOfBlade(context, blankMm3, sizes.preform);
  const bladeScaleG = scaleG(context, blankMm3 * density, blade.heats, bladeSurfaceMm2(blank));
  const preformG = blankMm3 * density + bladeScaleG;
  const plan = schedule(from, sizes.preform, context.spreadFactor);
  const volume = preformG / density;
  const preform = effortOfSqueezes(context, volume, from, plan.reached, plan);
  const { thicknessMm: t, widthMm: w } = sizes.preform;
  const surface = pieceSurfaceMm2({
    shape: "bar",
    thicknessMm: t,
    widthMm: w,
    lengthMm: volume / (t * w),
  });
  const still = plan.thicknessStrain + plan.widthStrain < 0.01;
  const preformScaleG = still ? 0 : scaleG(context, preformG, preform.heats, surface);
  return {
    finishedG,
    grindG: preformG - bladeScaleG - finishedG,
    bladeScaleG,
    preformScaleG,
    preformG,
    cutG: preformG + preformScaleG,
    preformHeats: still ? 0 : preform.heats,
    bladeHeats: blade.heats,
  };
}

/** Longest blade that a mass of bar gives, mm, to a hundredth; 0 when not even the tang comes out. */
export function longestBladeMm(
  frame: RouteFrame,
  sizes: BladeSizes,
  from: Section,
  availableG: number,
  count: number,
): number {
  const fits = (lengthMm: number) =>
    bladeNeed(frame, sizes, from, lengthMm).cutG * count <= availableG;
  if (!fits(1)) return 0;
  let low = 1;
  let high = 64;
  while (fits(high) && high < 20_000) {
    low = high;
    high *= 2;
  }
  while (high - low > 0.01) {
    const middle = (low + high) / 2;
    if (fits(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** Ends trimmed from the bar before it is cut: fish tails. The end route has cut one end off already. */
export function trimG(
  frame: RouteFrame,
  work: Work,
  share: number = rule.TRIM_OF_WIDTH.likely,
): number {
  const piece = work.piece as Bar;
  const ends = frame.route === "end" ? 1 : 2;
  const each = share * piece.widthMm * piece.widthMm * piece.thicknessMm;
  return Math.min(0.3 * work.massG, ends * each * frame.context.densityGPerMm3);
}

/** Cut to length, sound steel kept, and drawn to the preform. One strip for all the blades. */
export function preform(
  frame: RouteFrame,
  work: Work,
  sizes: BladeSizes,
  lengthMm: number,
  trimmedG: number,
): Done {
  const { context, split } = frame;
  const from = work.piece as Bar;
  const count = frame.context.goal.count;
  const need = bladeNeed(frame, sizes, from, lengthMm);
  const keptG = Math.max(0, work.massG - trimmedG - need.cutG * count);
  const massG = need.preformG * count;
  const scale = work.massG - trimmedG - keptG - massG;
  const plan = schedule(from, sizes.preform, context.spreadFactor);
  const volume = massG / context.densityGPerMm3;
  const effort = effortOfSqueezes(context, volume, from, plan.reached, plan);
  const { thicknessMm, widthMm } = sizes.preform;
  const cutFrom = cutBefore(frame, work, trimmedG / work.massG, keptG / work.massG);
  const cutTo = trimmedG / work.massG + keptG / work.massG - cutFrom;
  const zone = zoneAfterCuts(work.zone, cutFrom, Math.max(0, cutTo));
  const barCutMm =
    (work.massG - trimmedG - keptG) / context.densityGPerMm3 / (from.thicknessMm * from.widthMm);
  const strip = volume / (thicknessMm * widthMm);
  const watch: Reason[] = [];
  if (keptG > 0) watch.push({ code: "cut-to-length", lengthMm: barCutMm, keptG });
  if (split) watch.push({ code: "join-clear", clearMm: rule.JOIN_CLEAR_MM });
  if (count === 2) watch.push({ code: "cut-in-two", atMm: strip / 2 });
  return done(
    frame,
    {
      name: "preform",
      cold: { shape: "bar", thicknessMm, widthMm, lengthMm: strip },
      massG,
      losses: { ...NO_LOSS, scaleG: scale, trimG: trimmedG, keptG },
      effort,
      heats: need.preformHeats * count,
      zone: zone.place === "out" ? (work.zone.place === "out" ? work.zone : zone) : zone,
      pipeTaken: work.pipeTaken,
      passes: passesOf(from, sizes.preform, plan),
      orient: { code: "flat-then-edge" },
      watch,
    },
    { thickness: plan.thicknessStrain, width: plan.widthStrain },
  );
}

/**
 * Share cut away before the tang end. One blade: the spare comes off so that the doubtful steel falls towards the tang; a split
 * bar keeps its middle in the middle.
 */
function cutBefore(frame: RouteFrame, work: Work, trimShare: number, keptShare: number): number {
  const half = frame.route === "end" ? 0 : trimShare / 2;
  if (frame.split) return half + keptShare / 2;
  if (work.zone.place === "out" || frame.route === "ring") return half;
  return half + Math.min(keptShare, Math.max(0, work.zone.from - half));
}

/** Forge tang, tapers and bevels; grind. `keptG`: what a preform is heavier than the blade takes. */
export function blade(frame: RouteFrame, work: Work, sizes: BladeSizes, lengthMm: number): Done {
  const { context, split } = frame;
  const count = context.goal.count;
  const from = work.piece as Bar;
  const need = bladeNeed(frame, sizes, sizes.preform, lengthMm);
  const finished = sizes.finished(lengthMm);
  const massG = need.finishedG * count;
  const scale = need.bladeScaleG * count;
  const grindG = need.grindG * count;
  const keptG = Math.max(0, work.massG - massG - scale - grindG);
  const effort = effortOfBlade(context, need.preformG / context.densityGPerMm3, sizes.preform);
  const tangShare =
    (finished.tangLengthMm *
      finished.tangWidthMm *
      finished.tangThicknessMm *
      context.densityGPerMm3) /
    need.finishedG;
  const skin = Math.min(0.5, context.skinMmPerHeat);
  return done(frame, {
    name: "blade",
    cold: {
      shape: "blade",
      lengthMm,
      widthMm: finished.widthMm,
      thicknessMm: finished.thicknessMm,
    },
    massG,
    losses: {
      ...NO_LOSS,
      scaleG: scale,
      grindG: grindG + Math.min(0, work.massG - massG - scale - grindG),
      keptG,
    },
    effort,
    heats: need.bladeHeats * count,
    zone: bladeZone(work.zone, split, tangShare, from.lengthMm),
    pipeTaken: work.pipeTaken,
    passes: [],
    orient:
      frame.route === "spine"
        ? { code: "pipe-side-is-spine" }
        : frame.route === "face"
          ? { code: "pipe-side-is-face" }
          : frame.route === "ring"
            ? { code: "hole-wall-is-spine" }
            : { code: "flat-then-edge" },
    watch: [{ code: "corners-first" }, { code: "soft-skin", depthMm: skin }],
  });
}

/** Where the zone comes to lie on the blade, counted from its shoulder; wholly in the tang: place "tang". */
function bladeZone(zone: Zone, split: boolean, tangShare: number, stripMm: number): Zone {
  if (zone.place === "out" || stripMm <= 0) return zone;
  // Of a split strip each blade holds one half, its tang at the middle.
  const from = split ? Math.max(0, zone.from - 0.5) * 2 : zone.from;
  const to = split ? Math.max(0, zone.to - 0.5) * 2 : zone.to;
  const onBlade = (share: number) => Math.max(0, (share - tangShare) / (1 - tangShare));
  if (to <= tangShare + 1e-9) return { place: "tang", from: 0, to: 0, depth: zone.depth };
  return { ...zone, from: onBlade(from), to: Math.min(1, onBlade(to)) };
}
