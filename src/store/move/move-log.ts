/** Moves a whole log from a file to a database server, or back. The side that it comes from stays as it is. */
import { existsSync, renameSync, rmSync } from "node:fs";
import { openForReading, openForWriting } from "../open-database.js";
import { isPostgres } from "../postgres/address.js";
import type { PostgresDatabase, Sql } from "../postgres/database.js";
import { openPostgres } from "../postgres/open-postgres.js";
import { asStoreFailed, StoreFailed } from "../store-failed.js";
import { lockFileOf, lockForWriting } from "../writer-lock.js";
import { type Carried, carry } from "./carry.js";
import { movedTables } from "./moved-table.js";
import { continueSeqs, postgresSide } from "./postgres-side.js";
import { sqliteSide } from "./sqlite-side.js";

export interface MoveOptions {
  /** One of the two is a path, the other `postgres://…`. */
  readonly from: string;
  readonly to: string;
  /** ISO 8601; asked when tables are made. */
  readonly now: () => string;
}

/**
 * All or nothing, compared row by row and ingot by ingot before it counts. Nothing else may write meanwhile. Throws
 * `StoreFailed`, for a target that is not empty with code `exists`; RangeError if both are of one kind.
 */
export async function moveLog(options: MoveOptions): Promise<Carried> {
  const { from, to } = options;
  if (isPostgres(from) === isPostgres(to)) throw new RangeError("from a file to a server, or back");
  return isPostgres(to) ? fileToServer(options) : serverToFile(options);
}

async function fileToServer({ from, to, now }: MoveOptions): Promise<Carried> {
  const source = openForReading(from);
  try {
    const unlock = lockForWriting(from);
    try {
      const { database, close } = await openPostgres({ address: to, now, connections: 1 });
      try {
        return await database.write(
          async (sql) => {
            await refuseOthers(database, sql);
            await sql.script("SET CONSTRAINTS ALL DEFERRED");
            const side = postgresSide(sql, database.shown);
            const carried = await carry(movedTables(source.db), sqliteSide(source.db, from), side);
            await continueSeqs(sql);
            return carried;
          },
          { patient: true },
        );
      } finally {
        await close();
      }
    } finally {
      unlock();
    }
  } finally {
    source.close();
  }
}

async function serverToFile({ from, to, now }: MoveOptions): Promise<Carried> {
  if (existsSync(to)) {
    throw new StoreFailed("exists", `${to}: there is a file already: nothing was moved`);
  }
  const part = `${to}.part-${process.pid}`;
  const { database, close } = await openPostgres({
    address: from,
    now,
    readonly: true,
    connections: 1,
  });
  try {
    const target = openForWriting(part, now());
    try {
      target.db.exec("BEGIN IMMEDIATE; PRAGMA defer_foreign_keys = ON");
      const carried = await database.read(
        async (sql) => {
          await refuseOthers(database, sql);
          await refuseWaiting(sql, database.shown);
          const side = postgresSide(sql, database.shown);
          return carry(movedTables(target.db), side, sqliteSide(target.db, to));
        },
        { patient: true },
      );
      target.db.exec("COMMIT");
      target.db.pragma("wal_checkpoint(TRUNCATE)");
      target.close();
      if (existsSync(to)) {
        throw new StoreFailed("exists", `${to}: there is a file already: nothing was moved`);
      }
      renameSync(part, to);
      return carried;
    } finally {
      target.close();
    }
  } catch (error) {
    throw asStoreFailed(error, to);
  } finally {
    for (const rest of ["", "-wal", "-shm", "-journal"]) rmSync(`${part}${rest}`, { force: true });
    rmSync(lockFileOf(part), { force: true });
    await close();
  }
}

/** What they write would be left behind, or mixed with what is moved. */
async function refuseOthers({ shown }: PostgresDatabase, sql: Sql): Promise<void> {
  const others = await sql.one<{ connections: number }>(
    `SELECT count(*) AS connections FROM pg_stat_activity
     WHERE datname = current_database() AND application_name LIKE 'hearth-tally%' AND pid <> pg_backend_pid()
       AND backend_type = 'client backend'`,
  );
  if ((others?.connections ?? 0) === 0) return;
  throw new StoreFailed(
    "in-use",
    `${shown}: other processes of this program use this database: stop them, then move`,
  );
}

/** What came in and was not dealt with yet has no place in a file. */
async function refuseWaiting(sql: Sql, shown: string): Promise<void> {
  const table = await sql.one<{ there: boolean }>(
    "SELECT to_regclass('arrival') IS NOT NULL AS there",
  );
  if (table?.there !== true) return;
  const row = await sql.one<{ waiting: number }>("SELECT count(*) AS waiting FROM arrival");
  if ((row?.waiting ?? 0) === 0) return;
  throw new StoreFailed(
    "in-use",
    `${shown}: ${row?.waiting} messages wait to be dealt with: let the bot run until it has answered, stop it, then move`,
  );
}
