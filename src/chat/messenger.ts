/** The messaging edge: updates in by long polling or webhook, replies out through the outbox. */
import { setMaxListeners } from "node:events";
import type { LastRun, LogStore } from "../logbook/index.js";
import { loadChatIds } from "./chat-ids.js";
import { createChatLanes } from "./chat-lanes.js";
import { backOffMs, systemClock } from "./clock.js";
import { INVITE_HOURS } from "./door.js";
import { createEdgeParts, type EdgeParts } from "./edge-parts.js";
import { heartbeat } from "./heartbeat.js";
import { inviteLink } from "./invite-code.js";
import { createCalls } from "./messenger-calls.js";
import type { Messenger, MessengerOptions } from "./messenger-options.js";
import { meteredStore } from "./metered-store.js";
import { type Depths, NO_METRICS } from "./metrics.js";
import type { Outbox } from "./outbox.js";
import { pollUpdates } from "./polling.js";
import { redact } from "./redact.js";
import type { SharedEdge } from "./shared-edge.js";
import { sheetClock } from "./sheet-clock.js";
import { type Health, type StatusServer, serveStatus } from "./status-server.js";
import type { ArrivalDeps } from "./take-arrival.js";
import { secretFrom } from "./token-secret.js";
import { describeTrouble, isStoreTrouble } from "./trouble.js";
import { listenForUpdates, type WebhookServer } from "./webhook.js";

/** The token is wrong, or the address is. */
export class MessengerRefused extends Error {
  override readonly name = "MessengerRefused";
}

/** What is younger may be in another process's hand. */
const OLD_MS = 60_000;

export function createMessenger(options: MessengerOptions): Messenger {
  const { token, handler, access, logger, now, sharing } = options;
  const metrics = options.status?.metrics ?? NO_METRICS;
  const store = options.status ? meteredStore(options.store, metrics) : options.store;
  const clock = options.clock ?? systemClock;
  const stopping = new AbortController();
  const { signal } = stopping;
  // Every chat that waits to be sent to listens.
  setMaxListeners(0, signal);
  const calls = createCalls({
    token,
    apiRoot: options.apiRoot ?? "https://api.telegram.org",
    libraryClient: options.libraryClient === true,
    logger,
    signal,
    ...(options.speak === undefined ? {} : { speak: options.speak }),
    ...(options.render === undefined ? {} : { render: options.render }),
  });
  const lanes = createChatLanes();
  const runId = options.newId();
  let botName = options.botInfo?.username ?? "";
  let running: Promise<void> = Promise.resolve();
  let server: WebhookServer | undefined;
  let status: StatusServer | undefined;
  let beating: Promise<void> = Promise.resolve();
  let sheets: Promise<void> = Promise.resolve();
  let well = false;

  const health: Health = {
    isWell: () => well && !signal.aborted,
    async isReady() {
      try {
        if (sharing) return await sharing.work.ready();
        await access.keepsVoice();
        return true;
      } catch {
        return false;
      }
    },
  };
  metrics.watch(() => (sharing ? sharing.work.depth() : ownDepths(store, now)));

  async function nameOfBot(): Promise<void> {
    for (let tries = 0; botName === "" && !signal.aborted; tries += 1) {
      try {
        botName = await calls.username();
      } catch (error) {
        const code = error instanceof Error && "error_code" in error ? error.error_code : undefined;
        if (code === 401 || code === 404) {
          throw new MessengerRefused("the messenger refuses the token: check BOT_TOKEN");
        }
        logger.warn({ trouble: redact(describeTrouble(error), token) }, "messenger not reached");
        await clock.sleep(backOffMs(tries, 30_000), signal);
      }
    }
  }

  /** Answers what the last run stored and did not answer. */
  async function resume(): Promise<void> {
    for (let tries = 0; !signal.aborted; tries += 1) {
      try {
        const resumed = await handler.resume();
        if (resumed > 0) logger.info({ resumed }, "taken up from the last run");
        return;
      } catch (error) {
        logger.error({ trouble: describeTrouble(error) }, "could not resume");
        if (!isStoreTrouble(error)) return;
        await clock.sleep(backOffMs(tries, 15_000), signal);
      }
    }
  }

  async function tellAddress(url: string, secret: string): Promise<void> {
    for (let tries = 0; !signal.aborted; tries += 1) {
      const outcome = await calls.deliverTo(url, secret);
      if (outcome === "done") return;
      if (outcome === "refused") {
        throw new MessengerRefused(
          "the messenger refuses the webhook's address: check WEBHOOK_URL",
        );
      }
      await clock.sleep(backOffMs(tries, 30_000), signal);
    }
  }

  async function receive(onUpdate: EdgeParts["onUpdate"]): Promise<void> {
    const { webhook } = options;
    if (!webhook) {
      await calls.ownUpdates();
      running = pollUpdates({ fetch: calls.updates, onUpdate, clock, logger, signal });
      return;
    }
    const secret = webhook.secret ?? secretFrom(token, "webhook");
    server = await listenForUpdates({
      port: webhook.port,
      ...(webhook.host === undefined ? {} : { host: webhook.host }),
      secret,
      onUpdate,
      health,
    });
    logger.info({ port: server.port }, "listening for updates");
    if (webhook.url !== undefined) await tellAddress(webhook.url, secret);
  }

  async function openDoor({ door }: ArrivalDeps): Promise<void> {
    const { pairingCode } = await door.open();
    await nameOfBot();
    if (pairingCode === undefined || signal.aborted) return;
    const print = options.print ?? ((line: string) => console.log(line));
    print(`Open this link once, within ${INVITE_HOURS} h, to own the bot:`);
    print(inviteLink(botName, pairingCode));
  }

  /** A bot that falls over again and again says so once an hour. */
  async function tellOfLastRun(lastRun: LastRun, { say }: ArrivalDeps): Promise<void> {
    if (lastRun.endedWell || lastRun.badLately > 1) return;
    const owner = (await access.people()).find((each) => each.role === "owner");
    if (!owner) return;
    await say(owner.id, {
      text: `The last run ended badly, after ${lastRun.beatAt}. What was left open is taken up now.`,
    });
  }

  /** What was stored and not answered, and is in nobody's hand: our own fault, or moved here unanswered. */
  async function resumeShared(edge: SharedEdge): Promise<void> {
    try {
      const old = Date.parse(now()) - OLD_MS;
      const waiting = (await store.unhandled()).filter((one) => Date.parse(one.receivedAt) < old);
      for (const chatId of new Set(waiting.map((one) => one.chatId))) {
        await edge.within(chatId, () => handler.resume(chatId));
      }
    } catch (error) {
      logger.error({ trouble: describeTrouble(error) }, "could not resume");
    }
  }

  async function begin(): Promise<void> {
    const { status: served } = options;
    if (served?.port !== undefined) {
      status = await serveStatus({
        port: served.port,
        ...(served.host === undefined ? {} : { host: served.host }),
        metrics: served.metrics,
        health,
      });
    }
    const { outbox, arrivals, shared, onUpdate } = createEdgeParts({
      options,
      store,
      calls,
      ids: await loadChatIds(access, now),
      lanes,
      clock,
      metrics,
      signal,
      botName: () => botName,
      onWell: (now) => {
        well = now;
      },
    });
    const lastRun = await options.runs?.beginRun(runId, now());
    const takesUpdates = sharing?.role !== "ears";
    if (takesUpdates) await openDoor(arrivals);
    if (signal.aborted) return;
    if (!shared) {
      await resume();
      await outbox.kickAll();
    } else if (takesUpdates) await resumeShared(shared);
    if (options.runs) {
      beating = heartbeat({ runs: options.runs, runId, now, clock, logger, signal });
    }
    // Where several run, one that ended badly is seen by who watches them.
    if (lastRun && !shared) await tellOfLastRun(lastRun, arrivals);
    if (signal.aborted) return;
    well = true;
    if (options.daySheets && takesUpdates) {
      sheets = sheetClock({
        sheets: options.daySheets,
        handler,
        access,
        within: shared?.within ?? lanes.run,
        kick: outbox.kick,
        newId: options.newId,
        now,
        clock,
        logger,
        signal,
      });
    }
    const working = shared?.run(outbox) ?? idleAfterStop(outbox);
    if (takesUpdates) await receive(onUpdate);
    running = Promise.all([running, working]).then(() => undefined);
  }

  let begun: Promise<void> | undefined;
  return {
    port: () => server?.port,
    statusPort: () => status?.port,
    start() {
      begun ??= begin();
      return begun;
    },
    async stop() {
      stopping.abort();
      await begun?.catch(() => undefined);
      await server?.close();
      await running;
      await sheets;
      await lanes.idle();
      await beating;
      await options.runs?.endRun(runId, now()).catch(() => undefined);
      await status?.close();
    },
  };

  async function idleAfterStop(outbox: Outbox): Promise<void> {
    await new Promise<void>((resolve) => {
      if (signal.aborted) resolve();
      else signal.addEventListener("abort", () => resolve(), { once: true });
    });
    await outbox.idle();
  }
}

/** Replies looked at for the figures of a process alone; there are never so many in order. */
const MANY = 1000;

async function ownDepths(store: LogStore, now: () => string): Promise<Depths> {
  const waiting = await store.unsent(MANY);
  const [oldest] = waiting;
  const ageMs = oldest === undefined ? 0 : Date.parse(now()) - Date.parse(oldest.createdAt);
  return { replies: waiting.length, oldestReplyS: Math.max(0, ageMs / 1000) };
}
