/** One turn of the conversation: every sentence, button and safety line of the bot. */
export * from "./handler.js";
export * from "./sheets.js";
export * from "./units.js";
