/** Configuration: the only reader of the environment. */
import { z } from "zod";

const environment = z.object({
  BOT_TOKEN: z.string().min(1).optional(),
  BOT_API_ROOT: z.url().optional(),
  OWNER_ID: z.string().regex(/^\d+$/, "OWNER_ID is the messenger's numeric id").optional(),
  WEBHOOK_SECRET: z
    .string()
    .regex(/^[A-Za-z0-9_-]{1,256}$/, "WEBHOOK_SECRET: letters, digits, _ and - only")
    .optional(),
  /** Where the messenger reaches the webhook from outside, ending in /updates. */
  WEBHOOK_URL: z.url({ protocol: /^https?$/ }).optional(),
  /** Address listened on; this machine only if absent. */
  WEBHOOK_HOST: z.string().min(1).optional(),
  LOG_LEVEL: z.enum(["fatal", "error", "warn", "info", "debug", "silent"]).default("info"),
  SPEECH_MODEL: z.string().min(1).optional(),
  /** Address that figures and health are served on; this machine only if absent. */
  METRICS_HOST: z.string().min(1).optional(),
  /** Where voice notes are kept if the owner wishes it and the log is on a database server: one folder for all processes. */
  VOICE_FOLDER: z.string().min(1).optional(),
  /** After so long without a sign of life another process on the same database goes on, s. */
  LEASE_S: z.coerce.number().min(1).max(600).optional(),
  HEARTH_TALLY_DB: z.string().min(1).default("hearth-tally.sqlite"),
});

export interface Config {
  readonly botToken?: string;
  readonly botApiRoot?: string;
  readonly ownerId?: string;
  readonly webhookSecret?: string;
  readonly webhookUrl?: string;
  readonly webhookHost?: string;
  /** Folder of a model for the second speech engine. */
  readonly speechModel?: string;
  readonly metricsHost?: string;
  readonly voiceFolder?: string;
  readonly leaseMs?: number;
  readonly logLevel: string;
  readonly db: string;
  /** IANA zone of this machine. */
  readonly timezone: string;
}

/** Throws a ZodError that names the variable, never its value. */
export function readConfig(env: NodeJS.ProcessEnv = process.env): Config {
  const known = environment.parse({
    ...env,
    BOT_TOKEN: env.BOT_TOKEN || undefined,
    BOT_API_ROOT: env.BOT_API_ROOT || undefined,
    OWNER_ID: env.OWNER_ID || undefined,
    SPEECH_MODEL: env.SPEECH_MODEL || undefined,
    METRICS_HOST: env.METRICS_HOST || undefined,
    VOICE_FOLDER: env.VOICE_FOLDER || undefined,
    LEASE_S: env.LEASE_S || undefined,
  });
  return {
    ...(known.BOT_TOKEN === undefined ? {} : { botToken: known.BOT_TOKEN }),
    ...(known.BOT_API_ROOT === undefined ? {} : { botApiRoot: known.BOT_API_ROOT }),
    ...(known.OWNER_ID === undefined ? {} : { ownerId: known.OWNER_ID }),
    ...(known.WEBHOOK_SECRET === undefined ? {} : { webhookSecret: known.WEBHOOK_SECRET }),
    ...(known.WEBHOOK_URL === undefined ? {} : { webhookUrl: known.WEBHOOK_URL }),
    ...(known.WEBHOOK_HOST === undefined ? {} : { webhookHost: known.WEBHOOK_HOST }),
    ...(known.SPEECH_MODEL === undefined ? {} : { speechModel: known.SPEECH_MODEL }),
    ...(known.METRICS_HOST === undefined ? {} : { metricsHost: known.METRICS_HOST }),
    ...(known.VOICE_FOLDER === undefined ? {} : { voiceFolder: known.VOICE_FOLDER }),
    ...(known.LEASE_S === undefined ? {} : { leaseMs: known.LEASE_S * 1000 }),
    logLevel: known.LOG_LEVEL,
    db: known.HEARTH_TALLY_DB,
    timezone: Intl.DateTimeFormat().resolvedOptions().timeZone,
  };
}
