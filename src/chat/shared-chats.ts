/** The chats that this process has in hand, among others that share the database: each handled in order. */
import type { HeldArrival, NewArrival, NoteLimits, Put, WorkStore } from "../logbook/index.js";
import type { ChatLogger } from "./chat-logger.js";
import type { Clock } from "./clock.js";
import type { Leases } from "./leases.js";
import { describeTrouble } from "./trouble.js";

export interface SharedChatsDeps {
  readonly work: WorkStore;
  readonly worker: string;
  readonly leases: Leases;
  readonly limits: NoteLimits;
  /** Deals with one update, and tells whether there may be replies; rejects if it must be dealt with again. */
  readonly take: (arrival: HeldArrival) => Promise<boolean>;
  /** The replies of this chat are in this process's hand. */
  readonly send: (chatId: string) => void;
  /** Called with every look for work that nobody has in hand. */
  readonly alsoLook: () => Promise<void>;
  /** Chats in hand at once. */
  readonly atOnce: number;
  /** How often work is looked for that nobody has in hand, ms. */
  readonly lookEveryMs: number;
  readonly clock: Clock;
  readonly logger: ChatLogger;
  readonly signal: AbortSignal;
}

export interface SharedChats {
  /** Resolves once the update is durable; its handling goes on by itself. */
  put(arrival: NewArrival): Promise<Put>;
  /** There may be work that nobody has in hand. */
  wake(): void;
  /** Looks for work until the signal aborts; then until nothing is in hand. */
  run(): Promise<void>;
}

export function createSharedChats(deps: SharedChatsDeps): SharedChats {
  const { work, worker, leases, clock, logger, signal } = deps;
  const inHand = new Set<Promise<void>>();
  let wakeUp = new AbortController();
  const wake = (): void => wakeUp.abort();
  /** Chats were left waiting for want of room: they come before what is put down now. */
  let behind = false;
  const room = (): number => deps.atOnce - inHand.size;

  function begin(chatId: string, askedMs: number, first?: HeldArrival): void {
    leases.given("take", chatId, askedMs);
    const job: Promise<void> = workThrough(chatId, first)
      .catch((error) => {
        logger.error({ chat: chatId, trouble: describeTrouble(error) }, "chat let go");
        leases.gone("take", chatId);
        return work.letGo("take", chatId, worker).catch(() => undefined);
      })
      .finally(() => {
        inHand.delete(job);
        if (behind) wake();
      });
    inHand.add(job);
  }

  async function workThrough(chatId: string, first?: HeldArrival): Promise<void> {
    let next = first ?? (await work.nextOf(chatId, worker));
    if (next === undefined) leases.gone("take", chatId);
    while (next !== undefined) {
      // What was lost is another's now: nothing is let go, nothing is done.
      if (!leases.holds("take", chatId)) return leases.gone("take", chatId);
      if (signal.aborted) {
        leases.gone("take", chatId);
        return work.letGo("take", chatId, worker);
      }
      const replies = await deps.take(next);
      const doneMs = clock.nowMs();
      const sends = await work.done(chatId, next.updateId, worker, replies);
      leases.gone("take", chatId);
      if (sends) {
        leases.given("send", chatId, doneMs);
        deps.send(chatId);
      }
      if (signal.aborted) return;
      const askedMs = clock.nowMs();
      next = await work.takeUp(chatId, worker);
      if (next !== undefined) leases.given("take", chatId, askedMs);
    }
  }

  async function lookForUpdates(): Promise<void> {
    const askedMs = clock.nowMs();
    const most = room();
    if (most <= 0) return;
    behind = false;
    const found = await work.takeWaiting("take", worker, most);
    if (found.length === most) behind = true;
    for (const chatId of found) begin(chatId, askedMs);
  }

  async function lookForTheRest(): Promise<void> {
    const sendAskedMs = clock.nowMs();
    for (const chatId of await work.takeWaiting("send", worker, deps.atOnce)) {
      leases.given("send", chatId, sendAskedMs);
      deps.send(chatId);
    }
    await deps.alsoLook();
  }

  return {
    wake,
    async put(arrival) {
      const askedMs = clock.nowMs();
      const asks = room() > 0 && !behind && !signal.aborted;
      const put = await work.put(arrival, deps.limits, asks ? worker : undefined);
      const { chatId } = put;
      if (put.mine) begin(chatId, askedMs, put.first ? { ...arrival, chatId } : undefined);
      else if (!asks) {
        behind = true;
        if (room() > 0) wake();
      }
      return put;
    },
    async run() {
      let nextMs = clock.nowMs();
      while (!signal.aborted) {
        wakeUp = new AbortController();
        try {
          await lookForUpdates();
          if (clock.nowMs() >= nextMs) {
            await lookForTheRest();
            nextMs = clock.nowMs() + deps.lookEveryMs;
          }
        } catch (error) {
          logger.warn({ trouble: describeTrouble(error) }, "could not look for work");
          nextMs = clock.nowMs() + deps.lookEveryMs;
          await clock.sleep(deps.lookEveryMs, signal);
        }
        const waitMs = Math.max(0, nextMs - clock.nowMs());
        await clock.sleep(waitMs, AbortSignal.any([signal, wakeUp.signal]));
      }
      while (inHand.size > 0) await Promise.all(inHand);
    },
  };
}
