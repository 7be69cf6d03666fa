import { afterAll, beforeAll } from "vitest";
import { openPostgres } from "../../src/store/postgres/open-postgres.js";
import { type PostgresServer, startPostgres } from "../store/postgres-server.js";
import { atSecond } from "../store/sample-turns.js";
import { type ContractDatabase, logStoreContract } from "./log-store.contract.js";
import { sheetHourContract } from "./sheet-hour.contract.js";

const now = () => atSecond(0);
let server: PostgresServer;

beforeAll(async () => {
  server = await startPostgres();
});
afterAll(() => server?.stop());

const make = async (): Promise<ContractDatabase> => {
  const address = await server.newDatabase();
  return {
    open: async () => (await openPostgres({ address, now })).store,
    dispose: async () => {},
  };
};

logStoreContract("PostgreSQL server", make);
sheetHourContract("PostgreSQL server", make);
