/** From the words of a message to drafts. Entered by `read`; never throws, whatever the text. */
import { type Reading, toContract } from "../logbook/index.js";
import type { ReadingContext } from "./context.js";

export type { KnownIngot, KnownPiece, ReadingContext } from "./context.js";

/** Reads one message. Pure: the same text and context give the same reading. Time grows with the length. */
export function read(text: string, _context: ReadingContext): Reading {
  const trimmed = text.trim();
  return {
    text,
    drafts: [],
    unread: trimmed === "" ? [] : [trimmed],
    confidence: 1,
    trace: [],
  };
}

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
