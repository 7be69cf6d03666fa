/** A day as a time zone counts it: where it begins and ends in UTC, across daylight saving. */
const MINUTE_MS = 60_000;

/** Calendar date `YYYY-MM-DD` of a moment in a zone. Throws RangeError for an unknown zone. */
export function dateIn(iso: string, timezone: string): string {
  const parts = new Intl.DateTimeFormat("en-CA", {
    timeZone: timezone,
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
  }).formatToParts(new Date(iso));
  const part = (type: string): string => parts.find((each) => each.type === type)?.value ?? "";
  return `${part("year")}-${part("month")}-${part("day")}`;
}

/** Clock time `HH:MM` of a moment in a zone. */
export const clockIn = (iso: string, timezone: string): string =>
  new Intl.DateTimeFormat("en-GB", {
    timeZone: timezone,
    hour: "2-digit",
    minute: "2-digit",
  }).format(new Date(iso));

/** First moment of the date and of the next one, ISO 8601 in UTC. */
export function dayBounds(date: string, timezone: string): { from: string; to: string } {
  return { from: startOf(date, timezone), to: startOf(nextDate(date), timezone) };
}

const nextDate = (date: string): string => {
  const day = new Date(`${date}T00:00:00Z`);
  day.setUTCDate(day.getUTCDate() + 1);
  return day.toISOString().slice(0, 10);
};

function startOf(date: string, timezone: string): string {
  const utcMidnight = Date.parse(`${date}T00:00:00Z`);
  const shift = offsetMinutes(utcMidnight, timezone);
  const first = utcMidnight - shift * MINUTE_MS;
  const again = utcMidnight - offsetMinutes(first, timezone) * MINUTE_MS;
  return new Date(again).toISOString();
}

/** Minutes that the zone's clock is ahead of UTC at a moment. */
function offsetMinutes(ms: number, timezone: string): number {
  const parts = new Intl.DateTimeFormat("en-US", {
    timeZone: timezone,
    hourCycle: "h23",
    year: "numeric",
    month: "numeric",
    day: "numeric",
    hour: "numeric",
    minute: "numeric",
    second: "numeric",
  }).formatToParts(new Date(ms));
  const part = (type: string): number => Number(parts.find((each) => each.type === type)?.value);
  const wall = Date.UTC(
    part("year"),
    part("month") - 1,
    part("day"),
    part("hour"),
    part("minute"),
    part("second"),
  );
  return Math.round((wall - ms) / MINUTE_MS);
}

/** Whether the zone is one the runtime knows. */
export function isTimezone(timezone: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: timezone });
    return true;
  } catch {
    return false;
  }
}
