/** An instant as the clock of a time zone shows it. */
import { offsetMinutes } from "../units/index.js";

const HOUR_MS = 3_600_000;
export const DAY_MS = 24 * HOUR_MS;

/** An instant (ms since 1970) as ISO 8601 with the zone's offset. */
export function isoIn(ms: number, timezone: string): string {
  const offset = offsetMinutes(ms, timezone);
  const local = new Date(ms + offset * 60_000).toISOString().slice(0, 19);
  const two = (value: number): string => String(Math.floor(value)).padStart(2, "0");
  const size = Math.abs(offset);
  return `${local}${offset < 0 ? "-" : "+"}${two(size / 60)}:${two(size % 60)}`;
}
