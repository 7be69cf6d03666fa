/** Instants and the wall clock of a time zone. */
const HOUR_MS = 3_600_000;
export const DAY_MS = 24 * HOUR_MS;

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
export function offsetMin(ms: number, timezone: string): number {
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
