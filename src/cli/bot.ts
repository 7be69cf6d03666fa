/** `bot`: the messaging bot, by long polling or listening on a port. */
import pino from "pino";
import { z } from "zod";
import { createMessenger, MessengerRefused, redact } from "../chat/index.js";
import { createDaySheets, createHandler } from "../conversation/index.js";
import { speakNote } from "../speech/index.js";
import { openSqliteAccess, openSqliteStore, startDailyBackups } from "../store/index.js";
import { renderWith } from "./attached.js";
import type { Command } from "./command.js";
import { earsFor, hearWith } from "./hearing.js";
import { newId } from "./ids.js";
import { options } from "./options.js";
import { Refused } from "./refused.js";

const schema = z.object({
  db: z.string().min(1).optional(),
  webhook: z.coerce.number().int().min(1).max(65_535).optional(),
});

export const bot: Command = async (args, config) => {
  const { values } = options(args, schema);
  const { botToken: token } = config;
  if (token === undefined) {
    throw new Refused("bot: BOT_TOKEN is not set. Put the bot's token there, or run chat instead.");
  }
  const file = values.db ?? config.db;
  if (/^postgres(ql)?:/.test(file)) {
    throw new Refused("bot: this version keeps its log in a file. Give a path to --db.");
  }
  const now = (): string => new Date().toISOString();
  const logger = pino({
    level: config.logLevel,
    hooks: {
      logMethod(parts, method) {
        const clean = parts.map((part) => (typeof part === "string" ? redact(part, token) : part));
        method.apply(this, clean as Parameters<typeof method>);
      },
    },
  });
  const store = await openSqliteStore({ file, now });
  const access = await openSqliteAccess({ file });
  const ears = await earsFor(config);
  const messenger = createMessenger({
    token,
    hear: hearWith(ears, store, config.timezone),
    voiceFolder: `${file}.voice`,
    speak: (words) => speakNote(words),
    render: renderWith(store, config.timezone),
    ...(config.botApiRoot === undefined ? {} : { apiRoot: config.botApiRoot }),
    handler: createHandler({
      store,
      newId,
      timezone: config.timezone,
      onFailure: (messageId, cause) =>
        logger.error({ messageId, what: (cause as Error).name }, "a message could not be answered"),
    }),
    daySheets: createDaySheets({ store, timezone: config.timezone }),
    store,
    access,
    privacy: access,
    runs: access,
    newId,
    now,
    logger,
    ...(config.ownerId === undefined ? {} : { ownerId: config.ownerId }),
    ...(values.webhook === undefined
      ? {}
      : {
          webhook: {
            port: values.webhook,
            ...(config.webhookSecret === undefined ? {} : { secret: config.webhookSecret }),
            ...(config.webhookUrl === undefined ? {} : { url: config.webhookUrl }),
            ...(config.webhookHost === undefined ? {} : { host: config.webhookHost }),
          },
        }),
  });
  const told = new Promise<void>((resolve) => {
    for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, resolve);
  });
  const backups = startDailyBackups({
    store,
    folder: `${file}.backups`,
    now,
    onMade: () => logger.info("today's copy of the log is made and checked"),
    onFailure: (cause) =>
      logger.error({ what: (cause as Error).name }, "today's copy of the log could not be made"),
  });
  try {
    await Promise.race([messenger.start(), told]);
    await told;
  } catch (cause) {
    if (cause instanceof MessengerRefused) throw new Refused(`bot: ${cause.message}.`);
    throw cause;
  } finally {
    await backups.stop();
    await messenger.stop();
    await ears.close();
    await access.close();
    await store.close();
  }
};
