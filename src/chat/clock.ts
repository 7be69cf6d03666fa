/** Waiting and measuring, as an argument, so that tests need neither. */
import { setTimeout as wait } from "node:timers/promises";

export interface Clock {
  /** Milliseconds from any fixed start. */
  readonly nowMs: () => number;
  /** Resolves after `ms`, or at once when the signal aborts. */
  readonly sleep: (ms: number, signal?: AbortSignal) => Promise<void>;
}

export const systemClock: Clock = {
  nowMs: () => performance.now(),
  sleep: async (ms, signal) => {
    try {
      await wait(ms, undefined, signal === undefined ? {} : { signal });
    } catch (error) {
      if (signal?.aborted !== true) throw error;
    }
  },
};

/** Waiting time before try `attempt` + 1: 1 s, doubled each time, at most `mostMs`. */
export function backOffMs(attempt: number, mostMs = 60_000): number {
  return Math.min(mostMs, 1000 * 2 ** Math.min(attempt, 16));
}
