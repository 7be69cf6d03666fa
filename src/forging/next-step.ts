/** The single next size after what is on the anvil now, with what is left and lost. */

import { type NextSize, nextSize } from "./next-size.js";
import type { Reason } from "./reasons.js";
import type { Losses, Plan, Range, RoutePlan, Stage, StagePiece } from "./types.js";

export interface NextStep {
  /** Undefined: the blade is all that is left, or nothing fits. */
  readonly stage: Stage | undefined;
  /** A few heats away, on the way of the stage. */
  readonly size: NextSize | undefined;
  readonly cold: StagePiece | undefined;
  readonly hot: StagePiece | undefined;
  readonly heatsLeft: Range;
  readonly spareG: Range;
  /** Gone since the ingot was weighed, g. */
  readonly lostG: number;
  readonly loss: Losses;
  readonly fits: boolean;
  readonly largestBladeMm: number;
  readonly watch: readonly Reason[];
}

/** Reads the next step off a plan that was drawn from the piece as it is (`planForging` with `now`). */
export function nextStep(
  plan: Plan,
  route: RoutePlan | undefined = plan.routes[0],
  massNowG?: number,
): NextStep | undefined {
  if (route === undefined) return undefined;
  const stage = route.stages[0];
  const size = nextSize(route);
  return {
    stage,
    size,
    cold: size?.cold,
    hot: size?.hot,
    heatsLeft: route.heats,
    spareG: route.spareG,
    lostG: massNowG === undefined ? 0 : Math.max(0, plan.ingot.massG - massNowG),
    loss: route.loss,
    fits: route.fits && route.feasible,
    largestBladeMm: route.largestBladeMm,
    watch: stage?.watch ?? [],
  };
}
