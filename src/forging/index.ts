/** The planner: from this ingot to that blade, with figures that can be checked. Pure. */

export { planToContract } from "./contract-json.js";
export * from "./cooling.js";
export * from "./crack-advice.js";
export * from "./cut-advice.js";
export * from "./force.js";
export { voidCheck } from "./ingot.js";
export { type NextSize, nextSize, waypoints } from "./next-size.js";
export * from "./next-step.js";
export { planForging } from "./plan.js";
export * from "./reasons.js";
export { isRefusal } from "./refusal.js";
export * from "./spread.js";
export * from "./types.js";
