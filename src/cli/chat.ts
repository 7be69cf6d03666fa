/** `chat`: the whole bot as a conversation in this terminal. */
import { z } from "zod";
import { runTerminal } from "../chat/index.js";
import { createHandler } from "../conversation/index.js";
import { isPostgres, openSqliteStore } from "../store/index.js";
import { renderWith } from "./attached.js";
import type { Command } from "./command.js";
import { earsFor, hearWith } from "./hearing.js";
import { newId } from "./ids.js";
import { isoTime, options } from "./options.js";
import { Refused } from "./refused.js";
import { saveBeside } from "./save-file.js";

const schema = z.object({
  db: z.string().min(1).optional(),
  smith: z.string().trim().min(1).max(60).optional(),
  at: isoTime.optional(),
});

export const chat: Command = async (args, config) => {
  const { values } = options(args, schema);
  const db = values.db ?? config.db;
  if (isPostgres(db)) {
    throw new Refused(
      "chat: a conversation in this terminal keeps its log in a file. Give a path to --db.",
    );
  }
  const now = (): string => values.at ?? new Date().toISOString();
  const ears = await earsFor(config);
  const store = await openSqliteStore({ file: db, now });
  try {
    const handler = createHandler({ store, newId, timezone: config.timezone });
    await handler.resume();
    await runTerminal({
      handler,
      store,
      newId,
      now,
      hear: hearWith(ears, store, config.timezone),
      render: renderWith(store, config.timezone),
      save: saveBeside(db),
      input: process.stdin,
      output: process.stdout,
      chatId: "terminal",
      smithId: values.smith === undefined ? "smith" : values.smith.toLowerCase(),
      ...(values.smith === undefined ? {} : { smithName: values.smith }),
      colour: process.stdout.isTTY === true && process.env.NO_COLOR === undefined,
    });
  } finally {
    await ears.close();
    await store.close();
  }
};
