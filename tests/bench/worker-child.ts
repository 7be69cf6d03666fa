/**
 * One process of the bench: the messaging edge without the messenger. Updates come from the parent, a reply counts
 * as sent at once, and the parent hears of it; so a chat's next message may come to any other process.
 */

import { loadChatIds } from "../../src/chat/chat-ids.js";
import { createChatLanes } from "../../src/chat/chat-lanes.js";
import { createEdgeParts } from "../../src/chat/edge-parts.js";
import { systemClock } from "../../src/chat/index.js";
import type { MessengerCalls } from "../../src/chat/messenger-calls.js";
import { NO_METRICS } from "../../src/chat/metrics.js";
import { newId } from "../../src/cli/ids.js";
import { createHandler } from "../../src/conversation/index.js";
import { isPostgres, openLog, openPostgresWork } from "../../src/store/index.js";

export type ToChild =
  | { readonly update: object }
  | { readonly account: true }
  | { readonly stop: true };
export type FromChild =
  | { readonly ready: true }
  | { readonly sent: string }
  | { readonly cpuMs: number };

const db = String(process.env.DB);
const now = (): string => new Date().toISOString();
const tell = (message: FromChild): void => void process.send?.(message);
const none = { everyMs: 0, burst: 1 };
const stopping = new AbortController();
const { signal } = stopping;
const quiet = {
  info: () => undefined,
  warn: () => undefined,
  error: (fields: object, line: string) => console.error(line, JSON.stringify(fields)),
};

const log = await openLog({ db, now });
const { store, access } = log;
const leaseMs = 15_000;
const work = isPostgres(db) ? await openPostgresWork({ address: db, leaseMs }) : undefined;
const calls = {
  send: async (_ids: unknown, reply: { readonly chatId: string }) => {
    tell({ sent: reply.chatId });
    return { kind: "sent", sentAs: "1" };
  },
  say: async () => undefined,
} as unknown as MessengerCalls;

const ids = await loadChatIds(access, now);
const { outbox, onUpdate, shared } = createEdgeParts({
  options: {
    token: "1:bench",
    handler: createHandler({ store, newId, timezone: "UTC" }),
    store,
    access,
    newId,
    now,
    logger: quiet,
    limits: { chat: none, group: none, all: none },
    ...(work === undefined
      ? {}
      : { sharing: { work, worker: newId(), role: "hands" as const, leaseMs } }),
  },
  store,
  calls,
  ids,
  lanes: createChatLanes(),
  clock: systemClock,
  metrics: NO_METRICS,
  signal,
  botName: () => "bench_bot",
  onWell: () => undefined,
});
const running = shared?.run(outbox);
process.on("message", (message: ToChild) => {
  if ("update" in message) void onUpdate(message.update);
  else if ("account" in message) {
    const { user, system } = process.cpuUsage();
    tell({ cpuMs: (user + system) / 1000 });
  } else void stop();
});
async function stop(): Promise<void> {
  stopping.abort();
  await running;
  await outbox.idle();
  await work?.close();
  await log.close();
  process.disconnect();
}
tell({ ready: true });
