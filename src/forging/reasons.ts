/** Why, why not, what to watch: small typed values with figures, and their plain English. */
import {
  type ChatUnits,
  formatDuration,
  formatForce,
  formatLength,
  formatMass,
  formatPercent,
  formatTemperature,
  METRIC,
} from "../units/index.js";

export type Reason =
  | { readonly code: "edge-from-sound-side" }
  | { readonly code: "usual-for-single-edge" }
  | { readonly code: "suits-double-edge" }
  | { readonly code: "edge-in-pipe-zone" }
  | { readonly code: "pipe-cut-off-whole" }
  | { readonly code: "pipe-punched-out" }
  | { readonly code: "pipe-in-tangs"; readonly zoneMm: number }
  | { readonly code: "pipe-past-tangs"; readonly zoneMm: number; readonly roomMm: number }
  | { readonly code: "one-blade-wanted" }
  | { readonly code: "dense-pattern"; readonly cells: number; readonly bandUm: number }
  | { readonly code: "coarse-pattern"; readonly cells: number; readonly bandUm: number }
  | { readonly code: "least-loss"; readonly lossG: number; readonly lossPct: number }
  | { readonly code: "much-loss"; readonly lossG: number; readonly lossPct: number }
  | { readonly code: "face-cracks-in-middle" }
  | { readonly code: "needs-handle" }
  | { readonly code: "handle-taken-as-possible" }
  | { readonly code: "no-welder" }
  | { readonly code: "needs-power"; readonly forceKn: number }
  | { readonly code: "press-too-small"; readonly forceKn: number; readonly pressKn: number }
  | { readonly code: "narrower-bite"; readonly biteMm: number; readonly tempC: number }
  | { readonly code: "too-slender-on-edge"; readonly ratio: number; readonly limit: number }
  | { readonly code: "slender-on-edge"; readonly ratio: number }
  | { readonly code: "too-slender-upright"; readonly ratio: number; readonly limit: number }
  | { readonly code: "ring-too-thick"; readonly wallMm: number; readonly heightMm: number }
  | { readonly code: "many-steps" }
  | { readonly code: "short-of-steel"; readonly shortG: number; readonly largestMm: number }
  | { readonly code: "steel-to-spare"; readonly spareG: number; readonly largestMm: number }
  | { readonly code: "tight"; readonly spareG: number; readonly plusMinusG: number }
  | { readonly code: "too-thin"; readonly thicknessMm: number; readonly neededMm: number }
  | { readonly code: "too-narrow"; readonly widthMm: number; readonly neededMm: number }
  | { readonly code: "spread-it"; readonly biteMm: number }
  | {
      readonly code: "void";
      readonly voidPct: number;
      readonly plusMinusPct: number;
      readonly heightErrorMm: number;
    }
  | {
      readonly code: "heavier-than-shape";
      readonly overPct: number;
      readonly plusMinusPct: number;
      readonly heightErrorMm: number;
    }
  | { readonly code: "first-heats-cool"; readonly ceilingC: number }
  | { readonly code: "keep-under"; readonly ceilingC: number }
  | { readonly code: "start-over-ceiling"; readonly startC: number; readonly ceilingC: number }
  | { readonly code: "stop-at"; readonly floorC: number; readonly workingS: number }
  | { readonly code: "short-heat"; readonly workingS: number }
  | { readonly code: "near-rating"; readonly forceKn: number; readonly pressKn: number }
  | { readonly code: "take-pipe-out"; readonly depthMm: number; readonly grooveG: number }
  | { readonly code: "cut-off-pipe-end"; readonly lengthMm: number; readonly massG: number }
  | { readonly code: "cut-to-length"; readonly lengthMm: number; readonly keptG: number }
  | { readonly code: "cut-in-two"; readonly atMm: number }
  | { readonly code: "join-clear"; readonly clearMm: number }
  | { readonly code: "laps"; readonly leastBiteMm: number }
  | { readonly code: "centre-unworked"; readonly biteMm: number; readonly heightMm: number }
  | { readonly code: "corners-first" }
  | { readonly code: "punch-with-care"; readonly diameterMm: number }
  | { readonly code: "open-slowly" }
  | { readonly code: "mostly-side-work"; readonly sharePct: number }
  | { readonly code: "soft-skin"; readonly depthMm: number }
  | { readonly code: "mass-off"; readonly saidG: number; readonly sizesG: number }
  | { readonly code: "pipe-said-out" }
  | { readonly code: "pipe-still-in" }
  | { readonly code: "hold-by-rim" }
  | { readonly code: "true-rim-in"; readonly diameterMm: number }
  | { readonly code: "taken-as"; readonly shape: string }
  | { readonly code: "cut-surplus"; readonly lengthMm: number; readonly keptG: number }
  | { readonly code: "stand-on-rim" }
  | { readonly code: "pipe-up-flat" }
  | { readonly code: "pipe-side-is-spine" }
  | { readonly code: "pipe-side-is-face" }
  | { readonly code: "axis-along-bar" }
  | { readonly code: "hole-wall-is-spine" }
  | { readonly code: "hole-wall-is-face" }
  | { readonly code: "flat-then-edge" };

export type ReasonCode = Reason["code"];

const round = (value: number): number => Math.round(value * 10) / 10;
/** A percentage without its sign. */
const bare = (pct: number): string => formatPercent(pct).replace(/\s*%$/, "");
/** A depth that a ruler cannot show: µm, or thousandths of an inch. */
const fine = (mm: number, { length }: ChatUnits): string =>
  length === "inch" ? `${(mm / 25.4).toFixed(3)} in` : `${Math.round(mm * 100) * 10} µm`;

/** One short plain sentence, figures in the chat's units. */
export function reasonText(reason: Reason, units: ChatUnits = METRIC): string {
  const mm = (value: number) => formatLength(value, units);
  const g = (value: number) => formatMass(value, units);
  const c = (value: number) => formatTemperature(value, units);
  const kn = (value: number) => formatForce(value, units);
  switch (reason.code) {
    case "edge-from-sound-side":
      return "the sound bowl side becomes the cutting edge";
    case "usual-for-single-edge":
      return "the usual choice for a single edge";
    case "suits-double-edge":
      return "suits a double edge: both edges lie clear of the pipe";
    case "edge-in-pipe-zone":
      return "one of the two edges would lie in the pipe zone";
    case "pipe-cut-off-whole":
      return "the pipe end is cut off whole: the rest is sound";
    case "pipe-punched-out":
      return "the pipe is punched out whole";
    case "pipe-in-tangs":
      return `the doubtful middle, ${mm(reason.zoneMm)}, goes into the tangs`;
    case "pipe-past-tangs":
      return `doubtful middle ${mm(reason.zoneMm)}, the tangs hide ${mm(reason.roomMm)}`;
    case "one-blade-wanted":
      return "gives two blades, one was asked for";
    case "dense-pattern":
      return `widest side squeezed: ${Math.round(reason.cells)} cells, bands ${Math.round(reason.bandUm)} µm`;
    case "coarse-pattern":
      return `coarser pattern: ${Math.round(reason.cells)} cells, bands ${Math.round(reason.bandUm)} µm`;
    case "least-loss":
      return `loses the least: ${g(reason.lossG)}, ${formatPercent(reason.lossPct)}`;
    case "much-loss":
      return `loses ${g(reason.lossG)}, ${formatPercent(reason.lossPct)} of the ingot`;
    case "face-cracks-in-middle":
      return "pipe cracks show in the middle of the face";
    case "needs-handle":
      return "needs a handle welded on";
    case "handle-taken-as-possible":
      return "a handle must be welded on: say if you cannot";
    case "no-welder":
      return "needs a welded handle, and none can be welded here";
    case "needs-power":
      return `needs a press or a power hammer, about ${kn(reason.forceKn)}`;
    case "press-too-small":
      return `needs about ${kn(reason.forceKn)}, the press gives ${kn(reason.pressKn)}`;
    case "narrower-bite":
      return `in reach with a bite of ${mm(reason.biteMm)} at ${c(reason.tempC)}`;
    case "too-slender-on-edge":
      return `${round(reason.ratio)} to 1 on edge: it folds over ${round(reason.limit)}`;
    case "slender-on-edge":
      return `slender on edge (${round(reason.ratio)} to 1): light, straighten any lean`;
    case "too-slender-upright":
      return `${round(reason.ratio)} times as high as wide: buckles over ${round(reason.limit)}`;
    case "ring-too-thick":
      return `a wall of ${mm(reason.wallMm)} by ${mm(reason.heightMm)} cracks when opened`;
    case "many-steps":
      return "more steps than the others: punch, cut, open";
    case "short-of-steel":
      return `${g(reason.shortG)} short; the longest blade is ${mm(reason.largestMm)}`;
    case "steel-to-spare":
      return `${g(reason.spareG)} to spare: enough for ${mm(reason.largestMm)} of blade`;
    case "tight":
      return `tight: ${g(reason.spareG)} to spare, give or take ${g(reason.plusMinusG)}`;
    case "too-thin":
      return `too thin: ${mm(reason.thicknessMm)}, the blade needs ${mm(reason.neededMm)}`;
    case "too-narrow":
      return `too narrow: ${mm(reason.widthMm)}, the blade needs ${mm(reason.neededMm)}`;
    case "spread-it":
      return `it must spread: long bites of ${mm(reason.biteMm)}, or a cross peen`;
    case "void":
      return `${formatPercent(reason.voidPct)} ± ${bare(reason.plusMinusPct)} light: pores, or the height is ${mm(Math.abs(reason.heightErrorMm))} off`;
    case "heavier-than-shape":
      return `${formatPercent(reason.overPct)} ± ${bare(reason.plusMinusPct)} heavy: check sizes, height ${mm(Math.abs(reason.heightErrorMm))} off?`;
    case "first-heats-cool":
      return `first heats under ${c(reason.ceilingC)}: hot short above`;
    case "keep-under":
      return `never over ${c(reason.ceilingC)}`;
    case "start-over-ceiling":
      return `${c(reason.startC)} is too hot for this steel: planned at ${c(reason.ceilingC)}`;
    case "stop-at":
      return `${formatDuration(reason.workingS)} to work; back in the fire at ${c(reason.floorC)}`;
    case "short-heat":
      return `thin work: only ${formatDuration(reason.workingS)} a heat`;
    case "near-rating":
      return `${kn(reason.forceKn)}, press ${kn(reason.pressKn)}: narrower bites, its plate rules`;
    case "take-pipe-out":
      return `take the pipe out: groove ${mm(reason.depthMm)} deep, about ${g(reason.grooveG)}`;
    case "cut-off-pipe-end":
      return `cut ${mm(reason.lengthMm)} off the pipe end, about ${g(reason.massG)}`;
    case "cut-to-length":
      return `cut to ${mm(reason.lengthMm)} and keep ${g(reason.keptG)}`;
    case "cut-in-two":
      return `cut in two at ${mm(reason.atMm)}`;
    case "join-clear":
      return `keep ${mm(reason.clearMm)} before the blade free of doubtful steel`;
    case "laps":
      return `bites of at least ${mm(reason.leastBiteMm)}, or it laps`;
    case "centre-unworked":
      return `a bite of ${mm(reason.biteMm)} on ${mm(reason.heightMm)} leaves the middle unworked`;
    case "corners-first":
      return "knock the corners in before they get cold and crack";
    case "punch-with-care":
      return `punch ${mm(reason.diameterMm)} from both sides; stand clear of the slug`;
    case "open-slowly":
      return "open it hot, little by little: the inside stretches";
    case "mostly-side-work":
      return `${formatPercent(reason.sharePct)} of the work on narrow sides: strings, not sheets`;
    case "soft-skin":
      return `${fine(reason.depthMm, units)} of soft skin to grind off a side`;
    case "mass-off":
      return `weighed ${g(reason.saidG)}, sizes say ${g(reason.sizesG)}: weight used`;
    case "pipe-said-out":
      return "taken as done: the pipe zone is out";
    case "pipe-still-in":
      return "the pipe zone is still in the piece";
    case "hold-by-rim":
      return "hold it by the rim, pipe up, until it sits flat";
    case "true-rim-in":
      return `flatten, then true the rim in to ${mm(reason.diameterMm)}: it must stand`;
    case "taken-as":
      return `taken as a ${reason.shape}: say the shape if it is not`;
    case "cut-surplus":
      return `first cut ${mm(reason.lengthMm)} off the tang end, keep ${g(reason.keptG)}`;
    case "stand-on-rim":
      return "stand it on its rim, quarter turns; pipe side = spine";
    case "pipe-up-flat":
      return "flat on the anvil, pipe up: the pipe stays mid-face";
    case "pipe-side-is-spine":
      return "on edge: pipe side up, sound side down = cutting edge";
    case "pipe-side-is-face":
      return "pipe side always the same face: mark it";
    case "axis-along-bar":
      return "draw it along its height; handle on the sound end";
    case "hole-wall-is-spine":
      return "hole wall = spine, rim = cutting edge";
    case "hole-wall-is-face":
      return "high, thin ring: the hole wall becomes one face";
    case "flat-then-edge":
      return "squeeze flat, then on edge, so it does not run wide";
  }
}
