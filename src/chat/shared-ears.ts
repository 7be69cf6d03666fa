/** A pair of ears among others that share the database: voice notes are heard one after another. */
import type { NoteJob, NoteResult, WorkStore } from "../logbook/index.js";
import type { ChatLogger } from "./chat-logger.js";
import type { Clock } from "./clock.js";
import type { Metrics } from "./metrics.js";
import { describeTrouble } from "./trouble.js";

export interface SharedEarsDeps {
  readonly work: WorkStore;
  readonly worker: string;
  readonly hear: (job: NoteJob) => Promise<NoteResult>;
  /** Told when a chat may go on. */
  readonly heard: () => void;
  /** Notes heard at once: the threads of the recogniser. */
  readonly atOnce: number;
  readonly lookEveryMs: number;
  readonly leaseMs: number;
  readonly clock: Clock;
  readonly logger: ChatLogger;
  readonly metrics: Metrics;
  readonly signal: AbortSignal;
}

/** A note whose ears died so often is not given to another. */
const MOST_TRIES = 3;
const RENEWALS = 4;
const FAILED: NoteResult = { text: "", confidence: 0, trouble: "failed" };

/** Runs until the signal aborts; a note in work goes back to the queue then. */
export async function hearShared(deps: SharedEarsDeps): Promise<void> {
  await Promise.all(Array.from({ length: deps.atOnce }, () => listen(deps)));
}

async function listen(deps: SharedEarsDeps): Promise<void> {
  const { work, worker, clock, logger, signal } = deps;
  while (!signal.aborted) {
    try {
      const job = await work.takeNote(worker);
      if (job !== undefined) await hearOne(job, deps);
      else await clock.sleep(deps.lookEveryMs, signal);
    } catch (error) {
      logger.warn({ trouble: describeTrouble(error) }, "notes could not be fetched");
      await clock.sleep(deps.lookEveryMs, signal);
    }
  }
}

async function hearOne(job: NoteJob, deps: SharedEarsDeps): Promise<void> {
  const { work, worker, clock, metrics, signal } = deps;
  const done = new AbortController();
  const keeping = keepNote(job, deps, done.signal);
  const stopped = new Promise<undefined>((resolve) => {
    if (signal.aborted) resolve(undefined);
    signal.addEventListener("abort", () => resolve(undefined), { once: true });
  });
  try {
    const fromMs = clock.nowMs();
    const result = job.tries > MOST_TRIES ? FAILED : await Promise.race([deps.hear(job), stopped]);
    if (result === undefined) return await work.returnNote(job, worker);
    const outcome = result.text === "" ? "trouble" : "words";
    metrics.noteHeard(outcome, (clock.nowMs() - fromMs) / 1000);
    await work.noteHeard(job, worker, result);
    deps.heard();
  } finally {
    done.abort();
    await keeping;
  }
}

/** Prolongs the lease of a note while it is heard. */
async function keepNote(job: NoteJob, deps: SharedEarsDeps, until: AbortSignal): Promise<void> {
  const { work, worker, clock, logger, leaseMs } = deps;
  for (;;) {
    await clock.sleep(leaseMs / RENEWALS, until);
    if (until.aborted) return;
    try {
      if (!(await work.renewNote(job, worker))) return;
    } catch (error) {
      logger.warn({ trouble: describeTrouble(error) }, "a note's lease could not be prolonged");
    }
  }
}
