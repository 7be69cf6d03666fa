/** One turn of the conversation: every sentence, button and safety line of the bot. */
export * from "./handler.js";
