/** What the planner has to say after a message: the next size, how to turn the piece, steel to spare. */
import type { NextSize, Plan, Reason, RoutePlan, Stage, StagePiece } from "../forging/index.js";
import { nextSize, reasonText } from "../forging/index.js";
import type { Decision, IngotState, ShopSettings } from "../logbook/index.js";
import {
  type ChatUnits,
  formatMass,
  formatPercent,
  formatSize,
  formatTemperature,
} from "../units/index.js";
import { crackLines } from "./crack-line.js";
import { gaveUp, givenUpText } from "./given-up-line.js";
import { RANK, type RankedLine } from "./lines.js";
import { heatsDone, lostSoFarG, planFor } from "./plan-for.js";
import { routeWords } from "./read-back.js";
import { askForBody, counted } from "./words.js";

export interface AdviceInput {
  readonly decision: Decision;
  readonly before: IngotState | undefined;
  readonly shop: ShopSettings;
  readonly units: ChatUnits;
}

const STEEL = new Set([
  "ingot",
  "goal",
  "route",
  "heat",
  "size",
  "crack",
  "removal",
  "switch",
  "finish",
]);

/** Nothing unless the message touched steel, a take-back included. */
export function adviceLines(input: AdviceInput): RankedLine[] {
  const { decision, shop, units } = input;
  const { state } = decision;
  const touched =
    decision.undone.some(({ fact, kind }) => STEEL.has(kind) || gaveUp(fact, state?.name ?? "")) ||
    decision.entries.some(({ kind, fact }) => fact !== undefined && STEEL.has(kind));
  if (!touched || state === undefined) return [];
  if (state.finish !== undefined) return finished(decision, state);
  if (state.givenUp !== undefined) {
    return decision.gaveUp === undefined ? [{ rank: RANK.issue, text: givenUpText(state) }] : [];
  }
  const plan = planFor(state, shop);
  if (plan === undefined) {
    return [{ rank: RANK.issue, text: askForBody(units) }];
  }
  if (plan.refused) return [{ rank: RANK.issue, text: plan.what }];
  const top = plan.routes[0];
  if (top === undefined) return [];
  return [
    ...temperatureDanger(decision, plan, units),
    ...bodyNotes(decision, plan, units),
    ...crackLines(decision, state, plan, units),
    ...nextLines(state, top, units, isNews(decision)),
  ];
}

/** Heats alone do not change how the piece is turned. */
const isNews = (decision: Decision): boolean =>
  decision.undone.length > 0 ||
  decision.entries.some(({ kind, fact }) => fact !== undefined && kind !== "heat");

/** The next size alone and bold; how to turn the piece, where that is news; what is to spare. */
export function nextLines(
  state: IngotState,
  route: RoutePlan,
  units: ChatUnits,
  turned = true,
): RankedLine[] {
  const stage = route.stages[0];
  const lines: RankedLine[] = [];
  if (!route.fits && state.goal !== undefined) lines.push(tooSmall(route, units));
  if (stage !== undefined) {
    const size = nextSize(route);
    lines.push({ rank: RANK.next, text: nextText(size, stage, units), bold: true });
    const first = stage.watch.find(({ code }) => isDue(code, size));
    if (first !== undefined) {
      lines.push({ rank: RANK.hold, text: sentence(reasonText(first, units)) });
    }
    if (turned) lines.push(...holdLines(state, route, stage, units));
    const danger = (size ?? stage).watch.find(isDanger);
    if (danger !== undefined) lines.push({ rank: RANK.danger, text: warning(danger, units) });
  }
  lines.push({ rank: RANK.spare, text: spareText(state, route, units) });
  return lines;
}

/** "Next: bar 18 × 38 × 210 mm": the size a few heats away, smallest side first. */
export function nextText(size: NextSize | undefined, stage: Stage, units: ChatUnits): string {
  const cold = size?.cold ?? stage.cold;
  return `Next: ${stageWords({ name: stage.name, cold: smallestFirst(cold) }, units)}`;
}

/** A piece as it is measured and told: smallest side first. */
export function smallestFirst(piece: StagePiece): StagePiece {
  if (piece.shape !== "block" && piece.shape !== "bar") return piece;
  const [thicknessMm = 0, widthMm = 0, lengthMm = 0] = [
    piece.thicknessMm,
    piece.widthMm,
    piece.lengthMm,
  ].sort((a, b) => a - b);
  return { shape: piece.shape, thicknessMm, widthMm, lengthMm };
}

/** What is cut before a size, and what is taken out when the stage's last size is reached. */
const BEFORE = new Set<Reason["code"]>(["cut-surplus", "cut-to-length", "punch-with-care"]);
const AT_LAST = new Set<Reason["code"]>(["take-pipe-out", "cut-off-pipe-end"]);
/** Sizes before the end of a stage from which what is done at its end is said: the smith may go on to the last at once. */
const NEARLY = 2;
const isDue = (code: Reason["code"], size: NextSize | undefined): boolean =>
  BEFORE.has(code) || ((size?.ofStage.sizes ?? 0) <= NEARLY && AT_LAST.has(code));

const STAGE_LABELS: Partial<Record<Stage["name"], string>> = {
  preform: "preform",
  cut: "cut bar",
  open: "opened bar",
};
/** "disc Ø 78 × 20 mm", "preform 4 × 18 × 179 mm". */
export function stageWords({ name, cold }: Pick<Stage, "name" | "cold">, units: ChatUnits): string {
  const words = pieceWords(cold, units);
  const label = STAGE_LABELS[name];
  return label === undefined ? words : words.replace(cold.shape, label);
}

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

/** Before the first blow the route with its reason; then how to turn and hold the piece. */
function holdLines(
  state: IngotState,
  route: RoutePlan,
  stage: Stage,
  units: ChatUnits,
): RankedLine[] {
  const first = state.heats.length === 0 && state.piece === undefined;
  const why = first ? route.why[0] : undefined;
  return [
    ...(why === undefined
      ? []
      : [
          {
            rank: RANK.aside,
            text: `${sentence(routeWords(route.route, route.split))}: ${reasonText(why, units)}`,
          },
        ]),
    { rank: RANK.hold, text: sentence(reasonText(stage.orient, units)) },
  ];
}

const tooSmall = (route: RoutePlan, units: ChatUnits): RankedLine => ({
  rank: RANK.danger,
  text:
    route.largestBladeMm > 0
      ? `⚠ Does not fit: the longest blade now is ${formatSize([route.largestBladeMm], units)}`
      : "⚠ Does not fit: not enough steel for a blade of this width",
});

/** "To spare 85 g, give or take 30 g · lost 12 g, 2.7 % · 6 to 9 heats". */
export function spareText(state: IngotState, route: RoutePlan, units: ChatUnits): string {
  const parts: string[] = [];
  const { likely, low, high } = route.spareG;
  if (state.goal !== undefined || likely > 0) {
    const spread = formatMass((high - low) / 2, units);
    const word = likely < 0 ? "Short" : "To spare";
    parts.push(`${word} ${formatMass(Math.abs(likely), units)}, give or take ${spread}`);
  }
  const lostG = lostSoFarG(state);
  const startG = state.facts.massG;
  if (lostG !== undefined && startG !== undefined && heatsDone(state) > 0) {
    // What was cut off and kept is not lost.
    const goneG = Math.max(0, lostG - route.keptSoFarG);
    parts.push(`lost ${formatMass(goneG, units)}, ${formatPercent((100 * goneG) / startG)}`);
  }
  const { heats } = route;
  if (heats.high > 0) parts.push(heatsWords(heats));
  return parts.join(" · ");
}

/** "6 to 9 heats", "1 heat". */
function heatsWords({ low, high }: RoutePlan["heats"]): string {
  const [least, most] = [Math.max(1, Math.round(low)), Math.max(1, Math.round(high))];
  return least === most ? counted(most, "heat") : `${least} to ${most} heats`;
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

/** What weight and sizes say of each other, when either was just told. */
function bodyNotes(decision: Decision, plan: Plan, units: ChatUnits): RankedLine[] {
  const kinds = new Set(decision.entries.map(({ kind }) => kind));
  const codes: readonly Reason["code"][] = [
    ...(kinds.has("ingot") ? (["void", "heavier-than-shape", "taken-as"] as const) : []),
    ...(kinds.has("size") ? (["mass-off"] as const) : []),
  ];
  return plan.notes
    .filter(({ code }) => codes.includes(code))
    .map((note) => ({ rank: RANK.verdict, text: sentence(reasonText(note, units)) }));
}

/** What the ingot gave, once the blade is done. */
function finished(decision: Decision, state: IngotState): RankedLine[] {
  const done = state.finish?.value.massG;
  const startG = state.facts.massG;
  if (!decision.entries.some(({ kind }) => kind === "finish")) return [];
  const parts = [
    done !== undefined && startG !== undefined
      ? `${formatPercent((100 * done) / startG)} of the ingot`
      : undefined,
    counted(heatsDone(state), "heat"),
    counted(state.cracks.length, "crack"),
  ].filter((part) => part !== undefined);
  return [
    { rank: RANK.next, text: `Ingot ${state.name} is done: ${parts.join(" · ")}`, bold: true },
    { rank: RANK.aside, text: "Say summary for the whole of it." },
  ];
}

/** A reported temperature outside the window of this steel. */
function temperatureDanger(decision: Decision, plan: Plan, units: ChatUnits): RankedLine[] {
  const inHand = decision.state === undefined ? 0 : heatsDone(decision.state);
  const said = decision.entries.flatMap(({ fact }) => {
    if (fact?.kind !== "heat" || fact.operation === "normalise") return [];
    // A heat that is past cannot be cooled any more.
    return (fact.number ?? inHand) < inHand ? [] : (fact.temperatureC ?? []);
  });
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
