/**
 * When something happened. Clocks, `ago` and the days around today are read here; names of days and counts of days
 * are left to chrono-node, which sees nothing but those few words, so that no size, fraction or temperature is ever taken for a date.
 */
import { casual } from "chrono-node";
import { quantityAt } from "./quantities.js";
import { isNumberWord } from "./spoken.js";
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD } from "./units.js";

export interface Moment {
  /** First token of the words that name the time, and the one after the last. */
  readonly from: number;
  readonly to: number;
  /** ISO 8601 with offset. */
  readonly at: string;
}

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
/** Clock figures up to this without am or pm are the afternoon (common practice in a shop). */
const AFTERNOON_UP_TO = 7;
const MORNING = 9;
const NOON = 12;
const AFTERNOON = 15;
const EVENING = 20;
const WEEKDAYS = new Set([
  "monday",
  "tuesday",
  "wednesday",
  "thursday",
  "friday",
  "saturday",
  "sunday",
]);
const MOST_MOMENTS = 6;
const HINTS = { inchChat: false, holding: false, press: false } as const;

const formats = new Map<string, Intl.DateTimeFormat | undefined>();
function format(timezone: string): Intl.DateTimeFormat | undefined {
  if (formats.has(timezone)) return formats.get(timezone);
  let made: Intl.DateTimeFormat | undefined;
  try {
    made = new Intl.DateTimeFormat("en-GB", {
      timeZone: timezone,
      hourCycle: "h23",
      year: "numeric",
      month: "2-digit",
      day: "2-digit",
      hour: "2-digit",
      minute: "2-digit",
      second: "2-digit",
    });
  } catch {
    made = undefined;
  }
  formats.set(timezone, made);
  return made;
}

/** Minutes that the zone is ahead of UTC at an instant; 0 for a zone nobody knows. */
function offsetMin(ms: number, timezone: string): number {
  const parts = format(timezone)?.formatToParts(new Date(ms));
  if (!parts) return 0;
  const get = (type: string): number =>
    Number(parts.find((part) => part.type === type)?.value ?? 0);
  const local = Date.UTC(
    get("year"),
    get("month") - 1,
    get("day"),
    get("hour"),
    get("minute"),
    get("second"),
  );
  return Math.round((local - Math.floor(ms / 1000) * 1000) / 60_000);
}

/** An instant as ISO 8601 with the zone's offset. */
export function isoIn(ms: number, timezone: string): string {
  const offset = offsetMin(ms, timezone);
  const local = new Date(ms + offset * 60_000).toISOString().slice(0, 19);
  const two = (value: number): string => String(Math.floor(value)).padStart(2, "0");
  const size = Math.abs(offset);
  return `${local}${offset < 0 ? "-" : "+"}${two(size / 60)}:${two(size % 60)}`;
}

interface Clock {
  readonly minutes: number;
  readonly sure: boolean;
  readonly next: number;
}

const word = (tokens: readonly Token[], at: number): string => tokens[at]?.text ?? "";
const isNumber = (tokens: readonly Token[], at: number): boolean => tokens[at]?.kind === "number";

function half(
  tokens: readonly Token[],
  at: number,
): { sure: boolean; pm: boolean; next: number } | undefined {
  const text = word(tokens, at);
  if (text === "am" || text === "pm") return { sure: true, pm: text === "pm", next: at + 1 };
  if (
    (text === "a" || text === "p") &&
    word(tokens, at + 1) === "." &&
    word(tokens, at + 2) === "m"
  )
    return { sure: true, pm: text === "p", next: word(tokens, at + 3) === "." ? at + 4 : at + 3 };
  return undefined;
}

function clock(
  hours: number,
  minutes: number,
  tokens: readonly Token[],
  next: number,
): Clock | undefined {
  if (hours > 24 || minutes > 59) return undefined;
  const part = half(tokens, next);
  if (part) {
    if (hours > 12 || hours === 0) return undefined;
    return {
      minutes: ((hours % 12) + (part.pm ? 12 : 0)) * 60 + minutes,
      sure: true,
      next: part.next,
    };
  }
  return { minutes: hours * 60 + minutes, sure: hours > 12 || hours === 0, next };
}

/** A small number of hours or minutes, written or said. */
function count(tokens: readonly Token[], at: number): { value: number; next: number } | undefined {
  const found = quantityAt(tokens, at, HINTS, false);
  return found && found.dimension === undefined && found.whole && !found.ordinal && found.value < 60
    ? { value: found.value, next: found.to }
    : undefined;
}

/** The clock time that begins at `at`. `afterDay`: a day stands beside it, so that a bare hour counts. */
function clockAt(tokens: readonly Token[], at: number, afterDay: boolean): Clock | undefined {
  let start = at;
  // `weighed it at 2, 1 lb 5 oz`: the weight comes after, so this is the clock.
  const weighed = /^(weighed|weighed it|scaled)$/.test(
    word(tokens, at - 1) === "it" ? `${word(tokens, at - 2)} it` : word(tokens, at - 1),
  );
  const said =
    word(tokens, at) === "at" || word(tokens, at) === "around" || word(tokens, at) === "since";
  if (said) start += 1;
  const first = word(tokens, start);
  if (first === "noon" || first === "midday") return { minutes: 720, sure: true, next: start + 1 };
  const lead =
    first === "half"
      ? 30
      : first === "quarter"
        ? 15
        : first === "a" && word(tokens, start + 1) === "quarter"
          ? 15
          : undefined;
  const leadNext = first === "a" ? start + 2 : start + 1;
  const spoken = lead === undefined ? count(tokens, start) : { value: lead, next: leadNext };
  const turn = spoken ? word(tokens, spoken.next) : "";
  const opens = at === 0 && spoken !== undefined && spoken.value % 5 === 0 && spoken.value < 30;
  if (spoken && (turn === "past" || (turn === "to" && (lead === 15 || said || opens)))) {
    const hour = count(tokens, spoken.next + 1);
    if (
      hour &&
      hour.value >= 1 &&
      hour.value <= 12 &&
      (lead !== undefined || spoken.value % 5 === 0) &&
      // `twenty to two, straightened it`: a clock only if nothing else is said with it.
      (lead === 15 || said || turn === "past" || /^[,.;]$/.test(word(tokens, hour.next)))
    ) {
      const minutes =
        turn === "past" ? hour.value * 60 + spoken.value : hour.value * 60 - spoken.value;
      const part = half(tokens, hour.next);
      const shifted = part?.pm && hour.value < 12 ? minutes + 720 : minutes;
      return { minutes: shifted, sure: part !== undefined, next: part?.next ?? hour.next };
    }
  }
  if (isNumber(tokens, start) && tokens[start]?.whole) {
    const hours = tokens[start]?.value ?? 99;
    const mark = word(tokens, start + 1);
    const minute = tokens[start + 2];
    const tight = tokens[start + 1]?.glued === true && minute?.glued === true;
    if (
      (mark === ":" || (mark === "h" && said)) &&
      tight &&
      minute?.whole &&
      minute.text.length === 2 &&
      word(tokens, start + 3) !== ":"
    )
      return clock(hours, minute.value, tokens, start + 3);
    if (half(tokens, start + 1)) return clock(hours, 0, tokens, start + 1);
    if (mark === "o'clock" || mark === "oclock") return clock(hours, 0, tokens, start + 2);
    const apart = weighed && mark === "," && minute?.kind === "number";
    if ((afterDay || apart) && said && hours <= 24) return clock(hours, 0, tokens, start + 1);
  }
  const point = tokens[start];
  if (
    point?.kind === "number" &&
    said &&
    /^\d{1,2}\.[0-5]\d$/.test(point.text) &&
    !UNIT_OF_WORD.has(word(tokens, start + 1)) &&
    !/^(%|"|°|thick|wide|long|deep|high|carbon)$/.test(word(tokens, start + 1))
  )
    return clock(Math.floor(point.value), Math.round((point.value % 1) * 100), tokens, start + 1);
  if (spoken && lead === undefined && spoken.value <= 12) {
    const after = word(tokens, spoken.next);
    if (after === "o'clock" || after === "oclock")
      return clock(spoken.value, 0, tokens, spoken.next + 1);
    if (half(tokens, spoken.next)) return clock(spoken.value, 0, tokens, spoken.next);
    // `this morning at nine forty degrees`: the heat, not the hour.
    if (afterDay && said && !isNumberWord(after))
      return clock(spoken.value, 0, tokens, spoken.next);
  }
  return undefined;
}

interface Day {
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

function dayAt(
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
    const offset = offsetMin(nowMs, timezone);
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
    const today = Math.floor((nowMs + offsetMin(nowMs, timezone) * 60_000) / DAY_MS) * DAY_MS;
    const back = Math.round((today - then) / DAY_MS);
    return Number.isFinite(back) && back >= 0 && back < 36_500 ? day(back, at + 5) : undefined;
  }
  return undefined;
}

/** `10 min ago`, `an hour and a half ago`, `2h 15 ago`, `3 days ago`. */
function agoAt(
  tokens: readonly Token[],
  at: number,
  nowMs: number,
  timezone: string,
): { ms: number; next: number } | undefined {
  const found = quantityAt(tokens, at, HINTS);
  if (!found) return undefined;
  if (found.dimension === "duration" && /^(ago|back)$/.test(word(tokens, found.to)))
    return { ms: nowMs - found.value * 60_000, next: found.to + 1 };
  if (found.unit === "m" && word(tokens, found.to) === "ago")
    return { ms: nowMs - found.said * 60_000, next: found.to + 1 };
  const unit = word(tokens, found.to);
  if (/^(days?|weeks?)$/.test(unit) && word(tokens, found.to + 1) === "ago" && found.value < 1000) {
    const parsed = casual.parse(`${found.value} ${unit} ago`, {
      instant: new Date(nowMs),
      timezone: offsetMin(nowMs, timezone),
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
      const spoken = tokens[i - 1]?.text;
      if (!token.whole && (spoken === "at" || spoken === "around" || spoken === "since"))
        return true;
      if (token.text.length === 4 && tokens[i + 1]?.text === "-") return true;
    } else if (TIMELY.has(token.text) || token.text === "weighed") return true;
  }
  return false;
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
    const time = day ? clockAt(tokens, day.next, true) : clockAt(tokens, i, false);
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
  const offset = offsetMin(nowMs, timezone) * 60_000;
  const midnight = Math.floor((nowMs + offset) / DAY_MS) * DAY_MS - (day?.daysBack ?? 0) * DAY_MS;
  let minutes = time?.minutes ?? (day?.hour ?? NOON) * 60;
  if (time && !time.sure) {
    const afternoon = day?.named ? day.hour >= NOON : minutes < (AFTERNOON_UP_TO + 1) * 60;
    if (afternoon && minutes < 720) minutes += 720;
  }
  const local = midnight + minutes * 60_000;
  let ms = local - offsetMin(local - offset, timezone) * 60_000;
  if (ms > nowMs && day?.daysBack === 0 && !time) ms = nowMs;
  while (ms > nowMs) ms -= DAY_MS;
  return ms;
}
