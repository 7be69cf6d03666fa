/**
 * The bot as its own process, wired as the command line wires it, but with limits and words that a
 * test chooses: LIMITS=none lifts the sending limits of the public messenger. DB is a file, or an address shared by several.
 */
import { readFileSync } from "node:fs";
import { createMessenger, PUBLISHED_LIMITS, redact } from "../../src/chat/index.js";
import { createHandler } from "../../src/conversation/index.js";
import { isPostgres, openLog, openPostgresWork } from "../../src/store/index.js";

const { env } = process;
const file = String(env.DB);
const now = (): string => new Date().toISOString();
let ids = 0;
const started = Date.now().toString(36);
const newId = (): string =>
  `${started}${process.pid.toString(36)}${(ids++).toString(36).padStart(4, "0")}`;
const write = (fields: object, message: string): void => {
  process.stderr.write(
    `${redact(JSON.stringify({ ...fields, message }), String(env.BOT_TOKEN))}\n`,
  );
};
const none = { everyMs: 0, burst: 1 };

const log = await openLog({ db: file, now });
const { store, access } = log;
const leaseMs = Number(env.LEASE_S ?? 15) * 1000;
const role = (env.ROLE ?? "all") as "all" | "hands" | "ears";
const work = isPostgres(file) ? await openPostgresWork({ address: file, leaseMs }) : undefined;
const messenger = createMessenger({
  token: String(env.BOT_TOKEN),
  apiRoot: String(env.BOT_API_ROOT),
  handler: createHandler({ store, newId, timezone: "UTC" }),
  store,
  access,
  privacy: access,
  runs: access,
  newId,
  now,
  ownerId: String(env.OWNER_ID),
  logger: { info: () => undefined, warn: write, error: write },
  limits: env.LIMITS === "none" ? { chat: none, group: none, all: none } : PUBLISHED_LIMITS,
  ...(env.HEAR === "noise"
    ? { hear: async (path: string) => ({ text: path.slice(-9), confidence: 0.5 }) }
    : {}),
  // What is in the file, as if it were said; it takes as long as a short note does.
  ...(env.HEAR === "words"
    ? {
        hear: async (path: string) => {
          await new Promise((resolve) => setTimeout(resolve, Number(env.HEAR_MS ?? 200)));
          return { text: readFileSync(path, "utf8"), confidence: 0.9 };
        },
      }
    : {}),
  ...(work === undefined ? {} : { sharing: { work, worker: newId(), role, leaseMs } }),
  ...(env.PORT === undefined
    ? {}
    : { webhook: { port: Number(env.PORT), secret: String(env.WEBHOOK_SECRET) } }),
});
process.once("SIGTERM", () => {
  void messenger
    .stop()
    .then(() => work?.close())
    .then(() => log.close());
});
process.on("unhandledRejection", (reason) => {
  process.stderr.write(`UNHANDLED ${reason instanceof Error ? reason.stack : String(reason)}\n`);
  process.exitCode = 70;
});
await messenger.start();
process.stdout.write("ready\n");
