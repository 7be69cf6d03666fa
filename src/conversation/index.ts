/** One turn of the conversation: every sentence, button and safety line of the bot. */
export * from "./handler.js";
export * from "./sheets.js";
export { twoWays } from "./two-ways.js";
export * from "./units.js";
