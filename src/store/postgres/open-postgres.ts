/** Opens the log of a PostgreSQL database: one pool of connections for everything that this process does with it. */
import type { Access } from "../access-rows.js";
import { PostgresAccess } from "./access.js";
import { PostgresDatabase, type PostgresOptions } from "./database.js";
import { migratePostgres, refuseOtherPostgres } from "./migrate.js";
import { PostgresStore } from "./postgres-store.js";

export interface OpenPostgresOptions extends PostgresOptions {
  /** For commands that only read: nothing is created or brought up to date. */
  readonly readonly?: boolean;
  /** ISO 8601; asked when tables are made. */
  readonly now: () => string;
}

export interface OpenedPostgres {
  /** For what else works on the same database. */
  readonly database: PostgresDatabase;
  readonly store: PostgresStore;
  readonly access: Access;
  close(): Promise<void>;
}

/** Throws `StoreFailed` with a line that says what to do and never holds the password. */
export async function openPostgres(options: OpenPostgresOptions): Promise<OpenedPostgres> {
  const database = new PostgresDatabase(options);
  try {
    if (options.readonly === true) await refuseOtherPostgres(database);
    else await migratePostgres(database, options.now());
  } catch (error) {
    await database.close();
    throw error;
  }
  return {
    database,
    store: new PostgresStore(database),
    access: new PostgresAccess(database),
    close: () => database.close(),
  };
}
