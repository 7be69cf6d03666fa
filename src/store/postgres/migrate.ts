/** Brings a database's tables to the version of the code; of several workers that start at once, one does it. */
import { z } from "zod";
import { appliedRow, missingMigrations, readMigrations, refuseOlder } from "../migrations.js";
import { StoreFailed } from "../store-failed.js";
import { utc } from "../times.js";
import type { PostgresDatabase, Sql } from "./database.js";

/** The lock that workers take one after another while they look at the tables. Any number that nobody else uses. */
const LOCK = 7_245_110_001;

const TABLE = `CREATE TABLE migration (
  number     integer PRIMARY KEY,
  name       text COLLATE "C" NOT NULL,
  sha256     text COLLATE "C" NOT NULL CHECK (length(sha256) = 64),
  applied_at text COLLATE "C" NOT NULL CHECK (applied_at LIKE '____-__-__T__:__:__.___Z')
)`;

export const postgresMigrations = () => readMigrations(undefined, "postgres");

/** All that is missing in one transaction. Throws `wrong-version` if the tables are not ours. */
export async function migratePostgres(
  database: PostgresDatabase,
  at: string,
  migrations = postgresMigrations(),
): Promise<void> {
  const current = await database.read(appliedMigrations);
  if (current !== undefined && missingMigrations(current, migrations).length === 0) return;
  await database.write(
    async (sql) => {
      await sql.run("SELECT pg_advisory_xact_lock($1)", LOCK);
      const applied = await appliedMigrations(sql);
      if (applied === undefined) await sql.script(TABLE);
      for (const { number, name, sql: text, sha256 } of missingMigrations(
        applied ?? [],
        migrations,
      )) {
        await sql.script(text);
        await sql.run(
          "INSERT INTO migration (number, name, sha256, applied_at) VALUES ($1, $2, $3, $4)",
          number,
          name,
          sha256,
          utc(at),
        );
      }
    },
    { patient: true },
  );
}

/** For a reader, which changes nothing. */
export async function refuseOtherPostgres(database: PostgresDatabase): Promise<void> {
  const applied = await database.read(appliedMigrations);
  if (applied === undefined) {
    throw new StoreFailed(
      "not-found",
      `${database.shown}: there is no log in this database: check --db, or start the bot on it`,
    );
  }
  try {
    refuseOlder(applied, postgresMigrations());
  } catch (error) {
    throw database.failed(error);
  }
}

/** Undefined where there are no tables. Throws if the tables are not ours. */
async function appliedMigrations(
  sql: Sql,
): Promise<readonly z.infer<typeof appliedRow>[] | undefined> {
  const tables = await sql.all<{ name: string }>(
    "SELECT c.relname AS name FROM pg_class c WHERE c.relnamespace = current_schema()::regnamespace AND c.relkind IN ('r', 'p')",
  );
  if (tables.length === 0) return undefined;
  if (!tables.some(({ name }) => name === "migration")) {
    throw new StoreFailed(
      "wrong-version",
      "there are tables in this database, but no log of this program: give it a database of its own",
    );
  }
  const rows = await sql.all("SELECT number, name, sha256 FROM migration ORDER BY number");
  return z.array(appliedRow).parse(rows);
}
