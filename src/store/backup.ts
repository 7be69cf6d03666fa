/** A consistent copy of a log while others write, checked before it gets its name. */

import { closeSync, existsSync, openSync, renameSync, rmSync } from "node:fs";
import type Database from "better-sqlite3";
import { KeptDatabase } from "./kept-database.js";
import { asStoreFailed, StoreFailed } from "./store-failed.js";

/** The copy is one file, readable by its owner only. Throws `exists` if the file is there. */
export async function backupTo(db: Database.Database, file: string): Promise<void> {
  if (existsSync(file)) {
    throw new StoreFailed("exists", `${file}: there is a file already: give the copy another name`);
  }
  const part = `${file}.part-${process.pid}`;
  try {
    closeSync(openSync(part, "w", 0o600));
    // One moment of the log, whatever others write meanwhile; into the empty file with our rights on it.
    db.exec(`VACUUM INTO '${part.replaceAll("'", "''")}'`);
    seal(part);
    if (existsSync(file)) {
      throw new StoreFailed(
        "exists",
        `${file}: there is a file already: give the copy another name`,
      );
    }
    renameSync(part, file);
  } catch (error) {
    rmSync(part, { force: true });
    throw asStoreFailed(error, file);
  }
}

/** Turns the copy into a single file and checks every page, index and reference of it. */
function seal(file: string): void {
  const copy = new KeptDatabase(file, { fileMustExist: true });
  try {
    copy.pragma("journal_mode = DELETE");
    const found = copy.prepare("PRAGMA integrity_check(1)").pluck().get();
    const orphans = copy.pragma("foreign_key_check") as readonly unknown[];
    if (found === "ok" && orphans.length === 0) return;
    throw new StoreFailed("damaged", `${file}: the copy is damaged and was thrown away (${found})`);
  } finally {
    copy.close();
  }
}
