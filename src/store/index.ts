/** The log's databases. Today one: SQLite. */
import type { LogStore } from "../logbook/index.js";
import { openForReading, openForWriting } from "./open-database.js";
import { SqliteStore } from "./sqlite-store.js";

export { type Access, openSqliteAccess } from "./access-store.js";
export { datesToKeep, KEEP_RULE, type KeepRule, startDailyBackups } from "./daily-backups.js";
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
