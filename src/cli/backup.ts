/** `backup`: a consistent copy while the bot runs. */
import { z } from "zod";
import { openStore } from "../store/index.js";
import type { Command } from "./command.js";
import { options } from "./options.js";

export const backup: Command = async (args, config) => {
  const { values, words } = options(args, z.object({ db: z.string().optional() }), {
    least: 1,
    most: 1,
  });
  const db = values.db ?? config.db;
  const store = await openStore({
    db,
    readonly: true,
    now: () => new Date().toISOString(),
  });
  try {
    await store.backup(words[0] as string);
    process.stdout.write(`${words[0]}: a copy of ${db}, opened and checked\n`);
  } finally {
    await store.close();
  }
};
