/** How far the clock of a time zone is from UTC, and what it shows. Zones by their IANA names. */
const MINUTE_MS = 60_000;
const SECOND_MS = 1000;

/** Formatters by zone: making one costs more than a whole turn of the conversation. Undefined for a zone nobody knows. */
const formatters = new Map<string, Intl.DateTimeFormat | undefined>();
function formatter(timezone: string): Intl.DateTimeFormat | undefined {
  if (!formatters.has(timezone)) formatters.set(timezone, made(timezone));
  return formatters.get(timezone);
}

function made(timezone: string): Intl.DateTimeFormat | undefined {
  try {
    return new Intl.DateTimeFormat("en-US", {
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
    return undefined;
  }
}

/** Whether the zone is one the runtime knows. */
export const isTimezone = (timezone: string): boolean => formatter(timezone) !== undefined;

/** The parts of date and clock at a moment (ms since 1970 in UTC), by name; undefined for an unknown zone. */
export function wallClock(
  ms: number,
  timezone: string,
): ((type: Intl.DateTimeFormatPartTypes) => string) | undefined {
  const parts = formatter(timezone)?.formatToParts(ms);
  return parts && ((type) => parts.find((each) => each.type === type)?.value ?? "");
}

/** Minutes that the zone's clock is ahead of UTC at a moment; 0 for an unknown zone. */
export function offsetMinutes(ms: number, timezone: string): number {
  const part = wallClock(ms, timezone);
  if (part === undefined) return 0;
  const wall = Date.UTC(
    Number(part("year")),
    Number(part("month")) - 1,
    Number(part("day")),
    Number(part("hour")),
    Number(part("minute")),
    Number(part("second")),
  );
  return Math.round((wall - Math.floor(ms / SECOND_MS) * SECOND_MS) / MINUTE_MS);
}
