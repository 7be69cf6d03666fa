/** The melt: charge and carbon, heat and crucible, freezing and its growth cells, yield. Pure. */
export * from "./carbon-balance.js";
export * from "./charge.js";
export type { BalanceOptions, ChargeItem } from "./charge-part.js";
export * from "./freezing.js";
export * from "./material.js";
export * from "./melt-heat.js";
export type { MeltNote } from "./melt-note.js";
export * from "./melt-yield.js";
