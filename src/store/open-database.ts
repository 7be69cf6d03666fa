/** Opens the file of a log: rights, lock, journal, a look for damage, tables brought up to date. */

import { chmodSync, closeSync, existsSync, openSync, realpathSync } from "node:fs";
import type Database from "better-sqlite3";
import { KeptDatabase } from "./kept-database.js";
import { migrate, refuseOtherVersion } from "./migrate.js";
import { asStoreFailed, StoreFailed } from "./store-failed.js";
import { lockForWriting } from "./writer-lock.js";

export interface OpenDatabase {
  readonly db: Database.Database;
  /** Closes the file and lets go of the writer's lock. */
  readonly close: () => void;
}

/** Waiting for a reader's short locks, ms. */
const BUSY_MS = 5000;
/** Pages in the journal before they are moved into the file: 16 MB. */
const CHECKPOINT_PAGES = 4000;
const OWNER_ONLY = 0o600;
export const IN_MEMORY = ":memory:";

export function openForWriting(file: string, at: string): OpenDatabase {
  let unlock = () => {};
  let db: Database.Database | undefined;
  try {
    if (file !== IN_MEMORY) {
      const real = ownerOnly(file);
      unlock = lockForWriting(real);
    }
    db = new KeptDatabase(file, { timeout: BUSY_MS });
    db.pragma("foreign_keys = ON");
    db.pragma("journal_mode = WAL");
    db.pragma("synchronous = FULL");
    db.pragma(`wal_autocheckpoint = ${CHECKPOINT_PAGES}`);
    refuseDamaged(db, file);
    migrate(db, at);
    const opened = db;
    return {
      db,
      close: () => {
        opened.close();
        unlock();
      },
    };
  } catch (error) {
    db?.close();
    unlock();
    throw withFile(error, file);
  }
}

/** For commands that only read; works beside a writer. */
export function openForReading(file: string): OpenDatabase {
  if (!existsSync(file)) {
    throw new StoreFailed("not-found", `${file}: no such log: check --db, or start the chat on it`);
  }
  let db: Database.Database | undefined;
  try {
    db = new KeptDatabase(file, { readonly: true, timeout: BUSY_MS });
    refuseOtherVersion(db);
    const opened = db;
    return { db, close: () => opened.close() };
  } catch (error) {
    db?.close();
    throw withFile(error, file);
  }
}

/**
 * The log holds what people wrote. SQLite gives the files beside it the same rights. Gives the file's own
 * path, so that a link to it is not taken for another log.
 */
function ownerOnly(file: string): string {
  closeSync(openSync(file, "a", OWNER_ONLY));
  const real = realpathSync(file);
  for (const part of [real, `${real}-wal`, `${real}-shm`]) {
    if (existsSync(part)) chmodSync(part, OWNER_ONLY);
  }
  return real;
}

function refuseDamaged(db: Database.Database, file: string): void {
  const found = db.prepare("PRAGMA integrity_check(1)").pluck().get();
  if (found === "ok") return;
  throw new StoreFailed(
    "damaged",
    `${file}: the log is damaged: keep a copy of the file, then put the latest backup in its place (${found})`,
  );
}

function withFile(error: unknown, file: string): Error {
  const failed = asStoreFailed(error, file);
  if (!(failed instanceof StoreFailed) || failed.message.startsWith(file)) return failed;
  return new StoreFailed(failed.code, `${file}: ${failed.message}`, failed.cause);
}
