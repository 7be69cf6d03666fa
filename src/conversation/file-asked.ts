/** Whole messages that ask for a file: `picture of Rook`, `send me the card`, `/sheet`, `/export json`. */
import type { Attach, DraftOf } from "../logbook/index.js";

export interface FileAsked {
  readonly kind: Attach["kind"];
  readonly as: Attach["as"];
  /** What is answered in words beside it. */
  readonly question?: DraftOf<"question">;
  /** Of a day's sheet: which day, where it is not today's. */
  readonly date?: string;
}

const LEAD =
  /^(?:(?:please|can you|could you) )*(?:(?:send|give|show|print)(?: me| us)? )?(?:(?:a|an|the|my) )?/i;
const DAY =
  /^(?:(?:day'?s? )?sheet|(?:picture|page) of (?:the|my) day|(?:picture|page) of today|day picture)(?: (?:of|for) today)?$/;
const EXPORT =
  /^(?:export|whole log|everything as (?:a )?files?)(?: (?:as|in|to))?(?: (csv|json))?$/;
const CARD =
  /^(?:ingot )?(?:(?:card|picture|page)(?: (?:of|for) (.{1,40}))?|card (\S{1,20})|(\S{1,30})'s (?:card|picture|page))$/i;
const IN_HAND = /^(?:it|this|this one|(?:this|the|my) ingot)$/;

/** Undefined for a message that is about anything else. */
export function fileAsked(message: string): FileAsked | undefined {
  const words = message
    .trim()
    .replace(/^\//, "")
    .replace(/[.!?]+$/, "")
    .replace(/[’]/g, "'")
    .replace(/\s+/g, " ");
  const wanted = words.replace(LEAD, "").trim();
  const lower = wanted.toLowerCase();
  const as = /^print\b|\bpage\b/i.test(words) ? "page" : "png";
  const exported = EXPORT.exec(lower);
  if (exported !== null) return { kind: "export", as: exported[1] === "json" ? "json" : "csv" };
  if (DAY.test(lower)) return { kind: "day", as, question: { kind: "question", about: "day" } };
  const found = CARD.exec(wanted);
  if (!found) return undefined;
  const said = (found[1] ?? found[2] ?? found[3])?.replace(/^ingot /i, "");
  const ingot = said === undefined || IN_HAND.test(said.toLowerCase()) ? {} : { ingot: said };
  return { kind: "card", as, question: { kind: "question", about: "summary", ...ingot } };
}
