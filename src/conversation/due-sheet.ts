/** Whether a chat's day sheet is due, from the clock of its time zone alone. Pure. */
import type { SheetHour } from "../logbook/index.js";
import { clockIn, dateIn } from "../report/index.js";

export interface SheetDay {
  /** The day whose hour has come, YYYY-MM-DD. */
  readonly on: string;
  /** The day that the sheet tells of. */
  readonly of: string;
}

/** A sheet whose hour passed before midnight still comes so many minutes later. Common practice, no source; 60 to 360. */
const LATE_MIN = 240;
const NOON_MIN = 12 * 60;
const DAY_MIN = 24 * 60;

/**
 * The sheet that is due at `now` (ISO 8601) and was not seen to. Its hour comes when the chat's clock shows it or has
 * just passed over it; an hour shown twice counts once; an hour that had passed when it was set waits for the next day.
 */
export function dueSheet(
  { at, doneOn = "", minute }: Pick<SheetHour, "minute" | "at" | "doneOn">,
  now: string,
  timezone: string,
): SheetDay | undefined {
  const today = dateIn(now, timezone);
  const clock = minutesOf(clockIn(now, timezone));
  const on = clock >= minute ? today : dayBefore(today);
  if (clock < minute && clock + DAY_MIN - minute > LATE_MIN) return undefined;
  if (doneOn >= on) return undefined;
  const setAt = `${dateIn(at, timezone)} ${clockIn(at, timezone)}`;
  if (setAt >= `${on} ${clockOf(minute)}`) return undefined;
  return { on, of: dayTold(on, minute) };
}

/** An hour before noon closes the day before. */
export const isOfDayBefore = (minute: number): boolean => minute < NOON_MIN;
const dayTold = (on: string, minute: number): string =>
  isOfDayBefore(minute) ? dayBefore(on) : on;

/** "19:00". */
export const clockOf = (minute: number): string =>
  `${String(Math.floor(minute / 60)).padStart(2, "0")}:${String(minute % 60).padStart(2, "0")}`;

const minutesOf = (clock: string): number =>
  Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3, 5));

function dayBefore(date: string): string {
  const day = new Date(`${date}T00:00:00Z`);
  day.setUTCDate(day.getUTCDate() - 1);
  return day.toISOString().slice(0, 10);
}
