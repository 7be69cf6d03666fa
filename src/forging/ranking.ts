/** Which route comes first, and why: edge, yield, pattern, risk, and what this shop can do. */
import type { Reason } from "./reasons.js";
import type { Draft } from "./route-plan.js";
import * as rule from "./rules-of-thumb.js";
import { splitRoom } from "./steps.js";
import type { Route, RoutePlan } from "./types.js";

/** Points for a route by edge. Common practice: spine for a single edge, face for a double one. */
const SUITS: Record<"single" | "double", Record<Route, number>> = {
  single: { spine: 16, ring: 6, end: 5, face: 0 },
  double: { face: 16, end: 9, ring: 5, spine: -6 },
};
/** Points off for what can go wrong on the way. Common practice. */
const RISK: Record<Route, number> = { spine: 1, face: 3, end: 6, ring: 9 };
const YIELD_POINTS = 40;
const PATTERN_POINTS = 4;
const ONE_WANTED = -12;
const TWO_WANTED = 6;
/** Loss from which it counts against a route, share of the ingot. */
const MUCH_LOSS = 0.4;

interface Judged {
  readonly draft: Draft;
  readonly feasible: boolean;
  readonly why: Reason[];
  readonly against: Reason[];
  readonly score: number;
}

/** Orders the routes: first those that can be done and fit, then by points. */
export function ranked(drafts: readonly Draft[]): RoutePlan[] {
  const cells = drafts.map(({ plan }) => plan.pattern.cellsThickness);
  const most = Math.max(...cells);
  const least = Math.min(...cells);
  const leastLoss = Math.min(...drafts.map(({ lossShare }) => lossShare));
  const judged = drafts.map((draft) => judge(draft, { most, least, leastLoss }));
  const order = (j: Judged) => (j.feasible ? (j.draft.plan.fits ? 0 : 1) : 2);
  return judged
    .sort((a, b) => order(a) - order(b) || b.score - a.score)
    .map(({ draft, feasible, why, against }, index) => ({
      ...draft.plan,
      rank: index + 1,
      feasible,
      why,
      against,
    }));
}

function judge(draft: Draft, all: { most: number; least: number; leastLoss: number }): Judged {
  const { plan, frame } = draft;
  const { context, route, split } = frame;
  const { goal, shop } = context;
  const why: Reason[] = [];
  const against: Reason[] = [...draft.reached];
  const single = goal.edge === "single";
  if (route === "spine" && single)
    why.push({ code: "edge-from-sound-side" }, { code: "usual-for-single-edge" });
  if (route === "spine" && !single) against.push({ code: "edge-in-pipe-zone" });
  if (route === "face" && !single) why.push({ code: "suits-double-edge" });
  if (route === "end") why.push({ code: "pipe-cut-off-whole" });
  if (route === "ring") why.push({ code: "pipe-punched-out" });

  const { bandThicknessUm: bandUm, cellsThickness } = plan.pattern;
  if (all.most > all.least * 1.15) {
    if (cellsThickness > all.most * 0.97)
      why.push({ code: "dense-pattern", cells: cellsThickness, bandUm });
    if (cellsThickness < all.least * 1.03)
      against.push({ code: "coarse-pattern", cells: cellsThickness, bandUm });
  }
  const { loss } = plan;
  const lossG = loss.pipeG + loss.scaleG + loss.trimG + loss.grindG;
  const lossPct = draft.lossShare * 100;
  if (draft.lossShare <= all.leastLoss + 1e-9 && draft.lossShare < MUCH_LOSS)
    why.push({ code: "least-loss", lossG, lossPct });
  if (draft.lossShare > MUCH_LOSS) against.push({ code: "much-loss", lossG, lossPct });
  if (route === "face") against.push({ code: "face-cracks-in-middle" });
  if (split) splitReasons(draft, why, against);
  if (route === "ring") against.push({ code: "many-steps" });
  if (plan.pattern.sideWorkShare > 0.5) {
    against.push({ code: "mostly-side-work", sharePct: plan.pattern.sideWorkShare * 100 });
  }
  const blockers = blockersOf(draft);
  against.push(...cautions(draft));
  against.unshift(...blockers);
  const plusMinusG = plan.spareG.likely - plan.spareG.low;
  if (!plan.fits) {
    against.unshift({
      code: "short-of-steel",
      shortG: Math.max(0, plan.ingotShouldHaveWeighedG - context.ingot.ingot.massG),
      largestMm: plan.largestBladeMm,
    });
  } else if (plan.spareG.low > 0)
    why.push({
      code: "steel-to-spare",
      spareG: plan.spareG.likely,
      largestMm: plan.largestBladeMm,
    });
  else against.push({ code: "tight", spareG: plan.spareG.likely, plusMinusG });

  const splitPoints = split ? (context.wantedCount === 2 ? TWO_WANTED : ONE_WANTED) : 0;
  const score =
    YIELD_POINTS * (1 - draft.lossShare) +
    SUITS[goal.edge][route] -
    RISK[route] +
    PATTERN_POINTS * Math.log(Math.max(1e-6, cellsThickness / all.least)) +
    splitPoints -
    (route === "end" && shop.welder === undefined ? 3 : 0);
  return { draft, feasible: blockers.length === 0, why, against, score };
}

function splitReasons(draft: Draft, why: Reason[], against: Reason[]): void {
  const { frame } = draft;
  const { zoneG, roomG } = splitRoom(frame.context, frame.sizes, frame.zoneShare);
  const { widthMm, thicknessMm } = frame.sizes.preform;
  const perMm = widthMm * thicknessMm * frame.context.densityGPerMm3;
  const zoneMm = zoneG / perMm;
  if (zoneG <= roomG) why.push({ code: "pipe-in-tangs", zoneMm });
  else against.push({ code: "pipe-past-tangs", zoneMm, roomMm: roomG / perMm });
  if (frame.context.wantedCount !== 2) against.push({ code: "one-blade-wanted" });
}

/** What this shop cannot do. */
function blockersOf(draft: Draft): Reason[] {
  const { frame, dones, plan } = draft;
  const { shop, tool } = frame.context;
  const blockers: Reason[] = [];
  const ahead = new Set(plan.stages.map(({ name }) => name));
  if (frame.route === "end" && (ahead.has("block") || ahead.has("bar"))) {
    if (shop.welder === false) blockers.push({ code: "no-welder" });
    const forceKn = plan.stages[0]?.forceKn ?? 0;
    if (shop.handHammer && tool === "hand-hammer") blockers.push({ code: "needs-power", forceKn });
  }
  const small = dones.find(({ outOfReach }) => outOfReach);
  if (small && shop.pressKn) {
    blockers.push({ code: "press-too-small", forceKn: small.stage.forceKn, pressKn: shop.pressKn });
  }
  const ratio = edgeRatio(draft);
  if (ratio > rule.EDGE_LIMIT_RATIO) {
    blockers.push({ code: "too-slender-on-edge", ratio, limit: rule.EDGE_LIMIT_RATIO });
  }
  const upright = uprightRatio(draft);
  if (upright > rule.UPRIGHT_LIMIT_RATIO) {
    blockers.push({ code: "too-slender-upright", ratio: upright, limit: rule.UPRIGHT_LIMIT_RATIO });
  }
  const ring = plan.stages.find(({ name }) => name === "punch")?.cold;
  if (ring?.shape === "ring") {
    const wallMm = (ring.outerDiameterMm - ring.innerDiameterMm) / 2;
    if (wallMm / ring.innerDiameterMm > rule.RING_WALL_LIMIT) {
      blockers.push({ code: "ring-too-thick", wallMm, heightMm: ring.heightMm });
    }
  }
  return blockers;
}

/** A disc to be stood on its rim: diameter over height. */
function edgeRatio({ frame, plan }: Draft): number {
  if (frame.route !== "spine" || !plan.stages.some(({ name }) => name === "block")) return 0;
  const disc = plan.stages.find(({ name }) => name === "flatten")?.cold;
  return disc?.shape === "disc" ? disc.diameterMm / disc.heightMm : 0;
}

/** An ingot to be flattened from its height: height over width. */
function uprightRatio({ frame, plan }: Draft): number {
  if (!plan.stages.some(({ name }) => name === "flatten")) return 0;
  const { heightMm, diameterMm } = frame.context.ingot.ingot;
  return heightMm / diameterMm;
}

function cautions(draft: Draft): Reason[] {
  const { frame } = draft;
  const { shop } = frame.context;
  const list: Reason[] = [];
  if (frame.route === "end") {
    list.push({ code: "needs-handle" });
    if (shop.welder === undefined) list.push({ code: "handle-taken-as-possible" });
    if (!shop.pressKn && !shop.hammerKg && !shop.handHammer) {
      list.push({ code: "needs-power", forceKn: draft.plan.stages[0]?.forceKn ?? 0 });
    }
  }
  const ratio = edgeRatio(draft);
  if (ratio > rule.EDGE_CARE_RATIO && ratio <= rule.EDGE_LIMIT_RATIO) {
    list.push({ code: "slender-on-edge", ratio });
  }
  return list;
}
