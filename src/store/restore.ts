/** Puts a backup in the place of the log; the log that was there is never overwritten, only moved aside. */
import { copyFileSync, existsSync, renameSync, rmSync } from "node:fs";
import type Database from "better-sqlite3";
import { KeptDatabase } from "./kept-database.js";
import { openForWriting } from "./open-database.js";
import { asStoreFailed, StoreFailed } from "./store-failed.js";
import { lockForWriting } from "./writer-lock.js";

export interface RestoreOptions {
  readonly backup: string;
  readonly file: string;
  /** Where a log that is there goes; without it the restore is refused and the log left as it is. */
  readonly aside?: string;
  /** ISO 8601. */
  readonly now: string;
}

/** Throws `StoreFailed`; then the log is as it was. */
export function restoreBackup(options: RestoreOptions): void {
  const { backup, file, aside, now } = options;
  check(backup);
  if (existsSync(file) && aside === undefined) {
    throw new StoreFailed(
      "exists",
      `${file}: there is a log already; nothing was changed. Say --aside FILE to keep it under that name`,
    );
  }
  const unlock = lockForWriting(file);
  const part = `${file}.part-${process.pid}`;
  try {
    copyFileSync(backup, part);
    check(part);
    if (existsSync(file) && aside !== undefined) setAside(file, aside);
    renameSync(part, file);
    unlock();
    openForWriting(file, now).close();
  } catch (error) {
    rmSync(part, { force: true });
    if (aside !== undefined && existsSync(aside) && !existsSync(file)) renameSync(aside, file);
    throw asStoreFailed(error, file);
  } finally {
    unlock();
  }
}

/** A whole log of a version we know, every page of it sound. */
function check(file: string): void {
  if (!existsSync(file)) throw new StoreFailed("not-found", `${file}: no such backup`);
  const db = new KeptDatabase(file, { readonly: true });
  try {
    const found = db.pragma("integrity_check(1)", { simple: true });
    if (found !== "ok") {
      throw new StoreFailed("damaged", `${file}: this backup is damaged: take an older one`);
    }
    if (db.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'migration'").get() === undefined) {
      throw new StoreFailed("wrong-version", `${file}: this is no log of this program`);
    }
  } catch (error) {
    throw asStoreFailed(error, file);
  } finally {
    db.close();
  }
}

function setAside(file: string, to: string): void {
  if (existsSync(to))
    throw new StoreFailed("exists", `${to}: there is a file of this name already`);
  emptyJournal(file);
  // A damaged log keeps its journal, which must not lie beside the restored one.
  for (const suffix of ["-wal", "-shm"]) {
    if (existsSync(`${file}${suffix}`)) renameSync(`${file}${suffix}`, `${to}${suffix}`);
  }
  renameSync(file, to);
}

/** The journal holds the last turns: they go into the file if it can still be opened. */
function emptyJournal(file: string): void {
  let db: Database.Database | undefined;
  try {
    db = new KeptDatabase(file);
    db.pragma("wal_checkpoint(TRUNCATE)");
  } catch {
    // Damaged: it is moved aside as it is.
  } finally {
    db?.close();
  }
}
