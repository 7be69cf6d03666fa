/** A message before it is taken apart: what concerns the whole of it is settled here. */
import { type Draft, type DraftBody, type Reading, splitGivenUp } from "../logbook/index.js";
import type { ReadingContext } from "./context.js";
import { readMessage } from "./read.js";
import { sheetHourIn } from "./sheet-hour.js";

/** Longer messages are read from their beginning only: what stands in them as a whole is not looked for. */
const LONGEST = 8000;

/** Pure: the same text and context give the same reading; never throws. */
export function readWhole(text: string, context: ReadingContext): Reading {
  if (sheetHourIn(text) !== undefined) {
    return plainly(text, { kind: "question", about: "day" }, "rule: hour of the day's sheet");
  }
  const isNote = /^\s*notes?\b/i.test(text);
  const names = [...(context.names ?? []), context.ingot?.name ?? ""];
  const ends = isNote || text.length > LONGEST ? undefined : splitGivenUp(text, names);
  if (ends === undefined) return readMessage(text, context);
  const note = plainly(ends.note, { kind: "note", note: ends.note }, "rule: ingot given up");
  return joined(text, [
    ...(ends.before === "" ? [] : [readMessage(ends.before, context)]),
    note,
    ...(ends.after === "" ? [] : [readMessage(ends.after, context)]),
  ]);
}

function plainly(text: string, body: DraftBody, trace: string): Reading {
  const draft: Draft = { body, implied: [], confidence: 1 };
  return { text, drafts: [draft], unread: [], confidence: 1, trace: [trace] };
}

/** Readings of a message's parts as one; the first question of them is put. */
function joined(text: string, parts: readonly Reading[]): Reading {
  const ask = parts.find((part) => part.ask !== undefined)?.ask;
  return {
    text,
    drafts: parts.flatMap(({ drafts }) => drafts),
    unread: parts.flatMap(({ unread }) => unread),
    ...(ask === undefined ? {} : { ask }),
    confidence: Math.min(...parts.map(({ confidence }) => confidence)),
    get trace() {
      return parts.flatMap(({ trace }) => trace);
    },
  };
}
