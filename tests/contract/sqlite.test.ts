import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openSqliteStore } from "../../src/store/index.js";
import { atSecond } from "../store/sample-turns.js";
import { type ContractDatabase, logStoreContract } from "./log-store.contract.js";
import { sheetHourContract } from "./sheet-hour.contract.js";

const now = () => atSecond(0);

const make = async (): Promise<ContractDatabase> => {
  const folder = mkdtempSync(join(tmpdir(), "hearth-store-"));
  const open = (file: string) => openSqliteStore({ file, now });
  return {
    open: () => open(join(folder, "log.sqlite")),
    copies: { path: () => join(folder, "copy.sqlite"), open },
    dispose: async () => rmSync(folder, { recursive: true, force: true }),
  };
};

logStoreContract("SQLite file", make);
sheetHourContract("SQLite file", make);
