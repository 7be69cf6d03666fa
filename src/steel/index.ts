/** What the metal does: pure formulas, each with its range, its error and its source (docs/sources.md). */
export * from "./cell-spacing.js";
export * from "./composition.js";
export * from "./decarburisation.js";
export * from "./density.js";
export * from "./expansion.js";
export * from "./flow-stress.js";
export * from "./forging-window.js";
export * from "./hardening.js";
export * from "./heat-colour.js";
export * from "./homogenising.js";
export * from "./iron-carbon.js";
export * from "./lattice.js";
export * from "./range.js";
export * from "./scale.js";
export * from "./thermal.js";
