/** `move`: a whole log from a file to a database server, or back, compared before it counts. */
import { z } from "zod";
import { isPostgres, moveLog, shownAddress } from "../store/index.js";
import type { Command } from "./command.js";
import { options } from "./options.js";
import { Usage } from "./refused.js";

const schema = z.object({ from: z.string().min(1), to: z.string().min(1) });

export const move: Command = async (args) => {
  const { from, to } = options(args, schema).values;
  if (isPostgres(from) === isPostgres(to)) {
    throw new Usage("one of --from and --to is a file, the other postgres://…");
  }
  const { tables, ingots } = await moveLog({ from, to, now: () => new Date().toISOString() });
  const widest = Math.max(...tables.map(({ name }) => name.length));
  const lines = tables.map(({ name, rows }) => `${name.padEnd(widest)}  ${rows}`);
  const target = isPostgres(to) ? shownAddress(to) : to;
  process.stdout.write(
    `${lines.join("\n")}\n${target}: every row the same on both sides, ${ingots} ingots folded to the same state\n`,
  );
};
