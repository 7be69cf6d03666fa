/** The last two stages: the bar is cut to length for the preform, and the blade is forged and ground from it. */
import { bladeSurfaceMm2, bladeVolumeMm3 } from "../shape/index.js";
import { type Done, done, NO_LOSS } from "./chain.js";
import type { BladeSizes } from "./context.js";
import { bladeEffort, scaleG, squeezeEffort } from "./effort.js";
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

/**
 * What blades of any length take when they are cut from a bar of this section. The bites are settled once: they depend on the
 * sections only.
 */
export function bladeNeeds(
  frame: RouteFrame,
  sizes: BladeSizes,
  from: Section,
): (lengthMm: number) => BladeNeed {
  const { context } = frame;
  const density = context.densityGPerMm3;
  const plan = schedule(from, sizes.preform, context.spreadFactor);
  const still = plan.thicknessStrain + plan.widthStrain < 0.01;
  const { thicknessMm: t, widthMm: w } = sizes.preform;
  const toBlade = bladeEffort(context, sizes.preform);
  const toPreform = squeezeEffort(context, from, plan.reached, plan);
  return (lengthMm) => {
    const finishedG = bladeVolumeMm3(sizes.finished(lengthMm)) * density;
    const blank = sizes.blank(lengthMm);
    const blankMm3 = bladeVolumeMm3(blank);
    const blankG = blankMm3 * density;
    const bladeHeats = toBlade(blankMm3).heats;
    const bladeScaleG = scaleG(
      context,
      blankG,
      bladeHeats,
      bladeSurfaceMm2(blank),
      blank.lengthMm + blank.tangLengthMm,
    );
    const preformG = blankG + bladeScaleG;
    const volume = preformG / density;
    const surface = 2 * (t * w + ((t + w) * volume) / (t * w));
    const preformHeats = still ? 0 : toPreform(volume).heats;
    const preformScaleG = still
      ? 0
      : scaleG(context, preformG, preformHeats, surface, volume / (t * w));
    return {
      finishedG,
      grindG: blankG - finishedG,
      bladeScaleG,
      preformScaleG,
      preformG,
      cutG: preformG + preformScaleG,
      preformHeats,
      bladeHeats,
    };
  };
}

/** Longest that is looked for, mm. */
const LONGEST_MM = 200_000;

/** Longest blade that a mass of bar gives, mm, to a hundredth; 0 when not even the tang comes out. */
export function longestBladeMm(
  needs: (lengthMm: number) => BladeNeed,
  availableG: number,
  count: number,
): number {
  const over = (lengthMm: number) => needs(lengthMm).cutG * count - availableG;
  let low = 1;
  let underG = over(low);
  if (underG > 0) return 0;
  let high = Math.min(LONGEST_MM, 1 + (-underG / Math.max(1e-9, over(101) - underG)) * 110);
  let overG = over(high);
  while (overG <= 0 && high < LONGEST_MM) {
    low = high;
    underG = overG;
    high *= 2;
    overG = over(high);
  }
  // The need is close to a straight line: a chord first, halving where it does not close in.
  for (let step = 0; step < 60 && high - low > 0.01; step++) {
    const chord = low - (underG * (high - low)) / (overG - underG);
    const next =
      step % 3 === 2
        ? (low + high) / 2
        : Math.min(high - 1e-3, Math.max(low + 1e-3, chord + (step % 3 === 0 ? -0.004 : 0.004)));
    const value = over(next);
    if (value <= 0) {
      low = next;
      underG = value;
    } else {
      high = next;
      overG = value;
    }
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
  const need = bladeNeeds(frame, sizes, from)(lengthMm);
  const availableG = work.massG - trimmedG;
  const cutG = Math.max(
    need.cutG * count,
    Math.min(availableG, need.cutG * count * (1 + rule.CUT_LONG_SHARE)),
  );
  const keptG = Math.max(0, availableG - cutG);
  const massG = (need.preformG / need.cutG) * cutG;
  const scale = work.massG - trimmedG - keptG - massG;
  const plan = schedule(from, sizes.preform, context.spreadFactor);
  const volume = massG / context.densityGPerMm3;
  const effort = squeezeEffort(context, from, plan.reached, plan)(volume);
  const { thicknessMm, widthMm } = sizes.preform;
  const cutFrom = cutBefore(frame, work, trimmedG / work.massG, keptG / work.massG);
  const cutTo = trimmedG / work.massG + keptG / work.massG - cutFrom;
  const zone = zoneAfterCuts(work.zone, cutFrom, Math.max(0, cutTo));
  const barCutMm =
    (work.massG - trimmedG - keptG) / context.densityGPerMm3 / (from.thicknessMm * from.widthMm);
  const strip = volume / (thicknessMm * widthMm);
  const watch: Reason[] = [];
  if (keptG > 1) watch.push({ code: "cut-to-length", lengthMm: barCutMm, keptG });
  if (split) watch.push({ code: "join-clear", clearMm: rule.JOIN_CLEAR_MM });
  if (count === 2) watch.push({ code: "cut-in-two", atMm: strip / 2 });
  return done(
    frame,
    {
      name: "preform",
      start: {
        shape: "bar",
        thicknessMm: from.thicknessMm,
        widthMm: from.widthMm,
        lengthMm: barCutMm,
      },
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
 * Share cut away before the tang end. One blade: all the spare comes off there, so that the doubtful middle is cut off or falls
 * to the tang; a split bar keeps its middle in the middle.
 */
function cutBefore(frame: RouteFrame, work: Work, trimShare: number, keptShare: number): number {
  const half = frame.route === "end" ? 0 : trimShare / 2;
  if (frame.split) return half + keptShare / 2;
  if (work.zone.place === "out" || frame.route === "ring") return half;
  return half + keptShare;
}

/** Forge tang, tapers and bevels; grind. `keptG`: what a preform is heavier than the blade takes. */
export function blade(frame: RouteFrame, work: Work, sizes: BladeSizes, lengthMm: number): Done {
  const { context, split } = frame;
  const count = context.goal.count;
  const from = work.piece as Bar;
  const need = bladeNeeds(frame, sizes, sizes.preform)(lengthMm);
  const finished = sizes.finished(lengthMm);
  const massG = need.finishedG * count;
  const scale = need.bladeScaleG * count;
  const grindG = need.grindG * count;
  const keptG = Math.max(0, work.massG - massG - scale - grindG);
  const effort = bladeEffort(context, sizes.preform)(need.preformG / context.densityGPerMm3);
  const tangShare =
    (finished.tangLengthMm *
      finished.tangWidthMm *
      finished.tangThicknessMm *
      context.densityGPerMm3) /
    need.finishedG;
  const skin = Math.min(0.5, context.skinMmPerHeat);
  return done(frame, {
    name: "blade",
    start: from,
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
