/** The blade that is wanted, with what was not said filled in, and the forged blank that it is ground from. */
import type { BladeShape } from "../shape/index.js";
import { refusalOf } from "./refusal.js";
import * as rule from "./rules-of-thumb.js";
import type { Assumption, BladeGoal, PlanRefusal } from "./types.js";

/** Blade of which nothing was said. Common practice, a small knife. */
const DEFAULT = { lengthMm: 150, widthMm: 28, thicknessMm: 3.5 } as const;
const TANG_SHARE = 0.5;
const TIP_WIDTH_SHARE = 0.35;
const TIP_THICKNESS_SHARE = 0.6;

export interface GoalInHand {
  readonly refused: false;
  readonly goal: Required<BladeGoal>;
  readonly assumptions: readonly Assumption[];
}

/** Completes the goal; every figure that was not said stands in `assumptions`. */
export function resolveGoal(said: Partial<BladeGoal> = {}): GoalInHand | PlanRefusal {
  const refusal = refusalOf([
    { field: "blade.lengthMm", value: said.lengthMm, low: 20, high: 1500, unit: "mm" },
    { field: "blade.widthMm", value: said.widthMm, low: 5, high: 150, unit: "mm" },
    { field: "blade.thicknessMm", value: said.thicknessMm, low: 0.8, high: 25, unit: "mm" },
    { field: "blade.tangLengthMm", value: said.tangLengthMm, low: 0, high: 400, unit: "mm" },
    { field: "blade.tangWidthMm", value: said.tangWidthMm, low: 1, high: 150, unit: "mm" },
    { field: "blade.tangThicknessMm", value: said.tangThicknessMm, low: 0.5, high: 40, unit: "mm" },
    { field: "blade.fullerWidthMm", value: said.fullerWidthMm, low: 0, high: 150, unit: "mm" },
    { field: "blade.fullerDepthMm", value: said.fullerDepthMm, low: 0, high: 20, unit: "mm" },
    { field: "blade.tipWidthMm", value: said.tipWidthMm, low: 0, high: 150, unit: "mm" },
    { field: "blade.tipThicknessMm", value: said.tipThicknessMm, low: 0, high: 25, unit: "mm" },
    { field: "blade.count", value: said.count, low: 1, high: 20, unit: "blades" },
  ]);
  if (refusal) return refusal;
  const assumptions: Assumption[] = [];
  const or = <V extends number | string>(field: keyof BladeGoal, value: V, unit?: string): V => {
    const got = said[field];
    if (got !== undefined) return got as V;
    assumptions.push({ field, value, ...(unit ? { unit } : {}), from: "default" });
    return value;
  };
  const tenth = (value: number) => Math.round(value * 10) / 10;
  const edge = or("edge", "single" as BladeGoal["edge"]);
  const lengthMm = or("lengthMm", DEFAULT.lengthMm, "mm");
  const widthMm = or("widthMm", DEFAULT.widthMm, "mm");
  const thicknessMm = or("thicknessMm", DEFAULT.thicknessMm, "mm");
  const tang = or("tang", "stick" as NonNullable<BladeGoal["tang"]>);
  const likelyTang = Math.min(120, Math.max(40, TANG_SHARE * lengthMm));
  const goal: Required<BladeGoal> = {
    edge,
    lengthMm,
    widthMm,
    thicknessMm,
    tang,
    section: or("section", edge === "single" ? "wedge" : "diamond"),
    tangLengthMm: or("tangLengthMm", Math.round(likelyTang), "mm"),
    tangWidthMm: or("tangWidthMm", tenth(widthMm * (tang === "full" ? 0.9 : 0.5)), "mm"),
    tangThicknessMm: or("tangThicknessMm", thicknessMm, "mm"),
    tipWidthMm: or("tipWidthMm", tenth(widthMm * TIP_WIDTH_SHARE), "mm"),
    tipThicknessMm: or("tipThicknessMm", tenth(thicknessMm * TIP_THICKNESS_SHARE), "mm"),
    fullerWidthMm: said.fullerWidthMm ?? 0,
    fullerDepthMm: said.fullerDepthMm ?? 0,
    count: Math.round(said.count ?? 1),
  };
  return contradiction(goal) ?? { refused: false, goal, assumptions };
}

function contradiction(goal: Required<BladeGoal>): PlanRefusal | undefined {
  const wrong = (field: string, got: number, atMost: number, what: string): PlanRefusal => ({
    refused: true,
    code: "contradiction",
    field,
    got,
    atMost,
    what,
  });
  if (goal.thicknessMm > goal.widthMm) {
    return wrong(
      "blade.thicknessMm",
      goal.thicknessMm,
      goal.widthMm,
      "Check the blade: it is thicker than wide.",
    );
  }
  if (goal.fullerDepthMm * 2 >= goal.thicknessMm) {
    return wrong(
      "blade.fullerDepthMm",
      goal.fullerDepthMm,
      goal.thicknessMm / 2,
      "Check the fuller: both grooves together go through the blade.",
    );
  }
  if (goal.fullerDepthMm > 0 && goal.fullerWidthMm < 2 * goal.fullerDepthMm) {
    return wrong(
      "blade.fullerDepthMm",
      goal.fullerDepthMm,
      goal.fullerWidthMm / 2,
      "Give the fuller's width: at least twice its depth.",
    );
  }
  return undefined;
}

/** The finished blade as a solid, with its length replaced where asked. The edge is sharp. */
export const finishedBlade = (goal: Required<BladeGoal>, lengthMm = goal.lengthMm): BladeShape => ({
  section: goal.section,
  lengthMm,
  widthMm: goal.widthMm,
  thicknessMm: goal.thicknessMm,
  edgeThicknessMm: 0,
  tipWidthMm: goal.tipWidthMm,
  tipThicknessMm: goal.tipThicknessMm,
  tangLengthMm: goal.tangLengthMm,
  tangWidthMm: goal.tangWidthMm,
  tangThicknessMm: goal.tangThicknessMm,
  fullerWidthMm: goal.fullerWidthMm,
  fullerDepthMm: goal.fullerDepthMm,
});

/** The blank as forged: stock on every side, a blunt edge, fullers not yet in. */
export function forgedBlank(goal: Required<BladeGoal>, lengthMm = goal.lengthMm): BladeShape {
  const side = 2 * rule.SIDE_ALLOWANCE_MM.likely;
  const wide = rule.WIDTH_ALLOWANCE_MM;
  const finished = finishedBlade(goal, lengthMm);
  return {
    ...finished,
    widthMm: finished.widthMm + wide,
    thicknessMm: finished.thicknessMm + side,
    edgeThicknessMm: Math.min(rule.FORGED_EDGE_MM.likely, finished.thicknessMm + side),
    tipWidthMm: finished.tipWidthMm + wide,
    tipThicknessMm: finished.tipThicknessMm + side,
    tangWidthMm: finished.tangWidthMm + wide,
    tangThicknessMm: finished.tangThicknessMm + side,
    fullerWidthMm: 0,
    fullerDepthMm: 0,
  };
}
