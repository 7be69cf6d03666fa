/**
 * Keeps what is sent under the messenger's published limits: about one message a second in a chat with
 * short bursts let through, 20 a minute in a group, 30 a second in all [Bots FAQ of the messenger, "My bot is
 * hitting limits"]. Each limit is kept for every window of its length, bursts counted in.
 */

export interface Limit {
  /** Steady distance between two messages, ms. */
  readonly everyMs: number;
  /** Messages that may go at once after a pause. */
  readonly burst: number;
}

export interface PacingLimits {
  readonly chat: Limit;
  readonly group: Limit;
  readonly all: Limit;
}

/** Most messages in a window of `w` ms is burst + w / everyMs: 4 in 1 s; 20 in a minute; 30 in 1 s. */
export const PUBLISHED_LIMITS: PacingLimits = {
  chat: { everyMs: 1000, burst: 3 },
  group: { everyMs: 4000, burst: 5 },
  all: { everyMs: 40, burst: 5 },
};

export interface Pacing {
  /** Books one message to the chat and returns how long it must wait for the chat's limit, ms. */
  bookChat(chatId: string, isGroup: boolean, nowMs: number): number | Promise<number>;
  /** Then, once that wait is over: 0 and it is booked, or how long to wait before asking again, ms. */
  askAll(nowMs: number): number | Promise<number>;
}

/** Kept by one process alone, in memory. */
export interface OwnPacing extends Pacing {
  bookChat(chatId: string, isGroup: boolean, nowMs: number): number;
  askAll(nowMs: number): number;
}

export function createPacing(limits: PacingLimits): OwnPacing {
  const chats = new Map<string, number>();
  let all = 0;
  let sweepAt = 0;

  return {
    bookChat(chatId, isGroup, nowMs) {
      if (nowMs >= sweepAt) {
        for (const [id, due] of chats) if (due <= nowMs) chats.delete(id);
        sweepAt = nowMs + 60_000;
      }
      const { at, due } = book(chats.get(chatId), isGroup ? limits.group : limits.chat, nowMs);
      chats.set(chatId, due);
      return at - nowMs;
    },
    // Booked only at the moment it goes: what was held up together must not go together.
    askAll(nowMs) {
      const { at, due } = book(all, limits.all, nowMs);
      if (at > nowMs) return at - nowMs;
      all = due;
      return 0;
    },
  };
}

/** `due`: when a steady stream would send its next; a burst may run ahead of it. */
function book(due: number | undefined, limit: Limit, nowMs: number): { at: number; due: number } {
  const steady = due ?? nowMs;
  const at = Math.max(nowMs, steady - (limit.burst - 1) * limit.everyMs);
  return { at, due: Math.max(steady, at) + limit.everyMs };
}
