/** What the planner has to say after a message: the next size, how to turn the piece, steel to spare. */
import type { Plan, Reason, RoutePlan, Stage, StagePiece } from "../forging/index.js";
import { reasonText } from "../forging/index.js";
import type { Decision, IngotState, ShopSettings } from "../logbook/index.js";
import {
  type ChatUnits,
  formatMass,
  formatPercent,
  formatSize,
  formatTemperature,
} from "../units/index.js";
import { crackLines } from "./crack-line.js";
import { RANK, type RankedLine } from "./lines.js";
import { heatsDone, lostSoFarG, planFor } from "./plan-for.js";
import { routeWords } from "./read-back.js";

export interface AdviceInput {
  readonly decision: Decision;
  readonly before: IngotState | undefined;
  readonly shop: ShopSettings;
  readonly units: ChatUnits;
}

const STEEL = new Set(["ingot", "goal", "route", "heat", "size", "crack", "removal", "switch"]);

/** Nothing unless the message touched steel, a take-back included. */
export function adviceLines(input: AdviceInput): RankedLine[] {
  const { decision, shop, units } = input;
  const { state } = decision;
  const touched =
    decision.undone.some(({ kind }) => STEEL.has(kind)) ||
    decision.entries.some(({ kind, fact }) => fact !== undefined && STEEL.has(kind));
  if (!touched || state === undefined) return [];
  if (state.finish !== undefined) return [];
  const plan = planFor(state, shop);
  if (plan === undefined) {
    return [{ rank: RANK.issue, text: "Size and weight? Say: 64 across 30 high 450 g" }];
  }
  if (plan.refused) return [{ rank: RANK.issue, text: plan.what }];
  const top = plan.routes[0];
  if (top === undefined) return [];
  return [
    ...temperatureDanger(decision, plan, units),
    ...crackLines(decision, state, plan, units),
    ...nextLines(state, top, units),
  ];
}

/** The next size alone and bold; how to turn it; what is to spare. */
export function nextLines(state: IngotState, route: RoutePlan, units: ChatUnits): RankedLine[] {
  const stage = route.stages[0];
  const lines: RankedLine[] = [];
  if (!route.fits && state.goal !== undefined) lines.push(tooSmall(route, units));
  if (stage !== undefined) {
    lines.push({ rank: RANK.next, text: nextText(stage, units), bold: true });
    lines.push({ rank: RANK.hold, text: holdText(state, route, stage, units) });
    const danger = stage.watch.find(isDanger);
    if (danger !== undefined) lines.push({ rank: RANK.danger, text: warning(danger, units) });
  }
  lines.push({ rank: RANK.spare, text: spareText(state, route, units) });
  return lines;
}

/** "Next: bar 18 × 38 × 210 mm". */
export const nextText = (stage: Stage, units: ChatUnits): string =>
  `Next: ${pieceWords(stage.cold, units)}`;

/** "disc Ø 78 × 20 mm", "bar 18 × 38 × 210 mm". */
export function pieceWords(piece: StagePiece, units: ChatUnits): string {
  switch (piece.shape) {
    case "disc":
      return `disc Ø ${formatSize([piece.diameterMm, piece.heightMm], units)}`;
    case "ring":
      return `ring Ø ${formatSize([piece.outerDiameterMm, piece.innerDiameterMm, piece.heightMm], units)}`;
    default:
      return `${piece.shape} ${formatSize([piece.thicknessMm, piece.widthMm, piece.lengthMm], units)}`;
  }
}

/** The route with its reason before the first blow, then how to turn the piece. */
function holdText(state: IngotState, route: RoutePlan, stage: Stage, units: ChatUnits): string {
  const first = state.heats.length === 0 && state.piece === undefined;
  const orient = sentence(reasonText(stage.orient, units));
  const why = route.why[0];
  return first && why !== undefined
    ? `${sentence(routeWords(route.route, route.split))}: ${reasonText(why, units)}. ${orient}`
    : orient;
}

const tooSmall = (route: RoutePlan, units: ChatUnits): RankedLine => ({
  rank: RANK.danger,
  text:
    route.largestBladeMm > 0
      ? `⚠ Does not fit: the longest blade now is ${formatSize([route.largestBladeMm], units)}`
      : "⚠ Does not fit: not enough steel for a blade of this width",
});

/** "To spare 85 g (60 to 110) · lost 12 g, 2.7 % · 6 to 9 heats". */
export function spareText(state: IngotState, route: RoutePlan, units: ChatUnits): string {
  const parts: string[] = [];
  const { likely, low, high } = route.spareG;
  if (state.goal !== undefined || likely > 0) {
    const short = likely < 0;
    const range = short
      ? `${formatMass(-high, units)} to ${formatMass(-low, units)}`
      : `${formatMass(low, units)} to ${formatMass(high, units)}`;
    parts.push(`${short ? "Short" : "To spare"} ${formatMass(Math.abs(likely), units)} (${range})`);
  }
  const lostG = lostSoFarG(state);
  const startG = state.facts.massG;
  if (lostG !== undefined && startG !== undefined && heatsDone(state) > 0) {
    parts.push(`lost ${formatMass(lostG, units)}, ${formatPercent((100 * lostG) / startG)}`);
  }
  const { heats } = route;
  if (heats.high > 0) parts.push(`${Math.round(heats.low)} to ${Math.round(heats.high)} heats`);
  return parts.join(" · ");
}

const DANGERS = new Set<Reason["code"]>([
  "near-rating",
  "press-too-small",
  "too-slender-on-edge",
  "slender-on-edge",
  "too-slender-upright",
]);
const isDanger = (reason: Reason): boolean => DANGERS.has(reason.code);
const warning = (reason: Reason, units: ChatUnits): string =>
  `⚠ ${sentence(reasonText(reason, units))}`;

/** A reported temperature outside the window of this steel. */
function temperatureDanger(decision: Decision, plan: Plan, units: ChatUnits): RankedLine[] {
  const said = decision.entries.flatMap(({ fact }) =>
    fact?.kind === "heat" && fact.operation !== "normalise" ? (fact.temperatureC ?? []) : [],
  );
  const { ceilingC, floorC } = plan.window;
  const hottest = Math.max(...said);
  const coldest = Math.min(...said);
  if (hottest > ceilingC) {
    return [
      {
        rank: RANK.danger,
        text: `⚠ ${formatTemperature(hottest, units)} is over ${formatTemperature(ceilingC, units)}: it can crumble. Let it cool first.`,
      },
    ];
  }
  if (coldest < floorC) {
    return [
      {
        rank: RANK.danger,
        text: `⚠ ${formatTemperature(coldest, units)} is under ${formatTemperature(floorC, units)}: reheat before the next blow.`,
      },
    ];
  }
  return [];
}

export const sentence = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
