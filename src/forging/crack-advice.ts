/** A crack against the pipe zone and the budget: what it becomes if it is left, what taking it out costs. */
import { isIngotPiece, type Piece } from "../shape/index.js";
import { densityGPerMm3 } from "../steel/index.js";
import * as rule from "./rules-of-thumb.js";
import type { Crack, CrackPlace, PipeZone, Plan, RoutePlan, StagePiece } from "./types.js";

export type CrackVerdict = "take-out" | "carry-to-tang" | "carry-to-cut-end" | "stop" | "watch";
export type CheckFirst = "temperature" | "cold-shut" | "bite" | "pipe";

export interface CrackAdvice {
  /** Undefined: where it lies was not said well enough. */
  readonly inPipeZone: boolean | undefined;
  /** As told, or the usual of its severity when not. */
  readonly nowLengthMm: number;
  readonly nowDepthMm: number;
  readonly guessed: boolean;
  /** If it is left: drawn out with the steel by the next stage, and by the last one before the blade. */
  readonly nextLengthMm: number;
  readonly nextDepthMm: number;
  readonly barLengthMm: number;
  readonly barDepthMm: number;
  readonly grooveDepthMm: number;
  readonly grooveLengthMm: number;
  readonly grooveG: number;
  /** Of the side that it goes into, after the groove. */
  readonly sectionLeftMm: number;
  readonly sectionNeededMm: number;
  readonly spareAfterG: number;
  readonly verdict: CrackVerdict;
  readonly checkFirst: CheckFirst | undefined;
}

/** Depth and length of a crack of which only the severity was said, mm. Common practice, no source. */
const BY_SEVERITY = {
  hairline: { depthMm: 0.5, lengthMm: 5 },
  small: { depthMm: 1.5, lengthMm: 10 },
  large: { depthMm: 4, lengthMm: 25 },
} as const;
/** Ground past the end of a crack, mm. 0.3 to 1. Common practice. */
const PAST_THE_TIP_MM = 0.5;
/** A crack that is worked on runs deeper than the steel alone draws it. 1 to 1.5. Common practice. */
const TEARS = 1.25;
/** Width of a groove that can be forged shut-free over its depth: slopes of one to two. 3 to 6. Common practice. */
const GROOVE_WIDTH_OVER_DEPTH = 4;
/** Error of a position given by eye, mm and share of the piece. */
const POSITION_ERROR_MM = 5;
/** Depth over the section that a tang may carry. Common practice, 0.1 to 0.2. */
const TANG_MAY_CARRY = 0.15;
/** Depth over the section from which taking it out leaves no bar. Common practice, 0.5 to 0.6. */
const TOO_DEEP = 0.55;

export interface CrackQuestion {
  readonly crack: Crack;
  readonly plan: Plan;
  readonly route: RoutePlan | undefined;
  /** On the anvil now; not given: the ingot. */
  readonly piece?: Piece;
  readonly meanTempC?: number;
}

/** What the numbers say of a crack; the last word is the smith's. Undefined without a route. */
export function crackAdvice(question: CrackQuestion): CrackAdvice | undefined {
  const { crack, plan, route } = question;
  if (route === undefined) return undefined;
  const piece = question.piece ?? ingotPiece(plan);
  const usual = BY_SEVERITY[crack.severity ?? "small"];
  const nowDepthMm = crack.depthMm ?? usual.depthMm;
  const nowLengthMm = crack.lengthMm ?? Math.max(usual.lengthMm, 3 * nowDepthMm);
  const guessed = crack.depthMm === undefined || crack.lengthMm === undefined;
  const side = sideOf(crack.place);
  const now = sidesOf(piece, route);
  const next = stageSides(route.stages[0]?.cold) ?? now;
  const last = stageSides(barOf(route)) ?? next;
  const grown = (to: Sides) => ({
    lengthMm: nowLengthMm * Math.max(1, to.length / now.length),
    depthMm: Math.min(to[side], nowDepthMm * (to[side] / now[side]) * TEARS),
  });
  const nextCrack = grown(next);
  const barCrack = grown(last);

  const grooveDepthMm = Math.min(now[side], nowDepthMm + PAST_THE_TIP_MM);
  const grooveLengthMm = Math.min(
    now.length,
    nowLengthMm + GROOVE_WIDTH_OVER_DEPTH * grooveDepthMm,
  );
  const grooveMm3 =
    ((grooveDepthMm ** 2 * GROOVE_WIDTH_OVER_DEPTH) / 2) * ((grooveLengthMm + nowLengthMm) / 2);
  const grooveG = grooveMm3 * densityGPerMm3(plan.ingot.carbonPct);
  const sectionLeftMm = now[side] - grooveDepthMm;
  const sectionNeededMm = Math.min(now[side], neededSide(plan, side));
  const spareAfterG = route.spareG.likely - grooveG;
  const inPipeZone = inside(crack, route.pipeNow, now);
  const verdict = verdictOf({
    crack,
    route,
    plan,
    now,
    side,
    nowDepthMm,
    inPipeZone,
    sectionLeftMm,
    sectionNeededMm,
    grooveG,
    spareAfterG,
  });
  return {
    inPipeZone,
    nowLengthMm,
    nowDepthMm,
    guessed,
    nextLengthMm: nextCrack.lengthMm,
    nextDepthMm: nextCrack.depthMm,
    barLengthMm: barCrack.lengthMm,
    barDepthMm: barCrack.depthMm,
    grooveDepthMm,
    grooveLengthMm,
    grooveG,
    sectionLeftMm,
    sectionNeededMm,
    spareAfterG,
    verdict,
    checkFirst: checkFirst(question, inPipeZone),
  };
}

type Side = "thickness" | "width" | "length";
type Sides = Readonly<Record<Side, number>>;

const ingotPiece = ({ ingot }: Plan): Piece => ({
  shape: ingot.shape,
  diameterMm: ingot.diameterMm,
  heightMm: ingot.heightMm,
});

/** The side that a crack at a place goes into. */
function sideOf(place: CrackPlace | undefined): Side {
  switch (place) {
    case "spine":
    case "edge":
    case "rim":
      return "width";
    case "end":
    case "tip":
    case "tang":
      return "length";
    default:
      return "thickness";
  }
}

function sidesOf(piece: Piece, route: RoutePlan): Sides {
  if ("thicknessMm" in piece) {
    return { thickness: piece.thicknessMm, width: piece.widthMm, length: piece.lengthMm };
  }
  if (piece.shape === "ring") {
    const wall = (piece.outerDiameterMm - piece.innerDiameterMm) / 2;
    return { thickness: piece.heightMm, width: wall, length: piece.outerDiameterMm };
  }
  return isIngotPiece(piece) && route.route === "end"
    ? { thickness: piece.diameterMm, width: piece.diameterMm, length: piece.heightMm }
    : { thickness: piece.heightMm, width: piece.diameterMm, length: piece.diameterMm };
}

function stageSides(piece: StagePiece | undefined): Sides | undefined {
  if (piece === undefined) return undefined;
  switch (piece.shape) {
    case "disc":
      return { thickness: piece.heightMm, width: piece.diameterMm, length: piece.diameterMm };
    case "ring": {
      const wall = (piece.outerDiameterMm - piece.innerDiameterMm) / 2;
      return { thickness: piece.heightMm, width: wall, length: piece.outerDiameterMm };
    }
    default:
      return { thickness: piece.thicknessMm, width: piece.widthMm, length: piece.lengthMm };
  }
}

const barOf = (route: RoutePlan): StagePiece | undefined =>
  [...route.stages].reverse().find(({ name }) => name === "preform" || name === "bar")?.cold;

/** What the blade needs of a side. */
const neededSide = ({ goal }: Plan, side: Side): number =>
  side === "thickness" ? goal.thicknessMm : side === "width" ? goal.widthMm / 2 : goal.lengthMm / 2;

const PLACES: Record<PipeZone["place"], readonly CrackPlace[]> = {
  top: ["top", "face"],
  spine: ["spine", "top"],
  face: ["face", "top"],
  end: ["end", "top"],
  tang: ["tang"],
  out: [],
};

/** Whether a crack lies in the pipe zone: by place, and along the piece when its position was said. */
function inside(crack: Crack, zone: PipeZone, now: Sides): boolean | undefined {
  if (zone.place === "out") return false;
  const { place, positionMm } = crack;
  if (place !== undefined && !PLACES[zone.place].includes(place)) return false;
  if (positionMm !== undefined) {
    const half = (crack.lengthMm ?? 0) / 2 + POSITION_ERROR_MM;
    return positionMm + half >= zone.fromMm && positionMm - half <= zone.toMm
      ? place === undefined && zone.place !== "end"
        ? undefined
        : true
      : false;
  }
  if (place === undefined) return undefined;
  // Without a position it is in the zone if the zone takes most of that side.
  return zone.place === "end" || (zone.toMm - zone.fromMm) / now.length > 0.6 ? true : undefined;
}

function verdictOf(facts: {
  readonly crack: Crack;
  readonly route: RoutePlan;
  readonly plan: Plan;
  readonly now: Sides;
  readonly side: Side;
  readonly nowDepthMm: number;
  readonly inPipeZone: boolean | undefined;
  readonly sectionLeftMm: number;
  readonly sectionNeededMm: number;
  readonly grooveG: number;
  readonly spareAfterG: number;
}): CrackVerdict {
  const { crack, route, plan, now, side, nowDepthMm } = facts;
  const ahead = route.stages.map(({ name }) => name);
  if (ahead.includes("cut") && facts.inPipeZone) return "carry-to-cut-end";
  const removesHere = route.stages[0]?.losses.pipeG ?? 0;
  if (facts.inPipeZone && removesHere === 0 && ahead.includes("flatten")) return "watch";
  const atEnd = crack.place === "end" || crack.place === "tip";
  if (atEnd && ahead.includes("preform")) {
    const trimmed = rule.TRIM_OF_WIDTH.likely * now.width;
    const kept = route.stages
      .filter(({ name }) => name === "bar" || name === "preform")
      .reduce((sum, { losses }) => sum + losses.keptG, 0);
    const keptMm = (kept / Math.max(1e-6, route.stages[0]?.massG ?? 1)) * now.length;
    if (nowDepthMm <= trimmed + keptMm) return "carry-to-cut-end";
  }
  const depthShare = nowDepthMm / now[side];
  if (inTang(crack, route, plan, now) && depthShare <= TANG_MAY_CARRY) return "carry-to-tang";
  const tooLittle = facts.sectionLeftMm < facts.sectionNeededMm * (1 - 1e-9);
  if (depthShare > TOO_DEEP || tooLittle) return "stop";
  if (facts.spareAfterG < Math.min(0, route.spareG.low) - facts.grooveG) return "stop";
  return "take-out";
}

/** In the stretch that becomes the tang, clear of its join with the blade. */
function inTang(crack: Crack, route: RoutePlan, plan: Plan, now: Sides): boolean {
  const { goal } = plan;
  if (goal.tangLengthMm <= rule.JOIN_CLEAR_MM) return false;
  if (crack.place === "tang") return true;
  const bladeStage = route.stages.find(({ name }) => name === "blade");
  if (crack.positionMm === undefined || bladeStage === undefined) return false;
  const tangMm3 =
    (goal.tangLengthMm - rule.JOIN_CLEAR_MM) * goal.tangWidthMm * goal.tangThicknessMm;
  const tangMm = tangMm3 / (now.thickness * now.width);
  return crack.positionMm + (crack.lengthMm ?? 0) / 2 <= tangMm;
}

/** Outside the pipe zone a crack has another cause: which to look at first. */
function checkFirst(
  { crack, plan, meanTempC, piece }: CrackQuestion,
  inPipeZone: boolean | undefined,
): CheckFirst | undefined {
  if (inPipeZone) return "pipe";
  const { ceilingC, floorC } = plan.window;
  if (meanTempC !== undefined && (meanTempC > ceilingC || meanTempC < floorC)) return "temperature";
  if (inPipeZone === undefined) return undefined;
  switch (crack.place) {
    case "rim":
    case "edge":
    case "spine":
      return "bite";
    case "end":
    case "tip":
      return "temperature";
    case "face":
    case "bottom":
      return piece?.shape === "bar" || piece?.shape === "block" ? "cold-shut" : "temperature";
    default:
      return "temperature";
  }
}
