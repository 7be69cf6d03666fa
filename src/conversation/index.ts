/** One turn of the conversation: every sentence, button and safety line of the bot. */
export * from "./day-sheets.js";
export * from "./due-sheet.js";
export * from "./handler.js";
export { meltsBefore } from "./melt-log.js";
export * from "./sheets.js";
export type { ShopNow } from "./shop-now.js";
export { twoWays } from "./two-ways.js";
export * from "./units.js";
