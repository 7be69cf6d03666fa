/** The messaging edge: updates in by long polling or webhook, replies out through the outbox. */
import { createHmac } from "node:crypto";
import { setMaxListeners } from "node:events";
import { Api, InputFile } from "grammy";
import type { ReplyParameters, UserFromGetMe } from "grammy/types";
import type { Handler } from "../conversation/index.js";
import type { AccessStore, LogStore, PrivacyStore, Reply, RunStore } from "../logbook/index.js";
import { readUpdate } from "./arrival.js";
import { type ChatIds, loadChatIds } from "./chat-ids.js";
import { createChatLanes } from "./chat-lanes.js";
import type { ChatLogger } from "./chat-logger.js";
import { backOffMs, type Clock, systemClock } from "./clock.js";
import { createDoor, type DoorLine, INVITE_HOURS } from "./door.js";
import { createForgetting } from "./forgetting.js";
import { heartbeat } from "./heartbeat.js";
import { inviteLink } from "./invite-code.js";
import { inlineKeyboard, messengerPages } from "./messenger-page.js";
import { createOutbox, type Outbox } from "./outbox.js";
import { createPacing, type PacingLimits, PUBLISHED_LIMITS } from "./pacing.js";
import { platformFetch } from "./platform-fetch.js";
import { pollUpdates } from "./polling.js";
import { redact } from "./redact.js";
import { failedSend, type SendOutcome } from "./send-outcome.js";
import { type ArrivalDeps, takeArrival } from "./take-arrival.js";
import type { Hear } from "./terminal.js";
import { describeTrouble, isStoreTrouble, placeOfTrouble } from "./trouble.js";
import { withVoiceFile } from "./voice-note.js";
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
  readonly botInfo?: Pick<UserFromGetMe, "username">;
  /** Listen instead of asking. `url`: where the messenger reaches this port from outside. */
  readonly webhook?: {
    readonly port: number;
    readonly host?: string;
    readonly secret?: string;
    readonly url?: string;
  };
  readonly hear?: Hear;
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

const CALL_TIMEOUT_S = 40;
/** How often a message that our own code trips over is tried before it is left for the next start. */
const OWN_FAULT_TRIES = 3;
/** Between two lines about the same trouble in one chat, ms. Common practice, no source; 1 to 60 min. */
const TROUBLE_LINE_MS = 600_000;
const TRIPPED = "I stumbled over that and did not answer it. Say it in other words.";

export function createMessenger(options: MessengerOptions): Messenger {
  const { token, handler, store, access, logger, now } = options;
  const clock = options.clock ?? systemClock;
  const apiRoot = options.apiRoot ?? "https://api.telegram.org";
  const api = new Api(token, {
    apiRoot,
    timeoutSeconds: CALL_TIMEOUT_S,
    ...(options.libraryClient === true ? {} : { fetch: platformFetch }),
  });
  const stopping = new AbortController();
  const { signal } = stopping;
  // Every chat that waits to be sent to listens.
  setMaxListeners(0, signal);
  const lanes = createChatLanes();
  const troubleSaid = new Map<string, number>();
  const runId = options.newId();
  let botName = options.botInfo?.username ?? "";
  let running: Promise<void> = Promise.resolve();
  let server: WebhookServer | undefined;
  let beating: Promise<void> = Promise.resolve();
  let well = false;

  async function say(ids: ChatIds, chatId: string, line: DoorLine): Promise<void> {
    const rows = (line.buttons ?? []).map(({ label, data }) => [
      { text: label, callback_data: data },
    ]);
    try {
      await api.sendMessage(
        ids.toWire(chatId),
        line.text,
        rows.length > 0 ? { reply_markup: { inline_keyboard: rows } } : {},
      );
    } catch (error) {
      logger.warn({ chat: chatId, trouble: describeTrouble(error) }, "line not sent");
    }
  }

  async function send(ids: ChatIds, reply: Reply, plainly: boolean): Promise<SendOutcome> {
    try {
      const pages = messengerPages(reply.body);
      const keyboard = plainly ? undefined : inlineKeyboard(reply);
      let sentAs = "";
      for (const [index, page] of pages.entries()) {
        const last = index === pages.length - 1;
        const sent = await api.sendMessage(
          ids.toWire(reply.chatId),
          plainly ? page.plain : page.html,
          {
            ...(plainly ? {} : { parse_mode: "HTML" as const }),
            ...(last && keyboard ? { reply_markup: keyboard } : {}),
            ...answered(reply, ids.toWire(reply.chatId)),
          },
        );
        sentAs = String(sent.message_id);
      }
      return { kind: "sent", sentAs };
    } catch (error) {
      if (error instanceof RangeError) {
        logger.error({ reply: reply.id }, "a button of ours is too long");
        return { kind: "unreadable", reason: "button" };
      }
      return failedSend(error);
    }
  }

  async function hearNote(hear: Hear, fileId: string): ReturnType<Hear> {
    const { file_path: path } = await api.getFile(fileId);
    if (path === undefined || !/^[\w./-]+$/.test(path) || path.includes("..")) {
      throw new RangeError("the messenger gave no usable path");
    }
    return withVoiceFile(`${apiRoot}/file/bot${token}/${path}`, signal, hear);
  }

  function arrivalDeps(ids: ChatIds, outbox: Outbox): ArrivalDeps {
    const { hear, privacy } = options;
    return {
      handler,
      access,
      ids,
      now,
      newId: options.newId,
      door: createDoor({
        access,
        now,
        ...(options.ownerId === undefined ? {} : { ownerId: options.ownerId }),
      }),
      ...(privacy ? { forgetting: createForgetting(privacy) } : {}),
      botName: () => botName,
      say: (chatId, line) => say(ids, chatId, line),
      sendFile: async (chatId, name, text) => {
        await api.sendDocument(ids.toWire(chatId), new InputFile(Buffer.from(text), name));
      },
      endPress: async (queryId, text) => {
        // Only a courtesy: the press itself is committed or refused already.
        await api
          .answerCallbackQuery(queryId, text === undefined ? {} : { text })
          .catch(() => undefined);
      },
      ...(hear ? { hearNote: (fileId: string) => hearNote(hear, fileId) } : {}),
      kick: outbox.kick,
    };
  }

  /** Resolves once the update is committed, or given up as our own fault. */
  async function takeUpdate(raw: unknown, deps: ArrivalDeps, patient: boolean): Promise<void> {
    const arrival = readUpdate(raw);
    if (arrival.kind === "nothing") return;
    const chatId = deps.ids.toLog(arrival.chatId);
    await lanes.run(chatId, async () => {
      for (let tries = 0; ; tries += 1) {
        if (signal.aborted) throw new RangeError("stopping");
        try {
          await takeArrival(arrival, deps);
          well = true;
          return;
        } catch (error) {
          const trouble = describeTrouble(error);
          const at = placeOfTrouble(error);
          logger.error({ chat: chatId, tries, trouble, at }, "update not taken");
          if (isStoreTrouble(error)) {
            well = false;
            await sayTrouble(deps, chatId, trouble);
            if (!patient) throw error;
            await clock.sleep(backOffMs(tries, 15_000), signal);
          } else if (tries + 1 >= OWN_FAULT_TRIES) {
            return deps.say(chatId, { text: TRIPPED });
          }
        }
      }
    });
  }

  async function sayTrouble(deps: ArrivalDeps, chatId: string, trouble: string): Promise<void> {
    const at = clock.nowMs();
    if (at - (troubleSaid.get(chatId) ?? Number.NEGATIVE_INFINITY) < TROUBLE_LINE_MS) return;
    if (troubleSaid.size > 10_000) troubleSaid.clear();
    troubleSaid.set(chatId, at);
    await deps.say(chatId, {
      text: `I cannot write to the log: ${trouble}. What you send waits and is taken as soon as I can.`,
    });
  }

  async function nameOfBot(): Promise<void> {
    for (let tries = 0; botName === "" && !signal.aborted; tries += 1) {
      try {
        botName = (await api.getMe()).username;
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

  async function receive(deps: ArrivalDeps): Promise<void> {
    const { webhook } = options;
    if (!webhook) {
      await api.deleteWebhook().catch(() => undefined);
      running = pollUpdates({
        fetch: ({ offset, timeoutS }, until) =>
          api.getUpdates(
            {
              ...(offset === undefined ? {} : { offset }),
              timeout: timeoutS,
              limit: 100,
              allowed_updates: ["message", "edited_message", "callback_query"],
            },
            until as Parameters<typeof api.getUpdates>[1],
          ),
        onUpdate: (update) => takeUpdate(update, deps, true),
        clock,
        logger,
        signal,
      });
      return;
    }
    const secret = webhook.secret ?? secretFrom(token);
    server = await listenForUpdates({
      port: webhook.port,
      ...(webhook.host === undefined ? {} : { host: webhook.host }),
      secret,
      onUpdate: (update) => takeUpdate(update, deps, false),
      isWell: () => well && !signal.aborted,
    });
    logger.info({ port: server.port }, "listening for updates");
    if (webhook.url !== undefined) {
      await api.setWebhook(webhook.url, {
        secret_token: secret,
        allowed_updates: ["message", "edited_message", "callback_query"],
      });
    }
  }

  async function begin(): Promise<void> {
    const ids = await loadChatIds(access, now);
    const outbox = createOutbox({
      store,
      send: (reply, plainly) => send(ids, reply, plainly),
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

/** In a group a reply hangs on the message it answers, so that each smith sees their own. */
function answered(reply: Reply, wireId: string): { reply_parameters?: ReplyParameters } {
  const [, chat, message] = /^messenger:(-\d+):(\d+)(?::|$)/.exec(reply.sourceKey) ?? [];
  if (message === undefined || chat !== wireId) return {};
  return {
    reply_parameters: { message_id: Number(message), allow_sending_without_reply: true },
  };
}

/** A secret that only who knows the token can name; stable over restarts. */
function secretFrom(token: string): string {
  return createHmac("sha256", token).update("webhook").digest("hex");
}
