/** The log: kinds of entry, deciding, folding. */
export * from "./access.js";
export { believedPositive, fromPrior, learnPositive, type PositivePrior } from "./conjugate.js";
export * from "./contract.js";
export type { Correction } from "./correct.js";
export * from "./decide.js";
export * from "./decision.js";
export * from "./entry.js";
export { isPipeRemoval } from "./evidence.js";
export * from "./fold.js";
export * from "./ingot-state.js";
export * from "./learned.js";
export * from "./log-store.js";
export * from "./melts.js";
export * from "./reading.js";
export * from "./shop.js";
export * from "./weighed-spans.js";
