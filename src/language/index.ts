/** From the words of a message to drafts. Entered by `read`; never throws, whatever the text. */
import { type Reading, toContract } from "../logbook/index.js";
import type { ReadingContext } from "./context.js";
import { readWhole } from "./read-whole.js";

export type { KnownIngot, KnownPiece, ReadingContext } from "./context.js";

/** Reads one message. Pure: the same text and context give the same reading. Time grows with the length. */
export const read = (text: string, context: ReadingContext): Reading => readWhole(text, context);

/** How a message was read, rule by rule: a line a step. */
export const trace = (text: string, context: ReadingContext): readonly string[] =>
  readWhole(text, context).trace;

/** The object that the command line's `read` prints (docs: command line). */
export function readingToJson(reading: Reading): Record<string, unknown> {
  return {
    text: reading.text,
    entries: reading.drafts.map((draft) => toContract(draft.body)),
    ...(reading.ask && {
      ask: { about: reading.ask.about, choices: reading.ask.choices.map((one) => one.label) },
    }),
    unread: [...reading.unread],
  };
}

export { sheetHourIn, USUAL_MIN } from "./sheet-hour.js";
/** For speech: what can be said is made from the same words and number rules. */
export { type Spoken, spokenAt } from "./spoken.js";
export { type Token, tokenise } from "./tokens.js";
export * as vocabulary from "./vocabulary.js";
