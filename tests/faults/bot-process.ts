/**
 * The bot as its own process, wired as the command line wires it, but with limits and words that a
 * test chooses: LIMITS=none lifts the sending limits of the public messenger.
 */
import { createMessenger, PUBLISHED_LIMITS, redact } from "../../src/chat/index.js";
import { createHandler } from "../../src/conversation/index.js";
import { openSqliteAccess, openSqliteStore } from "../../src/store/index.js";

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

const store = await openSqliteStore({ file, now });
const access = openSqliteAccess({ file });
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
  ...(env.PORT === undefined
    ? {}
    : { webhook: { port: Number(env.PORT), secret: String(env.WEBHOOK_SECRET) } }),
});
process.once("SIGTERM", () => {
  void messenger
    .stop()
    .then(() => access.close())
    .then(() => store.close());
});
process.on("unhandledRejection", (reason) => {
  process.stderr.write(`UNHANDLED ${reason instanceof Error ? reason.stack : String(reason)}\n`);
  process.exitCode = 70;
});
await messenger.start();
process.stdout.write("ready\n");
