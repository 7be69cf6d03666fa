import { afterAll, beforeAll } from "vitest";
import { openForWriting } from "../../src/store/open-database.js";
import { openPostgres } from "../../src/store/postgres/open-postgres.js";
import { SqliteStore } from "../../src/store/sqlite-store.js";
import { viewsContract } from "../contract/views.contract.js";
import { type PostgresServer, startPostgres } from "./postgres-server.js";
import { atSecond } from "./sample-turns.js";

const now = () => atSecond(0);
let server: PostgresServer;
beforeAll(async () => {
  server = await startPostgres();
});
afterAll(() => server?.stop());

viewsContract("SQLite", async () => {
  const open = openForWriting(":memory:", now());
  const store = new SqliteStore(open);
  return {
    store,
    rows: async (sql) => open.db.prepare(sql).all(),
    dispose: () => store.close(),
  };
});

viewsContract("PostgreSQL", async () => {
  const { store, database, close } = await openPostgres({
    address: await server.newDatabase(),
    now,
  });
  return { store, rows: (sql) => database.read((each) => each.all(sql)), dispose: close };
});
