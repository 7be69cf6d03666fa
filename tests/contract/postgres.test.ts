import { afterAll, beforeAll } from "vitest";
import { openPostgres } from "../../src/store/postgres/open-postgres.js";
import { type PostgresServer, startPostgres } from "../store/postgres-server.js";
import { atSecond } from "../store/sample-turns.js";
import { logStoreContract } from "./log-store.contract.js";

const now = () => atSecond(0);
let server: PostgresServer;

beforeAll(async () => {
  server = await startPostgres();
});
afterAll(() => server?.stop());

logStoreContract("PostgreSQL server", async () => {
  const address = await server.newDatabase();
  return {
    open: async () => (await openPostgres({ address, now })).store,
    dispose: async () => {},
  };
});
