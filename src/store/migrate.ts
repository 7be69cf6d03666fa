/** Brings a log's tables to the version of the code: numbered SQL files, each applied once, never edited. */

import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Database } from "better-sqlite3";
import { z } from "zod";
import { StoreFailed } from "./store-failed.js";
import { utc } from "./times.js";

/** Beside `src` and `dist` alike. */
export const MIGRATIONS_FOLDER = fileURLToPath(new URL("../../migrations/", import.meta.url));
const NAME = /^(\d{4})-[a-z0-9-]+\.sqlite\.sql$/;

interface Migration {
  readonly number: number;
  readonly name: string;
  readonly sql: string;
  readonly sha256: string;
}
const appliedRow = z.object({ number: z.int(), name: z.string(), sha256: z.string() });

const TABLE = `CREATE TABLE migration (
  number     INTEGER PRIMARY KEY,
  name       TEXT NOT NULL,
  sha256     TEXT NOT NULL CHECK (length(sha256) = 64),
  applied_at TEXT NOT NULL CHECK (applied_at LIKE '____-__-__T__:__:__.___Z')
) STRICT`;

/** Line ends do not count, so that a checkout on another system has the same sum. */
export function readMigrations(folder = MIGRATIONS_FOLDER): readonly Migration[] {
  const found = readdirSync(folder)
    .flatMap((name) => {
      const number = NAME.exec(name)?.[1];
      if (number === undefined) return [];
      const sql = readFileSync(`${folder}/${name}`, "utf8").replaceAll("\r\n", "\n");
      const sha256 = createHash("sha256").update(sql).digest("hex");
      return [{ number: Number(number), name, sql, sha256 }];
    })
    .sort((a, b) => a.number - b.number);
  const twice = found.find(({ number }, index) => found[index + 1]?.number === number);
  if (twice !== undefined) throw new RangeError(`two migrations have the number of ${twice.name}`);
  return found;
}

/** All that is missing in one transaction: an interrupted migration leaves the old tables. */
export function migrate(db: Database, at: string, migrations = readMigrations()): void {
  db.transaction(() => {
    const applied = appliedMigrations(db);
    if (applied === undefined) db.exec(TABLE);
    refuseOthers(applied ?? [], migrations);
    const done = new Set(applied?.map(({ number }) => number));
    const note = db.prepare(
      "INSERT INTO migration (number, name, sha256, applied_at) VALUES (?, ?, ?, ?)",
    );
    for (const { number, name, sql, sha256 } of migrations) {
      if (done.has(number)) continue;
      db.exec(sql);
      note.run(number, name, sha256, utc(at));
    }
  }).immediate();
}

/** For a reader, which changes nothing: throws unless the tables are those of the code. */
export function refuseOtherVersion(db: Database, migrations = readMigrations()): void {
  const applied = appliedMigrations(db) ?? [];
  refuseOthers(applied, migrations);
  if (applied.length < migrations.length) {
    throw new StoreFailed(
      "wrong-version",
      "the log is of an older version of the program: start the bot or the chat on it once, then try again",
    );
  }
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

function refuseOthers(
  applied: readonly z.infer<typeof appliedRow>[],
  migrations: readonly Migration[],
): void {
  for (const old of applied) {
    const ours = migrations.find(({ number }) => number === old.number);
    if (ours === undefined) {
      throw new StoreFailed(
        "wrong-version",
        `the log was written by a newer version of the program (${old.name}): update the program`,
      );
    }
    if (ours.sha256 !== old.sha256) {
      throw new StoreFailed(
        "wrong-version",
        `migrations/${ours.name} was changed after this log was made with it: put the file back as it was ` +
          "and make the change in a new migration",
      );
    }
  }
}
