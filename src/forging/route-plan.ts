/** One route from the piece as it is to the blade: stages, budget, pattern, and what stands against it. */

import { type BarPiece, isIngotPiece } from "../shape/index.js";
import { bar } from "./bar-stages.js";
import {
  fireSwing,
  heatsSpread,
  neededRange,
  spareRange,
  sumLosses,
  usableRange,
} from "./budget.js";
import { type Done, zoneSides } from "./chain.js";
import { type BladeSizes, bladeSizes, type Context, finishedG } from "./context.js";
import { blade, bladeNeeds, longestBladeMm, preform, trimG } from "./finish.js";
import type { RouteFrame, Work } from "./frame.js";
import { patternOf } from "./pattern.js";
import type { Reason } from "./reasons.js";
import { type Standing, standingOf } from "./resume.js";
import * as rule from "./rules-of-thumb.js";
import { schedule } from "./spread.js";
import { frameOf, ingotWork, runToBar } from "./steps.js";
import type {
  BladeGoal,
  Losses,
  PipeZone,
  Route,
  RoutePlan,
  StageLosses,
  WorkState,
} from "./types.js";
import { zoneOn } from "./zone.js";

export interface Draft {
  readonly frame: RouteFrame;
  readonly plan: Omit<RoutePlan, "rank" | "why" | "against" | "feasible">;
  readonly dones: readonly Done[];
  readonly lossShare: number;
  readonly reached: readonly Reason[];
  readonly notes: readonly Reason[];
}

/** Steel that a plan may be short of and still be said to fit: rounding. */
const FIT_TOLERANCE = 0.002;

export function draftRoute(context: Context, route: Route, split: boolean, now?: WorkState): Draft {
  const sizes = bladeSizes(context.goal);
  const frame = frameOf(context, route, split, sizes);
  const nominal = now && hasShape(now) ? wholeRun(frame, sizes) : [];
  const standing = standingOf(frame, nominal, now);
  return finishDraft(frame, standing, nominal);
}

const hasShape = ({ piece }: WorkState): boolean => !isIngotPiece(piece);

/** The run from the ingot as it was planned, to compare a piece with. */
function wholeRun(frame: RouteFrame, sizes: BladeSizes): Done[] {
  const start = ingotWork(frame.context);
  const toBar = withoutSurplus(frame, sizes, runToBar(frame, start), start);
  const work = toBar.at(-1)?.work;
  if (work === undefined) return toBar;
  const trim = trimG(frame, work);
  const { count, lengthMm } = frame.context.goal;
  const from = sectionOf(work);
  const longest = longestBladeMm(bladeNeeds(frame, sizes, from), work.massG - trim, count);
  const length = Math.min(lengthMm, longest);
  return length > 0 ? [...toBar, preform(frame, work, sizes, length, trim)] : toBar;
}

/** The run with its surplus cut off the block instead of drawn to bar; the end route cuts its pipe end off the bar itself. */
function withoutSurplus(frame: RouteFrame, sizes: BladeSizes, toBar: Done[], start: Work): Done[] {
  const last = toBar.at(-1);
  if (last?.stage.name !== "bar") return toBar;
  const { count, lengthMm } = frame.context.goal;
  const needG = bladeNeeds(frame, sizes, sectionOf(last.work))(lengthMm).cutG * count;
  const before = toBar.at(-2)?.work ?? start;
  const least = Math.max(rule.SURPLUS_AT_LEAST_G, rule.SURPLUS_SHARE * before.massG);
  const { thicknessMm, widthMm } = sectionOf(before);
  const stubMm3 = rule.SHORTEST_OVER_WIDTH * widthMm ** 2 * thicknessMm;
  const stubG = stubMm3 * frame.context.densityGPerMm3;
  const overG = ({ work }: Done) =>
    work.massG - trimG(frame, work) - needG * (1 + rule.RESERVE_SHARE);
  let made = last;
  let surplusG = 0;
  // A shorter bar loses another share to the fire: cut, look what is left over, cut again by that.
  for (let round = 0; round < MOST_ROUNDS; round++) {
    surplusG += (overG(made) / made.work.massG) * (before.massG - surplusG);
    surplusG = Math.min(surplusG, before.massG - stubG);
    if (surplusG < least) return toBar;
    made = bar(frame, before, surplusG);
    if (Math.abs(overG(made)) < CUT_TOLERANCE * needG) break;
  }
  return overG(made) < -CUT_TOLERANCE * needG ? toBar : [...toBar.slice(0, -1), made];
}
const MOST_ROUNDS = 4;
/** How near the reserve the cut must come, share of the need. */
const CUT_TOLERANCE = 0.05;

const sectionOf = (work: Work) => {
  const piece = work.piece as BarPiece;
  return { thicknessMm: piece.thicknessMm, widthMm: piece.widthMm };
};

function finishDraft(frame: RouteFrame, standing: Standing, nominal: readonly Done[]): Draft {
  const { context } = frame;
  const { goal } = context;
  const isPreform = standing.last === "preform";
  const whole = isPreform ? [] : runToBar(frame, standing.work, standing.last);
  const work = whole.at(-1)?.work ?? standing.work;
  const section = sectionOf(work);
  const { goal: within, reasons } = withinReach(frame, section, goal, isPreform);
  const asPlanned = within === goal;
  const sizes = asPlanned ? frame.sizes : bladeSizes(within);
  const begun = cutAlready(standing, nominal);
  const trim = isPreform || begun.trimG > 0 ? 0 : trimG(frame, work);
  const from = isPreform ? sizes.preform : section;
  const available = work.massG - trim;
  const needs = bladeNeeds(frame, sizes, from);
  const longest = longestBladeMm(needs, available, goal.count);
  const need = needs(goal.lengthMm);
  const enough = available - need.cutG * goal.count >= -FIT_TOLERANCE * work.massG;
  const lengthMm = enough ? goal.lengthMm : longest;
  const toBar = enough && asPlanned ? withoutSurplus(frame, sizes, whole, standing.work) : whole;
  const made: Done[] = [...toBar];
  if (lengthMm > 0) {
    const ready = made.at(-1)?.work ?? work;
    const ends = trim > 0 ? trimG(frame, ready) : 0;
    if (!isPreform) made.push(preform(frame, ready, sizes, lengthMm, ends));
    made.push(blade(frame, made.at(-1)?.work ?? ready, sizes, lengthMm));
  }
  const ahead = sumLosses(made.map(({ stage }) => stage.losses));
  const past = pastLosses(context.ingot.ingot.massG - standing.work.massG, standing, nominal);
  const usableG = standing.work.massG - ahead.pipeG - ahead.scaleG - ahead.trimG - ahead.grindG;
  const neededG = finishedG(context, frame.sizes, goal.lengthMm) * goal.count;
  const usable = usableRange(frame, usableG, ahead, standing.massRangeG, standing.work.massG);
  const needed = neededRange(neededG);
  const loss: Losses = {
    pipeG: past.pipeG + ahead.pipeG,
    scaleG: past.scaleG + ahead.scaleG,
    trimG: past.trimG + ahead.trimG,
    grindG: ahead.grindG,
  };
  const ingotG = context.ingot.ingot.massG;
  const heats = made.reduce((sum, { rawHeats }) => sum + rawHeats, 0);
  const spread = heatsSpread(context);
  const fire = fireSwing(context);
  const perHeatG = heats > 0 ? ahead.scaleG / heats : 0;
  const strains = made.reduce(
    (sum, { strains: s }) => ({
      thickness: sum.thickness + s.thickness,
      width: sum.width + s.width,
    }),
    { thickness: 0, width: 0 },
  );
  const lossG = loss.pipeG + loss.scaleG + loss.trimG + loss.grindG;
  const barPiece = [...toBar].reverse().find(({ stage }) => stage.name === "bar") ?? toBar.at(-1);
  return {
    frame,
    dones: made,
    lossShare: lossG / ingotG,
    reached: reasons,
    notes: standing.notes,
    plan: {
      route: frame.route,
      split: frame.split,
      fits: enough && asPlanned,
      neededG: needed,
      usableG: usable,
      spareG: spareRange(usable, needed),
      largestBladeMm: longest,
      reachable: { lengthMm: longest, widthMm: within.widthMm, thicknessMm: within.thicknessMm },
      ingotShouldHaveWeighedG: (ingotG * need.cutG * goal.count) / Math.max(available, 1e-6),
      loss,
      keptSoFarG: past.keptG,
      heats: {
        low: Math.max(1, Math.floor(heats * spread.low)),
        likely: Math.max(1, Math.round(heats)),
        high: Math.max(1, Math.ceil(heats * spread.high)),
      },
      lossPerHeatG: {
        low: perHeatG * (1 - fire.less),
        likely: perHeatG,
        high: perHeatG * (1 + fire.more),
      },
      pattern: patternOf(
        frame,
        sizes,
        (need.finishedG * goal.count) / Math.max(work.massG, 1),
        strains,
      ),
      pipeNow: pipeNow(frame, standing.work),
      pipeLies: barPiece?.stage.pipeLies ?? pipeNow(frame, standing.work),
      stages: made.map(({ stage }) => stage),
    },
  };
}

/** The zone on the piece that lies there now; on an ingot, across its top. */
function pipeNow(frame: RouteFrame, work: Work): PipeZone {
  const { piece, zone } = work;
  if (piece.shape === "disc" || isIngotPiece(piece)) {
    const { pipe, heightMm } = frame.context.ingot.ingot;
    const wide = isIngotPiece(piece) ? pipe.diameterMm / piece.diameterMm : frame.zoneShare;
    const depthMm = (pipe.depthMm / heightMm) * piece.heightMm;
    return {
      place: "top",
      fromMm: piece.diameterMm * (0.5 - wide / 2),
      toMm: piece.diameterMm * (0.5 + wide / 2),
      depthMm: isIngotPiece(piece) ? depthMm : frame.topShare * piece.heightMm,
    };
  }
  const lies = zoneOn(zone, zoneSides(piece, zone));
  // A bar has no top any more: the pipe side is its spine or its face, as the route turns it.
  const turned = frame.route === "face" ? "face" : "spine";
  return lies.place === "top" ? { ...lies, place: turned } : lies;
}

/** Thinner than this over the finished thickness, nothing is left to grind, mm. */
const LEAST_STOCK_MM = 0.15;

/** The goal as far as the section allows: a piece that is too thin or too narrow gives a thinner or narrower blade. */
function withinReach(
  frame: RouteFrame,
  section: { readonly thicknessMm: number; readonly widthMm: number },
  goal: Required<BladeGoal>,
  isPreform: boolean,
): { goal: Required<BladeGoal>; reasons: readonly Reason[] } {
  const wanted = frame.sizes.preform;
  const plan = schedule(section, wanted, frame.context.spreadFactor);
  const reached = isPreform ? section : plan.reached;
  const reasons: Reason[] = [];
  let within = goal;
  const thin = Math.max(goal.thicknessMm, goal.tangThicknessMm) + LEAST_STOCK_MM;
  if (reached.thicknessMm < thin - 1e-6) {
    reasons.push({ code: "too-thin", thicknessMm: reached.thicknessMm, neededMm: thin });
    const thicknessMm = Math.max(0.5, reached.thicknessMm - 2 * rule.SIDE_ALLOWANCE_MM.likely);
    const share = thicknessMm / Math.max(goal.thicknessMm, goal.tangThicknessMm);
    within = {
      ...within,
      thicknessMm: Math.min(goal.thicknessMm, thicknessMm),
      tangThicknessMm: Math.min(goal.tangThicknessMm, thicknessMm),
      tipThicknessMm: goal.tipThicknessMm * Math.min(1, share),
      fullerDepthMm: goal.fullerDepthMm * Math.min(1, share),
    };
  }
  if (reached.widthMm < wanted.widthMm * 0.985) {
    const share = reached.widthMm / wanted.widthMm;
    const widthMm = Math.max(2, goal.widthMm * share);
    reasons.push({ code: "too-narrow", widthMm: reached.widthMm, neededMm: wanted.widthMm });
    within = {
      ...within,
      widthMm,
      tipWidthMm: goal.tipWidthMm * share,
      tangWidthMm: Math.min(goal.tangWidthMm, widthMm),
      fullerWidthMm: goal.fullerWidthMm * share,
    };
  }
  return { goal: within, reasons };
}

const NOTHING = { trimG: 0, keptG: 0 };
/** Of the stage after the last that is done: what it cuts off first, where the piece is nearer in mass to after that cut. */
function cutAlready(standing: Standing, nominal: readonly Done[]) {
  const upTo = nominal.findIndex(({ stage }) => stage.name === standing.last);
  const next = upTo < 0 ? undefined : nominal[upTo + 1]?.stage;
  if (next === undefined || (next.name !== "bar" && next.name !== "preform")) return NOTHING;
  const { trimG, keptG } = next.losses;
  const beforeG = nominal[upTo]?.stage.massG ?? 0;
  return standing.work.massG < beforeG - (trimG + keptG) / 2 ? { trimG, keptG } : NOTHING;
}

/** What is gone already, under the names it was planned under; what is over goes to scale. */
function pastLosses(goneG: number, standing: Standing, nominal: readonly Done[]): StageLosses {
  const none = { pipeG: 0, scaleG: 0, trimG: 0, grindG: 0, keptG: 0 };
  if (goneG <= 0 || standing.last === undefined) return { ...none, scaleG: Math.max(0, goneG) };
  const upTo = nominal.findIndex(({ stage }) => stage.name === standing.last);
  const planned = sumLosses(nominal.slice(0, upTo + 1).map(({ stage }) => stage.losses));
  const begun = cutAlready(standing, nominal);
  const trimG = planned.trimG + begun.trimG;
  const keptG = planned.keptG + begun.keptG;
  const pipeG = standing.work.pipeTaken ? planned.pipeG : 0;
  const named = pipeG + trimG + keptG;
  const factor = named > goneG ? goneG / named : 1;
  return {
    ...none,
    pipeG: pipeG * factor,
    trimG: trimG * factor,
    keptG: keptG * factor,
    scaleG: Math.max(0, goneG - named),
  };
}
