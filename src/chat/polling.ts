/**
 * Long polling. Asking for updates from number n tells the messenger that all before n are done, so n
 * is never beyond the first update that is not yet committed; chats do not wait for each other.
 */
import type { ChatLogger } from "./chat-logger.js";
import { backOffMs, type Clock } from "./clock.js";
import { failedSend } from "./send-outcome.js";

export interface PollingDeps {
  /** Updates from `offset` on, waiting up to `timeoutS` for one. */
  readonly fetch: (
    ask: { readonly offset?: number; readonly timeoutS: number },
    signal: AbortSignal,
  ) => Promise<readonly { readonly update_id: number }[]>;
  /** Resolves once the update is committed. Rejects only when the bot stops before that. */
  readonly onUpdate: (update: { readonly update_id: number }) => Promise<void>;
  readonly clock: Clock;
  readonly logger: ChatLogger;
  readonly signal: AbortSignal;
}

const LONG_POLL_S = 25;
/** How long to wait for open updates before more are asked for. */
const OPEN_WAIT_MS = 250;

/** Runs until the signal aborts and everything begun has ended. */
export async function pollUpdates(deps: PollingDeps): Promise<void> {
  const { clock, signal, logger } = deps;
  const open = new Map<number, Promise<void>>();
  /** Committed, but not before the offset asked last, so the messenger may send it again. */
  const done = new Set<number>();
  let next: number | undefined;
  let failures = 0;

  const offset = (): number | undefined => (open.size > 0 ? Math.min(...open.keys()) : next);

  function begin(update: { readonly update_id: number }): void {
    const id = update.update_id;
    const job = deps
      .onUpdate(update)
      .then(() => {
        done.add(id);
        open.delete(id);
      })
      // Stopping: it stays open, so it is never acknowledged.
      .catch(() => undefined);
    open.set(id, job);
    next = Math.max(next ?? 0, id + 1);
  }

  while (!signal.aborted) {
    const askedAt = clock.nowMs();
    const from = offset();
    // The answer to this request holds nothing older; an answer still on its way may.
    for (const each of done) if (from !== undefined && each < from) done.delete(each);
    try {
      const timeoutS = open.size > 0 ? 0 : LONG_POLL_S;
      const updates = await deps.fetch(
        from === undefined ? { timeoutS } : { offset: from, timeoutS },
        signal,
      );
      failures = 0;
      const fresh = updates
        .filter(({ update_id: id }) => !open.has(id) && !done.has(id))
        .sort((one, other) => one.update_id - other.update_id);
      for (const update of fresh) begin(update);
      if (open.size > 0) {
        await Promise.race([Promise.all(open.values()), clock.sleep(OPEN_WAIT_MS, signal)]);
      } else if (updates.length === 0 && clock.nowMs() - askedAt < 50) {
        // A server that does not wait with its answer is not asked in a tight loop.
        await clock.sleep(50, signal);
      }
    } catch (error) {
      if (signal.aborted) break;
      const outcome = failedSend(error);
      const asked = outcome.kind === "later" ? outcome.afterMs : undefined;
      const reason = "reason" in outcome ? outcome.reason : outcome.kind;
      logger.warn({ reason, failures }, "updates could not be fetched");
      await clock.sleep(asked ?? backOffMs(failures, 30_000), signal);
      failures += 1;
    }
  }
  await Promise.all(open.values());
  const last = offset();
  if (last !== undefined) {
    const soon = AbortSignal.timeout(3000);
    await deps.fetch({ offset: last, timeoutS: 0 }, soon).catch(() => undefined);
  }
}
