import { copyFileSync, existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { backupOfDay, datesToKeep } from "../../src/store/daily-backups.js";
import { openSqliteStore, restoreBackup } from "../../src/store/index.js";
import { sampleMessage } from "./sample-turns.js";

const now = (): string => "2026-03-02T08:00:00.000Z";
let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "hearth-restore-"));
  file = join(folder, "log.sqlite");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

async function write(at: string, ...ids: string[]): Promise<void> {
  const store = await openSqliteStore({ file: at, now });
  for (const id of ids) await store.receive(sampleMessage({ id }));
  await store.close();
}
async function messagesIn(at: string): Promise<string[]> {
  const store = await openSqliteStore({ file: at, now });
  const waiting = await store.unhandled();
  await store.close();
  return waiting.map(({ id }) => id);
}
async function backupFile(): Promise<string> {
  const store = await openSqliteStore({ file, now });
  const made = await backupOfDay(store, join(folder, "backups"), now());
  await store.close();
  return String(made);
}

test("a backup becomes the log where there is none", async () => {
  await write(file, "a", "b");
  const backup = await backupFile();
  const other = join(folder, "new.sqlite");
  restoreBackup({ backup, file: other, now: now() });
  expect(await messagesIn(other)).toEqual(["m-a", "m-b"]);
});

test("a log that is there is not overwritten in silence, and moved aside whole when told so", async () => {
  await write(file, "a");
  const backup = await backupFile();
  await write(file, "b");
  expect(() => restoreBackup({ backup, file, now: now() })).toThrow(/there is a log already/);
  expect(await messagesIn(file)).toEqual(["m-a", "m-b"]);
  const aside = join(folder, "aside.sqlite");
  restoreBackup({ backup, file, aside, now: now() });
  expect(await messagesIn(file)).toEqual(["m-a"]);
  expect(await messagesIn(aside)).toEqual(["m-a", "m-b"]);
});

test("a damaged backup, another file and a missing one are refused; the log stays", async () => {
  await write(file, "a");
  const backup = await backupFile();
  const bad = join(folder, "bad.sqlite");
  writeFileSync(bad, "no database");
  const aside = join(folder, "aside.sqlite");
  for (const wrong of [bad, join(folder, "none.sqlite")]) {
    expect(() => restoreBackup({ backup: wrong, file, aside, now: now() })).toThrow(folder);
  }
  copyFileSync(backup, bad);
  writeFileSync(bad, Buffer.alloc(8192, 7), { flag: "r+" });
  expect(() => restoreBackup({ backup: bad, file, aside, now: now() })).toThrow(folder);
  expect(existsSync(aside)).toBe(false);
  expect(await messagesIn(file)).toEqual(["m-a"]);
});

test("a log that a process writes to is not replaced", async () => {
  await write(file, "a");
  const backup = await backupFile();
  const store = await openSqliteStore({ file, now });
  const aside = join(folder, "aside.sqlite");
  expect(() => restoreBackup({ backup, file, aside, now: now() })).toThrow(/another process/);
  await store.close();
});

test("one copy a day, and old ones go by the rule; other files stay", async () => {
  await write(file, "a");
  const store = await openSqliteStore({ file, now });
  const backups = join(folder, "backups");
  const rule = { days: 2, weeks: 0, months: 0 };
  await backupOfDay(store, backups, "2026-03-02T08:00:00Z", rule);
  writeFileSync(join(backups, "mine.sqlite"), "kept");
  expect(await backupOfDay(store, backups, "2026-03-02T20:00:00Z", rule)).toBeUndefined();
  await backupOfDay(store, backups, "2026-03-03T08:00:00Z", rule);
  await backupOfDay(store, backups, "2026-03-04T08:00:00Z", rule);
  await store.close();
  expect(readdirSync(backups).sort()).toEqual([
    "log-2026-03-03.sqlite",
    "log-2026-03-04.sqlite",
    "mine.sqlite",
  ]);
  expect(await messagesIn(join(backups, "log-2026-03-04.sqlite"))).toEqual(["m-a"]);
});

test("the rule keeps the last days, the first copy of each week and of each month", () => {
  const dates = Array.from({ length: 120 }, (_, index) =>
    new Date(Date.UTC(2026, 0, 1) + index * 86_400_000).toISOString().slice(0, 10),
  );
  // By a calendar: 2026-04-30 is a Thursday; Mondays before it: 04-27, 04-20, 04-13.
  expect(datesToKeep(dates, { days: 3, weeks: 3, months: 4 })).toEqual([
    "2026-04-30",
    "2026-04-29",
    "2026-04-28",
    "2026-04-27",
    "2026-04-20",
    "2026-04-13",
    "2026-04-01",
    "2026-03-01",
    "2026-02-01",
    "2026-01-01",
  ]);
  expect(datesToKeep([])).toEqual([]);
});
