/** `bot`: the messaging bot, by long polling or listening on a port; alone on a file, or one of several on a server. */
import pino from "pino";
import { z } from "zod";
import {
  createMessenger,
  createMetrics,
  type MessengerOptions,
  MessengerRefused,
  redact,
} from "../chat/index.js";
import type { Config } from "../config.js";
import { createDaySheets, createHandler } from "../conversation/index.js";
import { speakNote } from "../speech/index.js";
import { isPostgres, openLog, openPostgresWork, startDailyBackups } from "../store/index.js";
import { renderWith } from "./attached.js";
import type { Command } from "./command.js";
import { earsFor, hearWith } from "./hearing.js";
import { newId } from "./ids.js";
import { options } from "./options.js";
import { Refused, Usage } from "./refused.js";

const port = z.coerce.number().int().min(1).max(65_535).optional();
const schema = z.object({
  db: z.string().min(1).optional(),
  webhook: port,
  metrics: port,
  role: z.enum(["all", "hands", "ears"]).optional(),
  threads: z.coerce.number().int().min(1).max(64).optional(),
});
type Values = z.infer<typeof schema>;

/** Longer than a pause of the process or the server that is no death, ms. Common practice, no source; 5 to 60 s. */
const LEASE_MS = 15_000;

export const bot: Command = async (args, config) => {
  const { values } = options(args, schema);
  const { botToken: token } = config;
  if (token === undefined) {
    throw new Refused("bot: BOT_TOKEN is not set. Put the bot's token there, or run chat instead.");
  }
  const db = values.db ?? config.db;
  const onServer = isPostgres(db);
  if (!onServer && values.role !== undefined) {
    throw new Usage("--role shares the work of several processes: give --db postgres://…");
  }
  const role = values.role ?? "all";
  const now = (): string => new Date().toISOString();
  const logger = loggerOf(config, token);
  const log = await openLog({ db, now });
  const { store, access } = log;
  const leaseMs = config.leaseMs ?? LEASE_MS;
  const work = onServer ? await openPostgresWork({ address: db, leaseMs }) : undefined;
  const { threads = 1 } = values;
  const ears = role === "hands" ? undefined : await earsFor(config, threads);
  const voiceFolder = onServer ? config.voiceFolder : `${db}.voice`;
  const messenger = createMessenger({
    token,
    ...(ears ? { hear: hearWith(ears, store, config.timezone) } : {}),
    ...(voiceFolder === undefined ? {} : { voiceFolder }),
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
    ...(work === undefined
      ? {}
      : { sharing: { work, worker: newId(), role, leaseMs, notesAtOnce: threads } }),
    ...(config.ownerId === undefined ? {} : { ownerId: config.ownerId }),
    ...listening(values, config),
  });
  const told = new Promise<void>((resolve) => {
    for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, resolve);
  });
  // A log on a server is copied by the server's own means.
  const backups = onServer
    ? undefined
    : startDailyBackups({
        store,
        folder: `${db}.backups`,
        now,
        onMade: () => logger.info("today's copy of the log is made and checked"),
        onFailure: (cause) =>
          logger.error(
            { what: (cause as Error).name },
            "today's copy of the log could not be made",
          ),
      });
  try {
    await Promise.race([messenger.start(), told]);
    await told;
  } catch (cause) {
    if (cause instanceof MessengerRefused) throw new Refused(`bot: ${cause.message}.`);
    throw cause;
  } finally {
    await backups?.stop();
    await messenger.stop();
    await ears?.close();
    await work?.close();
    await log.close();
  }
};

function loggerOf(config: Config, token: string) {
  return pino({
    level: config.logLevel,
    hooks: {
      logMethod(parts, method) {
        const clean = parts.map((part) => (typeof part === "string" ? redact(part, token) : part));
        method.apply(this, clean as Parameters<typeof method>);
      },
    },
  });
}

/** The ports that are listened on: for updates, and for figures and health. */
function listening(
  { webhook, metrics }: Values,
  config: Config,
): Pick<MessengerOptions, "webhook" | "status"> {
  return {
    ...(webhook === undefined
      ? {}
      : {
          webhook: {
            port: webhook,
            ...(config.webhookSecret === undefined ? {} : { secret: config.webhookSecret }),
            ...(config.webhookUrl === undefined ? {} : { url: config.webhookUrl }),
            ...(config.webhookHost === undefined ? {} : { host: config.webhookHost }),
          },
        }),
    ...(metrics === undefined
      ? {}
      : {
          status: {
            metrics: createMetrics(),
            port: metrics,
            ...(config.metricsHost === undefined ? {} : { host: config.metricsHost }),
          },
        }),
  };
}
