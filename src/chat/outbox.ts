/**
 * Replies leave the house here and nowhere else: in order within a chat, chats side by side, tried
 * until the messenger has taken them or never will. A reply whose answer was lost goes out again.
 */
import type { LogStore, Reply } from "../logbook/index.js";
import type { ChatLogger } from "./chat-logger.js";
import { backOffMs, type Clock } from "./clock.js";
import type { Pacing } from "./pacing.js";
import type { SendOutcome } from "./send-outcome.js";
import { describeTrouble } from "./trouble.js";

export interface OutboxDeps {
  readonly store: LogStore;
  /** Sends one reply. Never throws. `plainly`: without marks, as the messenger refused them. */
  readonly send: (reply: Reply, plainly: boolean) => Promise<SendOutcome>;
  readonly moved: (from: string, to: string) => Promise<void>;
  readonly pacing: Pacing;
  readonly clock: Clock;
  readonly now: () => string;
  readonly logger: ChatLogger;
  readonly signal: AbortSignal;
  /** Where several processes share the replies: a chat's are sent by who has it in hand. */
  readonly hold?: SendHold;
}

export interface SendHold {
  /** True if the chat's replies are in this process's hand now; false also if there are none. */
  take(chatId: string): Promise<boolean>;
  /** True while nobody else can have it. */
  holds(chatId: string): boolean;
  letGo(chatId: string): Promise<void>;
}

export interface Outbox {
  /** There may be something to send in this chat. `held`: it is in this process's hand already. */
  kick(chatId: string, held?: "held"): void;
  /** Takes up everything unsent, whoever wrote it. */
  kickAll(): Promise<void>;
  /** Resolves when no chat is being worked on. */
  idle(): Promise<void>;
}

/** Replies of other edges share the table. */
const OURS = "messenger:";
const MANY = 100_000;

export function createOutbox(deps: OutboxDeps): Outbox {
  const { store, clock, logger, signal, hold } = deps;
  const working = new Map<string, Promise<void>>();
  const again = new Set<string>();
  /** Sent, but the disk refused to note it: noted later, not sent twice. */
  const toNote = new Map<string, string | undefined>();
  const inHand = new Set<string>();
  /** Chats pass the limit in all one after another. */
  let turnInAll: Promise<void> = Promise.resolve();

  function kick(chatId: string, held?: "held"): void {
    if (held) inHand.add(chatId);
    if (signal.aborted) return;
    if (working.has(chatId)) {
      again.add(chatId);
      return;
    }
    const job = (hold ? drainHeld(chatId, hold) : drain(chatId)).finally(() => {
      working.delete(chatId);
      if (again.delete(chatId)) kick(chatId);
    });
    working.set(chatId, job);
  }

  /** After letting go, what another process wrote meanwhile is looked for once more. */
  async function drainHeld(chatId: string, mine: SendHold): Promise<void> {
    try {
      again.delete(chatId);
      while (inHand.delete(chatId) || (await mine.take(chatId))) {
        await drain(chatId);
        await mine.letGo(chatId);
        if (signal.aborted) return;
      }
    } catch (error) {
      logger.error({ chat: chatId, trouble: describeTrouble(error) }, "outbox: replies left");
    }
  }

  async function drain(chatId: string): Promise<void> {
    for (let tries = 0; !signal.aborted; ) {
      if (hold?.holds(chatId) === false) return;
      again.delete(chatId);
      let waitMs: number | "next";
      try {
        const [reply, another] = await store.unsent(hold ? 2 : 1, chatId);
        if (!reply) return;
        waitMs = await deliver(reply, Math.max(tries, reply.attempts));
        if (hold && waitMs === "next" && another === undefined) return;
      } catch (error) {
        logger.error({ chat: chatId, trouble: describeTrouble(error) }, "outbox: store refused");
        waitMs = backOffMs(tries, 30_000);
      }
      if (waitMs === "next") {
        tries = 0;
        continue;
      }
      tries += 1;
      await clock.sleep(waitMs, signal);
    }
  }

  /** "next" if the reply is dealt with, else how long to wait before it is tried again. */
  async function deliver(reply: Reply, tries: number): Promise<number | "next"> {
    if (!reply.sourceKey.startsWith(OURS)) throw new RangeError(`not ours: ${reply.sourceKey}`);
    if (!toNote.has(reply.id)) {
      await waitFor(
        await deps.pacing.bookChat(reply.chatId, reply.chatId.startsWith("-"), clock.nowMs()),
      );
      turnInAll = turnInAll.catch(() => undefined).then(waitInAll);
      await turnInAll;
      if (signal.aborted || hold?.holds(reply.chatId) === false) return 0;
      let outcome = await deps.send(reply, false);
      if (outcome.kind === "unreadable") outcome = await deps.send(reply, true);
      if (outcome.kind === "moved") {
        await deps.moved(reply.chatId, outcome.to);
        outcome = await deps.send(reply, false);
      }
      if (outcome.kind !== "sent") return failed(reply, outcome, tries);
      toNote.set(reply.id, outcome.sentAs);
    }
    await store.markSent(reply.id, deps.now(), toNote.get(reply.id), reply.chatId);
    toNote.delete(reply.id);
    return "next";
  }

  async function waitInAll(): Promise<void> {
    while (!signal.aborted) {
      const ms = await deps.pacing.askAll(clock.nowMs());
      if (ms <= 0) return;
      await clock.sleep(ms, signal);
    }
  }

  const waitFor = async (ms: number): Promise<void> => {
    if (ms > 0) await clock.sleep(ms, signal);
  };

  async function failed(
    reply: Reply,
    outcome: Exclude<SendOutcome, { kind: "sent" }>,
    tries: number,
  ): Promise<number | "next"> {
    const final = outcome.kind === "gone" || outcome.kind === "unreadable";
    const reason = outcome.kind === "moved" ? "moved again" : outcome.reason;
    logger.warn({ chat: reply.chatId, reply: reply.id, reason, final, tries }, "reply not sent");
    await store.markFailed(reply.id, deps.now(), reason, final, reply.chatId);
    if (final) return "next";
    const asked = outcome.kind === "later" ? outcome.afterMs : undefined;
    return asked ?? backOffMs(tries);
  }

  return {
    kick,
    async kickAll() {
      const waiting = await store.unsent(MANY);
      const ours = waiting.filter((reply) => reply.sourceKey.startsWith(OURS));
      for (const chatId of new Set(ours.map((reply) => reply.chatId))) kick(chatId);
    },
    async idle() {
      while (working.size > 0) await Promise.all(working.values());
    },
  };
}
