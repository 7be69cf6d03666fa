/** A sign of life in the database, so that the next run can tell whether this one ended well. */
import type { RunStore } from "../logbook/index.js";
import type { ChatLogger } from "./chat-logger.js";
import type { Clock } from "./clock.js";
import { describeTrouble } from "./trouble.js";

export interface HeartbeatDeps {
  readonly runs: RunStore;
  readonly runId: string;
  readonly now: () => string;
  readonly clock: Clock;
  readonly logger: ChatLogger;
  readonly signal: AbortSignal;
}

const BEAT_MS = 60_000;

/** Beats until the signal aborts. */
export async function heartbeat(deps: HeartbeatDeps): Promise<void> {
  const { runs, runId, now, clock, logger, signal } = deps;
  while (!signal.aborted) {
    await clock.sleep(BEAT_MS, signal);
    if (signal.aborted) return;
    try {
      await runs.beat(runId, now());
    } catch (error) {
      logger.warn({ trouble: describeTrouble(error) }, "no sign of life could be written");
    }
  }
}
