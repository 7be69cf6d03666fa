/** What to watch at a stage, from its sizes and its forces. */

import type { Effort } from "./effort.js";
import type { RouteFrame } from "./frame.js";
import type { Reason } from "./reasons.js";
import * as rule from "./rules-of-thumb.js";
import type { Stage } from "./types.js";

/** Share of a press's rating from which to warn. Common practice, 0.7 to 0.9. */
const NEAR_RATING = 0.8;
/** A heat shorter than this is said so, s. */
const SHORT_HEAT_S = 25;

export function stageWatch(
  frame: RouteFrame,
  made: Pick<Stage, "name" | "start" | "cold">,
  effort: Effort,
): Reason[] {
  const { context } = frame;
  const reasons: Reason[] = [];
  const press = context.tool === "press" ? context.shop.pressKn : undefined;
  if (press && effort.outOfReach) {
    reasons.push({ code: "press-too-small", forceKn: effort.forceKn, pressKn: press });
  } else if (press && effort.forceKn > press * NEAR_RATING) {
    reasons.push({ code: "near-rating", forceKn: effort.forceKn, pressKn: press });
  }
  const ratio = slendernessOnEdge(frame, made);
  if (ratio > rule.EDGE_CARE_RATIO) reasons.push({ code: "slender-on-edge", ratio });
  if (effort.working.likely < SHORT_HEAT_S) {
    reasons.push({ code: "short-heat", workingS: effort.working.likely });
  } else {
    reasons.push({
      code: "stop-at",
      floorC: context.window.floorC,
      workingS: effort.working.likely,
    });
  }
  return reasons;
}

/** Height over thickness of the piece on its edge in this stage: a disc on its rim when it begins, a bar when it ends. */
function slendernessOnEdge(
  frame: RouteFrame,
  { name, start, cold }: Pick<Stage, "name" | "start" | "cold">,
): number {
  if (name === "block" && frame.route === "spine" && "thicknessMm" in start) {
    return start.thicknessMm / start.widthMm;
  }
  if ((name === "block" || name === "bar") && "thicknessMm" in cold) {
    return cold.widthMm / cold.thicknessMm;
  }
  return 0;
}
