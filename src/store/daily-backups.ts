/** A copy of the log for each day, and the rule by which old copies are thrown away. */
import { mkdirSync, readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import type { LogStore } from "../logbook/index.js";

/** How many copies stay. */
export interface KeepRule {
  readonly days: number;
  /** The first copy of each of so many weeks (Monday to Sunday). */
  readonly weeks: number;
  readonly months: number;
}
/** Common practice, no source; days 3 to 31, weeks 0 to 52, months 0 to 120. */
export const KEEP_RULE: KeepRule = { days: 7, weeks: 5, months: 12 };

const NAME = /^log-(\d{4}-\d\d-\d\d)\.sqlite$/;
const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;

/** The dates (YYYY-MM-DD) that the rule keeps, newest first. */
export function datesToKeep(dates: readonly string[], rule: KeepRule = KEEP_RULE): string[] {
  const newestFirst = [...new Set(dates)].sort().reverse();
  const keep = new Set(newestFirst.slice(0, rule.days));
  for (const [count, periodOf] of [
    [rule.weeks, mondayOf],
    [rule.months, (date: string) => date.slice(0, 7)],
  ] as const) {
    const first = new Map<string, string>();
    // Newest first, so that the last one set is the first of its period.
    for (const date of newestFirst) first.set(periodOf(date), date);
    for (const date of [...first.values()].slice(0, count)) keep.add(date);
  }
  return newestFirst.filter((date) => keep.has(date));
}

/**
 * Makes the copy of this day if it is not there, checked by opening it, then throws away what the rule
 * does not keep. Returns the file made, if one was. Files of other names are left alone.
 */
export async function backupOfDay(
  store: Pick<LogStore, "backup">,
  folder: string,
  now: string,
  rule: KeepRule = KEEP_RULE,
): Promise<string | undefined> {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const today = now.slice(0, 10);
  const before = datesIn(folder);
  if (before.includes(today)) return undefined;
  const file = fileOf(folder, today);
  await store.backup(file);
  const keep = new Set(datesToKeep([...before, today], rule));
  for (const date of before) if (!keep.has(date)) rmSync(fileOf(folder, date), { force: true });
  return file;
}

export interface DailyBackups {
  /** No further copy begins; resolves when one that is being made is whole. */
  stop(): Promise<void>;
}

/** Looks every hour whether the day has its copy, the first time at once. */
export function startDailyBackups(options: {
  readonly store: Pick<LogStore, "backup">;
  readonly folder: string;
  /** ISO 8601. */
  readonly now: () => string;
  readonly onMade: (file: string) => void;
  readonly onFailure: (cause: unknown) => void;
}): DailyBackups {
  const look = async (): Promise<void> => {
    try {
      const made = await backupOfDay(options.store, options.folder, options.now());
      if (made !== undefined) options.onMade(made);
    } catch (cause) {
      options.onFailure(cause);
    }
  };
  let looking = look();
  const timer = setInterval(() => {
    looking = looking.then(look);
  }, HOUR_MS);
  timer.unref();
  return {
    async stop() {
      clearInterval(timer);
      await looking;
    },
  };
}

const fileOf = (folder: string, date: string): string => join(folder, `log-${date}.sqlite`);

function datesIn(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => NAME.exec(name)?.[1] ?? []);
}

function mondayOf(date: string): string {
  const at = Date.parse(`${date}T00:00:00Z`);
  const sinceMonday = (new Date(at).getUTCDay() + 6) % 7;
  return new Date(at - sinceMonday * DAY_MS).toISOString().slice(0, 10);
}
