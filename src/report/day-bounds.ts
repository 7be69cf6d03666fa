/** A day as a time zone counts it: where it begins and ends in UTC, across daylight saving. */
const MINUTE_MS = 60_000;

/** Formatters by zone: making one costs more than a whole turn of the conversation. */
const formatters = new Map<string, Intl.DateTimeFormat>();
function formatter(timezone: string): Intl.DateTimeFormat {
  const known = formatters.get(timezone);
  if (known !== undefined) return known;
  const made = new Intl.DateTimeFormat("en-US", {
    timeZone: timezone,
    hourCycle: "h23",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
  });
  formatters.set(timezone, made);
  return made;
}

function wallClock(ms: number, timezone: string): (type: string) => string {
  const parts = formatter(timezone).formatToParts(ms);
  return (type) => parts.find((each) => each.type === type)?.value ?? "";
}

/** Calendar date `YYYY-MM-DD` of a moment in a zone. Throws RangeError for an unknown zone. */
export function dateIn(iso: string, timezone: string): string {
  const part = wallClock(Date.parse(iso), timezone);
  return `${part("year")}-${part("month")}-${part("day")}`;
}

/** Clock time `HH:MM` of a moment in a zone. */
export function clockIn(iso: string, timezone: string): string {
  const part = wallClock(Date.parse(iso), timezone);
  return `${part("hour")}:${part("minute")}`;
}

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
  const part = wallClock(ms, timezone);
  const wall = Date.UTC(
    Number(part("year")),
    Number(part("month")) - 1,
    Number(part("day")),
    Number(part("hour")),
    Number(part("minute")),
    Number(part("second")),
  );
  return Math.round((wall - ms) / MINUTE_MS);
}

/** Whether the zone is one the runtime knows. */
export function isTimezone(timezone: string): boolean {
  try {
    formatter(timezone);
    return true;
  } catch {
    return false;
  }
}
