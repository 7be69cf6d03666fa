/** `restore`: puts a backup in the place of the log, which is moved aside, never overwritten. */
import { z } from "zod";
import { isPostgres, restoreBackup } from "../store/index.js";
import type { Command } from "./command.js";
import { options } from "./options.js";
import { Refused } from "./refused.js";

const schema = z.object({ db: z.string().optional(), aside: z.string().min(1).optional() });

export const restore: Command = async (args, config) => {
  const { values, words } = options(args, schema, { least: 1, most: 1 });
  const file = values.db ?? config.db;
  if (isPostgres(file)) {
    throw new Refused(
      "restore: a log on a database server is restored by the server's own means: docs/operations.md.",
    );
  }
  restoreBackup({
    backup: words[0] as string,
    file,
    ...(values.aside === undefined ? {} : { aside: values.aside }),
    now: new Date().toISOString(),
  });
  process.stdout.write(`${file}: restored from ${words[0]}\n`);
};
