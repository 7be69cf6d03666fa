/** Solids of the trade: ingots, discs, bars, rings, blades. Pure geometry in mm. */
export * from "./blade.js";
export * from "./piece.js";
export * from "./solids.js";
