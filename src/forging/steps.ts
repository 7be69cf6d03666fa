/** The order of the stages of each route, and the stretch before the blade run from any of them. */
import type { IngotPiece } from "../shape/index.js";
import { bar, block, cutPipeEnd, flatten } from "./bar-stages.js";
import { blockSection, type Done, discOf, startBox } from "./chain.js";
import { type BladeSizes, bladeSizes, type Context } from "./context.js";
import type { RouteFrame, Work } from "./frame.js";
import { openRing, punch } from "./ring-stages.js";
import * as rule from "./rules-of-thumb.js";
import type { Route, StageName } from "./types.js";
import { NO_ZONE } from "./zone.js";

type Step = (frame: RouteFrame, work: Work) => Done;

const STEPS: Record<Route, readonly (readonly [StageName, Step])[]> = {
  spine: [
    ["flatten", flatten],
    ["block", block],
    ["bar", bar],
  ],
  face: [
    ["flatten", flatten],
    ["block", block],
    ["bar", bar],
  ],
  end: [
    ["block", block],
    ["bar", bar],
    ["cut", cutPipeEnd],
  ],
  ring: [
    ["flatten", flatten],
    ["punch", punch],
    ["open", openRing],
    ["bar", bar],
  ],
};

/** The stages of a route before the preform, in order. */
export const stagesBeforeBlade = (route: Route): readonly StageName[] =>
  STEPS[route].map(([name]) => name);

/** Runs the stages after `last` (all of them when it is undefined), as far as the bar that is ready to be cut. */
export function runToBar(frame: RouteFrame, start: Work, last?: StageName): Done[] {
  const steps = STEPS[frame.route];
  const first = last === undefined ? 0 : steps.findIndex(([name]) => name === last) + 1;
  const made: Done[] = [];
  let work = start;
  for (const [, step] of steps.slice(last !== undefined && first === 0 ? steps.length : first)) {
    const next = step(frame, work);
    made.push(next);
    work = next.work;
  }
  return made;
}

export const ingotWork = (context: Context): Work => ({
  massG: context.ingot.ingot.massG,
  piece: context.ingot.piece,
  zone: { ...NO_ZONE, place: "top" },
  pipeTaken: false,
});

/** The frame of a route: sizes aimed at and the zone's steel, all from the ingot, so that they do not move with the work. */
export function frameOf(
  context: Context,
  route: Route,
  split: boolean,
  sizes: BladeSizes,
): RouteFrame {
  const { ingot } = context.ingot;
  const piece: IngotPiece = context.ingot.piece;
  const disc = discOf(context, route, ingot.massG, piece);
  const volume = ingot.massG / context.densityGPerMm3;
  const coneShare = ingot.pipe.massG / ingot.massG;
  const topShare = context.ingot.pipeTopShare.likely;
  const coneMm3 = coneShare * volume;
  const zoneDepth = Math.max(topShare, 0.01) * disc.heightMm;
  const zoneShare = Math.min(
    0.95,
    Math.sqrt((12 * coneMm3) / (Math.PI * zoneDepth)) / disc.diameterMm,
  );
  const box = startBox(route, route === "end" ? piece : disc, volume);
  return {
    context,
    route,
    split,
    sizes,
    coneShare,
    grooveFactor: context.ingot.grooveOverZone.likely * (context.shop.learned?.pipeFactor ?? 1),
    topShare,
    disc,
    box,
    block: blockSection(box, sizes.bar),
    zoneShare,
    grooveShare: split ? grooveShareOfSplit(context, sizes, zoneShare) : 1,
  };
}

/** The same for a route that is not drawn yet. */
export const splitOutsideTangs = (context: Context, route: Route): number =>
  frameOf(context, route, true, bladeSizes(context.goal)).grooveShare;

/** Of a split bar: the share of the doubtful middle that the two tangs, clear of their joins, cannot hide. */
function grooveShareOfSplit(context: Context, sizes: BladeSizes, zoneShare: number): number {
  const { zoneG, roomG } = splitRoom(context, sizes, zoneShare);
  return zoneG <= 0 ? 0 : Math.max(0, 1 - roomG / zoneG);
}

/** Steel in the doubtful middle, and steel of both tangs less the length kept clear before the blades, g. */
export function splitRoom(context: Context, sizes: BladeSizes, zoneShare: number) {
  const blank = sizes.blank(0);
  const areaMm2 = blank.tangWidthMm * blank.tangThicknessMm;
  const lengthMm = Math.max(0, blank.tangLengthMm - rule.JOIN_CLEAR_MM);
  return {
    zoneG: zoneShare * context.ingot.ingot.massG,
    roomG: 2 * areaMm2 * lengthMm * context.densityGPerMm3,
  };
}
