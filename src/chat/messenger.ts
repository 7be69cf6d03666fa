/** The messaging edge: updates in by long polling or webhook, replies out through the outbox. */
import { createHmac } from "node:crypto";
import { setMaxListeners } from "node:events";
import type { Handler } from "../conversation/index.js";
import type { AccessStore, LogStore, PrivacyStore, RunStore } from "../logbook/index.js";
import { type ChatIds, loadChatIds } from "./chat-ids.js";
import { createChatLanes } from "./chat-lanes.js";
import type { ChatLogger } from "./chat-logger.js";
import { backOffMs, type Clock, systemClock } from "./clock.js";
import { createDoor, INVITE_HOURS } from "./door.js";
import { createForgetting } from "./forgetting.js";
import { heartbeat } from "./heartbeat.js";
import { inviteLink } from "./invite-code.js";
import { createCalls, type Speak } from "./messenger-calls.js";
import { createOutbox, type Outbox } from "./outbox.js";
import { createPacing, type PacingLimits, PUBLISHED_LIMITS } from "./pacing.js";
import { pollUpdates } from "./polling.js";
import { redact } from "./redact.js";
import type { ArrivalDeps } from "./take-arrival.js";
import type { Hear } from "./terminal.js";
import { describeTrouble, isStoreTrouble } from "./trouble.js";
import { createUpdateTaker } from "./update-taker.js";
import { listenForUpdates, type WebhookServer } from "./webhook.js";

export interface MessengerOptions {
  readonly token: string;
  /** Address of the Bot API server without a slash at its end; the public one if absent. */
  readonly apiRoot?: string;
  readonly handler: Handler;
  readonly store: LogStore;
  readonly access: AccessStore;
  readonly privacy?: PrivacyStore;
  readonly runs?: RunStore;
  readonly newId: () => string;
  /** The time, ISO 8601. */
  readonly now: () => string;
  readonly logger: ChatLogger;
  /** The owner's id in the messenger; without it a pairing link is printed while there is no owner. */
  readonly ownerId?: string;
  /** Asked of the messenger if absent. */
  readonly botInfo?: { readonly username: string };
  /** Listen instead of asking. `url`: where the messenger reaches this port from outside. */
  readonly webhook?: {
    readonly port: number;
    readonly host?: string;
    readonly secret?: string;
    readonly url?: string;
  };
  readonly hear?: Hear;
  /** Says a reply aloud, for chats that asked for it. */
  readonly speak?: Speak;
  /** What the owner must see and no log may hold: the pairing link. Standard output if absent. */
  readonly print?: (line: string) => void;
  readonly limits?: PacingLimits;
  readonly clock?: Clock;
  /** Calls go through grammY's own HTTP client, the only one that a mocked node:http sees. */
  readonly libraryClient?: boolean;
}

export interface Messenger {
  /** Resolves once updates are being taken. Rejects if the messenger refuses the token. */
  start(): Promise<void>;
  /** Work in flight ends, nothing new starts. */
  stop(): Promise<void>;
  /** The port listened on, in webhook mode. */
  port(): number | undefined;
}

/** The token is wrong, or the address is. */
export class MessengerRefused extends Error {
  override readonly name = "MessengerRefused";
}

export function createMessenger(options: MessengerOptions): Messenger {
  const { token, handler, store, access, logger, now } = options;
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
  });
  const lanes = createChatLanes();
  const runId = options.newId();
  let botName = options.botInfo?.username ?? "";
  let running: Promise<void> = Promise.resolve();
  let server: WebhookServer | undefined;
  let beating: Promise<void> = Promise.resolve();
  let well = false;

  function arrivalDeps(ids: ChatIds, outbox: Outbox): ArrivalDeps {
    const { hear, privacy, ownerId } = options;
    return {
      handler,
      access,
      ids,
      now,
      newId: options.newId,
      door: createDoor({ access, now, ...(ownerId === undefined ? {} : { ownerId }) }),
      ...(privacy ? { forgetting: createForgetting(privacy) } : {}),
      botName: () => botName,
      say: (chatId, line) => calls.say(ids, chatId, line),
      sendFile: (chatId, name, text) => calls.sendFile(ids, chatId, name, text),
      endPress: calls.endPress,
      ...(hear ? { hearNote: (fileId, who) => calls.hearNote(hear, fileId, who) } : {}),
      kick: outbox.kick,
    };
  }

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

  async function receive(arrivals: ArrivalDeps): Promise<void> {
    const { webhook } = options;
    const take = createUpdateTaker({
      arrivals,
      lanes,
      clock,
      logger,
      signal,
      patient: webhook === undefined,
      onWell: (now) => {
        well = now;
      },
    });
    if (!webhook) {
      await calls.ownUpdates();
      running = pollUpdates({ fetch: calls.updates, onUpdate: take, clock, logger, signal });
      return;
    }
    const secret = webhook.secret ?? secretFrom(token);
    server = await listenForUpdates({
      port: webhook.port,
      ...(webhook.host === undefined ? {} : { host: webhook.host }),
      secret,
      onUpdate: take,
      isWell: () => well && !signal.aborted,
    });
    logger.info({ port: server.port }, "listening for updates");
    if (webhook.url !== undefined) await tellAddress(webhook.url, secret);
  }

  async function begin(): Promise<void> {
    const ids = await loadChatIds(access, now);
    const outbox = createOutbox({
      store,
      send: (reply, plainly) => calls.send(ids, reply, plainly),
      moved: ids.moved,
      pacing: createPacing(options.limits ?? PUBLISHED_LIMITS),
      clock,
      now,
      logger,
      signal,
    });
    const deps = arrivalDeps(ids, outbox);
    const lastRun = await options.runs?.beginRun(runId, now());
    const { pairingCode } = await deps.door.open();
    await nameOfBot();
    if (signal.aborted) return;
    if (pairingCode !== undefined) {
      const print = options.print ?? ((line: string) => console.log(line));
      print(`Open this link once, within ${INVITE_HOURS} h, to own the bot:`);
      print(inviteLink(botName, pairingCode));
    }
    await resume();
    await outbox.kickAll();
    if (options.runs) {
      beating = heartbeat({ runs: options.runs, runId, now, clock, logger, signal });
    }
    // A bot that falls over again and again says so once an hour.
    if (lastRun && !lastRun.endedWell && lastRun.badLately <= 1) {
      const owner = (await access.people()).find((each) => each.role === "owner");
      if (owner) {
        await deps.say(owner.id, {
          text: `The last run ended badly, after ${lastRun.beatAt}. What was left open is taken up now.`,
        });
      }
    }
    if (signal.aborted) return;
    well = true;
    await receive(deps);
    running = Promise.all([running, idleAfterStop(outbox)]).then(() => undefined);
  }

  let begun: Promise<void> | undefined;
  return {
    port: () => server?.port,
    start() {
      begun ??= begin();
      return begun;
    },
    async stop() {
      stopping.abort();
      await begun?.catch(() => undefined);
      await server?.close();
      await running;
      await lanes.idle();
      await beating;
      await options.runs?.endRun(runId, now()).catch(() => undefined);
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

/** A secret that only who knows the token can name; stable over restarts. */
function secretFrom(token: string): string {
  return createHmac("sha256", token).update("webhook").digest("hex");
}
