/** The log's databases: a SQLite file, or a PostgreSQL server. */
import type { LogStore, WorkStore } from "../logbook/index.js";
import type { Access } from "./access-rows.js";
import { openSqliteAccess } from "./access-store.js";
import type { Carried } from "./move/carry.js";
import type { MoveOptions } from "./move/move-log.js";
import { openForReading, openForWriting } from "./open-database.js";
import { isPostgres } from "./postgres/address.js";
import type { OpenedPostgres, OpenPostgresOptions } from "./postgres/open-postgres.js";
import type { PostgresWorkOptions } from "./postgres/work-store.js";
import { SqliteStore } from "./sqlite-store.js";

export type { Access } from "./access-rows.js";
export { openSqliteAccess } from "./access-store.js";
export { datesToKeep, KEEP_RULE, type KeepRule, startDailyBackups } from "./daily-backups.js";
export type { Carried } from "./move/carry.js";
export type { MoveOptions } from "./move/move-log.js";
export { isPostgres, shownAddress } from "./postgres/address.js";
export type { PostgresDatabase, Sql } from "./postgres/database.js";
export type { OpenedPostgres, OpenPostgresOptions } from "./postgres/open-postgres.js";
export { restoreBackup } from "./restore.js";
export { StoreFailed, type StoreFailure } from "./store-failed.js";

export interface SqliteStoreOptions {
  /** Path of the log; `:memory:` in tests. */
  readonly file: string;
  /** For commands that only read; works while another process writes. */
  readonly readonly?: boolean;
  /** ISO 8601; asked when tables are made. */
  readonly now: () => string;
}

/** Opens a log, making it if it is not there. Throws `StoreFailed` with a line that says what to do. */
export async function openSqliteStore(options: SqliteStoreOptions): Promise<LogStore> {
  const { file, readonly = false, now } = options;
  return new SqliteStore(readonly ? openForReading(file) : openForWriting(file, now()));
}

/** Throws `StoreFailed` with a line that says what to do and never holds the password. */
export async function openPostgres(options: OpenPostgresOptions): Promise<OpenedPostgres> {
  // The driver is loaded by those who need it.
  return (await import("./postgres/open-postgres.js")).openPostgres(options);
}

/** What several processes share, on a log that was opened before. */
export async function openPostgresWork(options: PostgresWorkOptions): Promise<WorkStore> {
  return (await import("./postgres/work-store.js")).openPostgresWork(options);
}

export interface LogOptions {
  /** Path of a file, or `postgres://…`. */
  readonly db: string;
  /** For commands that only read; works while another process writes. */
  readonly readonly?: boolean;
  /** ISO 8601; asked when tables are made. */
  readonly now: () => string;
}

/** The log at a path or an address. Throws `StoreFailed` with a line that says what to do. */
export async function openStore({ db, ...options }: LogOptions): Promise<LogStore> {
  if (!isPostgres(db)) return openSqliteStore({ file: db, ...options });
  return (await openPostgres({ address: db, ...options })).store;
}

/** The log and who may come in; `close` closes both. */
export async function openLog(
  options: Omit<LogOptions, "readonly">,
): Promise<{ readonly store: LogStore; readonly access: Access; close(): Promise<void> }> {
  const { db, now } = options;
  if (isPostgres(db)) return openPostgres({ address: db, now });
  const store = await openSqliteStore({ file: db, now });
  const access = openSqliteAccess({ file: db });
  return {
    store,
    access,
    close: async () => {
      await access.close();
      await store.close();
    },
  };
}

/** Moves a whole log between a file and a server: src/store/move. */
export async function moveLog(options: MoveOptions): Promise<Carried> {
  return (await import("./move/move-log.js")).moveLog(options);
}
