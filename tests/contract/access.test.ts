import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll } from "vitest";
import { openLog } from "../../src/store/index.js";
import { KeptDatabase } from "../../src/store/kept-database.js";
import { openPostgres } from "../../src/store/postgres/open-postgres.js";
import { type PostgresServer, startPostgres } from "../store/postgres-server.js";
import { atSecond } from "../store/sample-turns.js";
import { accessContract } from "./access.contract.js";

const now = () => atSecond(0);
let server: PostgresServer;
beforeAll(async () => {
  server = await startPostgres();
});
afterAll(() => server?.stop());

accessContract("SQLite", async () => {
  const folder = mkdtempSync(join(tmpdir(), "hearth-access-"));
  const file = join(folder, "log.sqlite");
  const { store, access, close } = await openLog({ db: file, now });
  const by = new KeptDatabase(file);
  return {
    store,
    access,
    holds: async (word) =>
      (
        by.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all() as string[]
      ).some((table) =>
        JSON.stringify(by.prepare(`SELECT * FROM "${table}"`).all()).includes(word),
      ),
    removeEntries: async () => by.exec("DELETE FROM entry"),
    dispose: async () => {
      by.close();
      await close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
});

accessContract("PostgreSQL", async () => {
  const { database, store, access, close } = await openPostgres({
    address: await server.newDatabase(),
    now,
  });
  return {
    store,
    access,
    holds: (word) =>
      database.read(async (sql) => {
        const tables = await sql.all<{ name: string }>(
          "SELECT tablename::text AS name FROM pg_tables WHERE schemaname = current_schema()",
        );
        for (const { name } of tables) {
          if (JSON.stringify(await sql.all(`SELECT * FROM "${name}"`)).includes(word)) return true;
        }
        return false;
      }),
    removeEntries: () => database.write((sql) => sql.script("DELETE FROM entry")),
    dispose: close,
  };
});
