/**
 * One writer a log. A tiny database beside the log is held in an exclusive transaction: a lock of the
 * operating system, gone with the process however it ends. Readers never ask for it.
 */

import { closeSync, openSync } from "node:fs";
import type Database from "better-sqlite3";
import { KeptDatabase } from "./kept-database.js";
import { asStoreFailed, StoreFailed } from "./store-failed.js";

/** Long enough for a run that is just ending to let go. */
const PATIENCE_MS = 300;

export const lockFileOf = (file: string): string => `${file}.lock.sqlite`;

/** Takes the lock and gives back what lets it go. Throws `in-use` if another process has it. */
export function lockForWriting(file: string): () => void {
  const lockFile = lockFileOf(file);
  let lock: Database.Database | undefined;
  try {
    closeSync(openSync(lockFile, "a", 0o600));
    lock = new KeptDatabase(lockFile, { timeout: PATIENCE_MS });
    lock.pragma("journal_mode = MEMORY");
    lock.exec("BEGIN EXCLUSIVE");
  } catch (error) {
    lock?.close();
    const failed = asStoreFailed(error, lockFile);
    if (!(failed instanceof StoreFailed) || failed.code !== "in-use") throw failed;
    throw new StoreFailed(
      "in-use",
      `${file}: another process of this program writes to this log: stop it first, or give --db another file`,
      error,
    );
  }
  const held = lock;
  return () => held.close();
}
