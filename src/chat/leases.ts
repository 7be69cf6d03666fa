/**
 * What this process has in hand, prolonged while it works. A lease that could not be prolonged in time
 * counts as lost here before anybody else may take the chat, so nothing is sent by two.
 */
import type { LaneKind, WorkStore } from "../logbook/index.js";
import type { ChatLogger } from "./chat-logger.js";
import type { Clock } from "./clock.js";
import { describeTrouble } from "./trouble.js";

export interface Leases {
  /** The database gave the chat into this process's hand; `askedMs`: when it was asked. */
  given(kind: LaneKind, chatId: string, askedMs: number): void;
  /** True while nobody else can have it. */
  holds(kind: LaneKind, chatId: string): boolean;
  /** Let go, or given back. */
  gone(kind: LaneKind, chatId: string): void;
  /** Prolongs until the signal aborts: after what was in flight has ended, not when the process is told to stop. */
  keep(signal: AbortSignal): Promise<void>;
}

export interface LeasesDeps {
  readonly work: Pick<WorkStore, "renew">;
  readonly worker: string;
  readonly leaseMs: number;
  readonly clock: Clock;
  readonly logger: ChatLogger;
}

/** Share of a lease after which it counts as lost here: what is left covers a call under way. */
const SAFE_SHARE = 0.7;
/** Prolonged so often in a lease. */
const RENEWALS = 4;
const KINDS = ["take", "send"] as const;

export function createLeases(deps: LeasesDeps): Leases {
  const { work, worker, leaseMs, clock, logger } = deps;
  const held = { take: new Map<string, number>(), send: new Map<string, number>() };
  const safeUntil = (askedMs: number): number => askedMs + leaseMs * SAFE_SHARE;

  async function renew(kind: LaneKind): Promise<void> {
    const mine = held[kind];
    if (mine.size === 0) return;
    const askedMs = clock.nowMs();
    const asked = [...mine.keys()];
    const still = new Set(await work.renew(kind, worker, asked));
    for (const chatId of asked) {
      if (!mine.has(chatId)) continue;
      if (still.has(chatId)) mine.set(chatId, safeUntil(askedMs));
      else mine.set(chatId, Number.NEGATIVE_INFINITY);
    }
  }

  return {
    given(kind, chatId, askedMs) {
      held[kind].set(chatId, safeUntil(askedMs));
    },
    holds: (kind, chatId) => clock.nowMs() < (held[kind].get(chatId) ?? Number.NEGATIVE_INFINITY),
    gone(kind, chatId) {
      held[kind].delete(chatId);
    },
    async keep(signal) {
      while (!signal.aborted) {
        await clock.sleep(leaseMs / RENEWALS, signal);
        try {
          for (const kind of KINDS) await renew(kind);
        } catch (error) {
          logger.warn({ trouble: describeTrouble(error) }, "leases could not be prolonged");
        }
      }
    },
  };
}
