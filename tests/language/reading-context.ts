import { type ReadingContext, read } from "../../src/language/index.js";
import type { DraftBody, Reading } from "../../src/logbook/index.js";

/** The clock and the zone of every test in this folder. */
export const CONTEXT: ReadingContext = {
  now: "2026-05-12T14:30:00+02:00",
  timezone: "Europe/Berlin",
  units: "mm",
};

export const reading = (text: string, more: Partial<ReadingContext> = {}): Reading =>
  read(text, { ...CONTEXT, ...more });

export const bodies = (text: string, more: Partial<ReadingContext> = {}): readonly DraftBody[] =>
  reading(text, more).drafts.map((draft) => draft.body);
