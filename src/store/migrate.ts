/** Brings a file's tables to the version of the code. */

import type { Database } from "better-sqlite3";
import type { z } from "zod";
import { appliedRow, missingMigrations, readMigrations, refuseOlder } from "./migrations.js";
import { StoreFailed } from "./store-failed.js";
import { utc } from "./times.js";

export { MIGRATIONS_FOLDER, readMigrations } from "./migrations.js";

const TABLE = `CREATE TABLE migration (
  number     INTEGER PRIMARY KEY,
  name       TEXT NOT NULL,
  sha256     TEXT NOT NULL CHECK (length(sha256) = 64),
  applied_at TEXT NOT NULL CHECK (applied_at LIKE '____-__-__T__:__:__.___Z')
) STRICT`;

/** All that is missing in one transaction: an interrupted migration leaves the old tables. */
export function migrate(db: Database, at: string, migrations = readMigrations()): void {
  db.transaction(() => {
    const applied = appliedMigrations(db);
    if (applied === undefined) db.exec(TABLE);
    const missing = missingMigrations(applied ?? [], migrations);
    const note = db.prepare(
      "INSERT INTO migration (number, name, sha256, applied_at) VALUES (?, ?, ?, ?)",
    );
    for (const { number, name, sql, sha256 } of missing) {
      db.exec(sql);
      note.run(number, name, sha256, utc(at));
    }
  }).immediate();
}

/** For a reader, which changes nothing: throws unless the tables are those of the code. */
export function refuseOtherVersion(db: Database, migrations = readMigrations()): void {
  refuseOlder(appliedMigrations(db) ?? [], migrations);
}

/** Undefined for an empty file. Throws if the tables in it are not ours. */
function appliedMigrations(db: Database): readonly z.infer<typeof appliedRow>[] | undefined {
  const tables = db.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all();
  if (tables.length === 0) return undefined;
  if (!tables.includes("migration")) {
    throw new StoreFailed("wrong-version", "this file is a database, but no log of this program");
  }
  const rows = db.prepare("SELECT number, name, sha256 FROM migration ORDER BY number").all();
  return rows.map((row) => appliedRow.parse(row));
}
