/** `export`: everything, one file a kind, in a form that a spreadsheet opens. */
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { z } from "zod";
import { exportRows, sheetHourTable, toCsv } from "../report/index.js";
import type { Command } from "./command.js";
import { reading } from "./for-reading.js";
import { options } from "./options.js";
import { Refused } from "./refused.js";

const schema = z.object({
  db: z.string().min(1).optional(),
  format: z.enum(["csv", "json"]),
  out: z.string().min(1),
});

export const exportAll: Command = async (args, config) => {
  const { values } = options(args, schema);
  const tables = await reading(values.db ?? config.db, async (store) => [
    ...exportRows(await store.everything()),
    ...sheetHourTable(await store.sheetHours()),
  ]);
  try {
    await mkdir(values.out, { recursive: true });
    for (const { kind, columns, rows } of tables) {
      const text =
        values.format === "csv" ? toCsv(rows, columns) : `${JSON.stringify(rows, null, 1)}\n`;
      await writeFile(join(values.out, `${kind}.${values.format}`), text, { mode: 0o600 });
    }
  } catch (cause) {
    throw new Refused(`export: cannot write to ${values.out}: ${(cause as Error).message}`);
  }
  const files = tables.map(({ kind, rows }) => `${kind}.${values.format} (${rows.length})`);
  process.stdout.write(`${values.out}: ${files.join(", ") || "the log is empty"}\n`);
};
