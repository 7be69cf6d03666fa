/** A day as a time zone counts it: where it begins and ends in UTC, across daylight saving. */
import { isTimezone, offsetMinutes, wallClock } from "../units/index.js";

export { isTimezone };

const MINUTE_MS = 60_000;

function clockAt(iso: string, timezone: string): (type: Intl.DateTimeFormatPartTypes) => string {
  const part = wallClock(Date.parse(iso), timezone);
  if (part === undefined) throw new RangeError(`no time zone called ${timezone}`);
  return part;
}

/** Calendar date `YYYY-MM-DD` of a moment in a zone. Throws RangeError for an unknown zone. */
export function dateIn(iso: string, timezone: string): string {
  const part = clockAt(iso, timezone);
  return `${part("year")}-${part("month")}-${part("day")}`;
}

/** Clock time `HH:MM` of a moment in a zone. Throws RangeError for an unknown zone. */
export function clockIn(iso: string, timezone: string): string {
  const part = clockAt(iso, timezone);
  return `${part("hour")}:${part("minute")}`;
}

/** First moment of the date and of the next one, ISO 8601 in UTC. Throws RangeError for an unknown zone. */
export function dayBounds(date: string, timezone: string): { from: string; to: string } {
  return { from: startOf(date, timezone), to: startOf(nextDate(date), timezone) };
}

const nextDate = (date: string): string => {
  const day = new Date(`${date}T00:00:00Z`);
  day.setUTCDate(day.getUTCDate() + 1);
  return day.toISOString().slice(0, 10);
};

function startOf(date: string, timezone: string): string {
  if (!isTimezone(timezone)) throw new RangeError(`no time zone called ${timezone}`);
  const utcMidnight = Date.parse(`${date}T00:00:00Z`);
  const shift = offsetMinutes(utcMidnight, timezone);
  const first = utcMidnight - shift * MINUTE_MS;
  const again = utcMidnight - offsetMinutes(first, timezone) * MINUTE_MS;
  return new Date(again).toISOString();
}
