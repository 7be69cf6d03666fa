/** A day in the words: `this morning`, `yesterday`, `on Monday`, `2026-05-11`. Names of days go to chrono-node. */
import { casual } from "chrono-node";
import { offsetMinutes } from "../units/index.js";
import { word } from "./clock-time.js";
import type { Token } from "./tokens.js";
import { DAY_MS } from "./zone-time.js";

const MORNING = 9;
export const NOON = 12;
const AFTERNOON = 15;
const EVENING = 20;
export const WEEKDAYS = new Set([
  "monday",
  "tuesday",
  "wednesday",
  "thursday",
  "friday",
  "saturday",
  "sunday",
]);

/** A day in the words, counted back from today. */
export interface Day {
  readonly daysBack: number;
  /** The hour that the words themselves name (`this morning`). */
  readonly hour: number;
  readonly named: boolean;
  readonly next: number;
}

const PART_HOUR: Readonly<Record<string, number>> = {
  "morning's": MORNING,
  "afternoon's": AFTERNOON,
  "evening's": EVENING,
  morning: MORNING,
  afternoon: AFTERNOON,
  evening: EVENING,
  night: EVENING,
};

export function dayAt(
  tokens: readonly Token[],
  at: number,
  nowMs: number,
  timezone: string,
): Day | undefined {
  const first = word(tokens, at);
  const part = PART_HOUR[word(tokens, at + 1)];
  const day = (daysBack: number, next: number): Day => {
    const named = PART_HOUR[word(tokens, next)];
    return named === undefined
      ? { daysBack, hour: NOON, named: false, next }
      : { daysBack, hour: named, named: true, next: next + 1 };
  };
  if (first === "this" && part !== undefined)
    return { daysBack: 0, hour: part, named: true, next: at + 2 };
  if (first === "last" && word(tokens, at + 1) === "night")
    return { daysBack: 1, hour: EVENING, named: true, next: at + 2 };
  if (first === "yesterday" || first === "yesterday's") return day(1, at + 1);
  const the = first === "the" ? 1 : 0;
  if (
    word(tokens, at + the) === "day" &&
    word(tokens, at + the + 1) === "before" &&
    word(tokens, at + the + 2) === "yesterday"
  )
    return day(2, at + the + 3);
  const on = first === "on" || first === "last" ? 1 : 0;
  const name = word(tokens, at + on);
  if (WEEKDAYS.has(name)) {
    const offset = offsetMinutes(nowMs, timezone);
    const found = casual.parse(`last ${name}`, { instant: new Date(nowMs), timezone: offset })[0];
    if (!found) return undefined;
    const get = (what: "year" | "month" | "day"): number => found.start.get(what) ?? 0;
    const then = Date.UTC(get("year"), get("month") - 1, get("day"));
    const today = Math.floor((nowMs + offset * 60_000) / DAY_MS) * DAY_MS;
    const back = Math.round((today - then) / DAY_MS);
    return back >= 0 && back < 15 ? day(((back - 1) % 7) + 1, at + on + 1) : undefined;
  }
  if (/^\d{4}$/.test(first) && word(tokens, at + 1) === "-" && word(tokens, at + 3) === "-") {
    const then = Date.UTC(
      tokens[at]?.value ?? 0,
      (tokens[at + 2]?.value ?? 1) - 1,
      tokens[at + 4]?.value ?? 1,
    );
    const today = Math.floor((nowMs + offsetMinutes(nowMs, timezone) * 60_000) / DAY_MS) * DAY_MS;
    const back = Math.round((today - then) / DAY_MS);
    return Number.isFinite(back) && back >= 0 && back < 36_500 ? day(back, at + 5) : undefined;
  }
  return undefined;
}
