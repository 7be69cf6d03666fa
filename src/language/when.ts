/**
 * When something happened. Clocks, `ago` and the days around today are read here; names of days and counts of days
 * are left to chrono-node, which sees nothing but those few words, so that no size, fraction or temperature is ever taken for a date.
 */
import { casual } from "chrono-node";
import { offsetMinutes } from "../units/index.js";
import { type Clock, clockAt, TIME_HINTS, word } from "./clock-time.js";
import { type Day, dayAt, NOON, WEEKDAYS } from "./day-words.js";
import { quantityAt } from "./quantities.js";
import type { Token } from "./tokens.js";
import { DAY_MS, isoIn } from "./zone-time.js";

export interface Moment {
  /** First token of the words that name the time, and the one after the last. */
  readonly from: number;
  readonly to: number;
  /** ISO 8601 with offset. */
  readonly at: string;
}
/** Clock figures up to this without am or pm are the afternoon (common practice in a shop). */
const AFTERNOON_UP_TO = 7;
const MOST_MOMENTS = 6;

/** `10 min ago`, `an hour and a half ago`, `2h 15 ago`, `3 days ago`. */
function agoAt(
  tokens: readonly Token[],
  at: number,
  nowMs: number,
  timezone: string,
): { ms: number; next: number } | undefined {
  const found = quantityAt(tokens, at, TIME_HINTS);
  if (!found) return undefined;
  if (found.dimension === "duration" && /^(ago|back)$/.test(word(tokens, found.to)))
    return { ms: nowMs - found.value * 60_000, next: found.to + 1 };
  if (found.unit === "m" && word(tokens, found.to) === "ago")
    return { ms: nowMs - found.said * 60_000, next: found.to + 1 };
  const unit = word(tokens, found.to);
  if (/^(days?|weeks?)$/.test(unit) && word(tokens, found.to + 1) === "ago" && found.value < 1000) {
    const parsed = casual.parse(`${found.value} ${unit} ago`, {
      instant: new Date(nowMs),
      timezone: offsetMinutes(nowMs, timezone),
    })[0];
    return parsed ? { ms: parsed.start.date().getTime(), next: found.to + 2 } : undefined;
  }
  return undefined;
}

const STARTS =
  /^(at|around|since|this|last|yesterday|the|day|on|half|quarter|a|an|noon|midday|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty|thirty|forty|fifty|couple|hour|yesterday's)$/;

const TIMELY = new Set([
  ..."ago noon midday past to quarter half am pm m o'clock oclock yesterday this last h :".split(
    " ",
  ),
  ...WEEKDAYS,
  "yesterday's",
  "back",
]);

/** Most messages name no time; a look at their words is enough to know. */
function mayTell(tokens: readonly Token[]): boolean {
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i];
    if (!token) continue;
    if (token.kind === "number") {
      if (i === 1 && tokens[0]?.text === "at") return true;
      if (i === 0 && /^\d{1,2}\.[0-5]\d$/.test(token.text)) return true;
      const spoken = tokens[i - 1]?.text;
      if (!token.whole && (spoken === "at" || spoken === "around" || spoken === "since"))
        return true;
      if (token.text.length === 4 && tokens[i + 1]?.text === "-") return true;
    } else if (TIMELY.has(token.text) || token.text === "weighed") return true;
  }
  return false;
}

/** `at eight this morning`: a bare hour, and then its day. */
function beforeDay(
  tokens: readonly Token[],
  at: number,
  nowMs: number,
  timezone: string,
): Clock | undefined {
  if (word(tokens, at) !== "at") return undefined;
  const time = clockAt(tokens, at, true);
  return time && dayAt(tokens, time.next, nowMs, timezone) ? time : undefined;
}

/** Every time that the words name, in order. `now` is ISO 8601. */
export function momentsIn(
  tokens: readonly Token[],
  now: string,
  timezone: string,
): readonly Moment[] {
  const nowMs = Date.parse(now);
  if (!Number.isFinite(nowMs) || !mayTell(tokens)) return [];
  const moments: Moment[] = [];
  for (let i = 0; i < tokens.length && moments.length < MOST_MOMENTS; i += 1) {
    const token = tokens[i];
    if (
      !token ||
      (token.kind !== "number" && !STARTS.test(token.text) && !WEEKDAYS.has(token.text))
    )
      continue;
    const ago = agoAt(tokens, i, nowMs, timezone);
    if (ago) {
      moments.push({ from: i, to: ago.next, at: isoIn(ago.ms, timezone) });
      i = ago.next - 1;
      continue;
    }
    const day = dayAt(tokens, i, nowMs, timezone);
    const time = day
      ? clockAt(tokens, day.next, true)
      : (clockAt(tokens, i, false) ?? beforeDay(tokens, i, nowMs, timezone));
    if (!day && !time) continue;
    const after = time && !day ? dayAt(tokens, time.next, nowMs, timezone) : undefined;
    const to = after?.next ?? time?.next ?? day?.next ?? i + 1;
    moments.push({
      from: i,
      to,
      at: isoIn(resolve(day ?? after, time, nowMs, timezone), timezone),
    });
    i = to - 1;
  }
  return moments;
}

function resolve(
  day: Day | undefined,
  time: Clock | undefined,
  nowMs: number,
  timezone: string,
): number {
  const offset = offsetMinutes(nowMs, timezone) * 60_000;
  const midnight = Math.floor((nowMs + offset) / DAY_MS) * DAY_MS - (day?.daysBack ?? 0) * DAY_MS;
  let minutes = time?.minutes ?? (day?.hour ?? NOON) * 60;
  if (time && !time.sure) {
    const afternoon = day?.named ? day.hour >= NOON : minutes < (AFTERNOON_UP_TO + 1) * 60;
    if (afternoon && minutes < 720) minutes += 720;
  }
  const local = midnight + minutes * 60_000;
  let ms = local - offsetMinutes(local - offset, timezone) * 60_000;
  if (ms > nowMs && day?.daysBack === 0 && !time) ms = nowMs;
  while (ms > nowMs) ms -= DAY_MS;
  return ms;
}
