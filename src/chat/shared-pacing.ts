/** The messenger's limits kept by all processes together: what was sent is noted in the database. */
import type { WorkStore } from "../logbook/index.js";
import type { Clock } from "./clock.js";
import type { Pacing, PacingLimits } from "./pacing.js";

export function createSharedPacing(
  work: Pick<WorkStore, "bookSend">,
  limits: PacingLimits,
  clock: Clock,
  signal: AbortSignal,
): Pacing {
  return {
    async bookChat(chatId, isGroup) {
      const limit = isGroup ? limits.group : limits.chat;
      if (limit.everyMs === 0) return 0;
      // The chat is in this process's hand, so nobody else books it meanwhile.
      for (;;) {
        const waitMs = await work.bookSend(limit, chatId);
        if (waitMs <= 0 || signal.aborted) return 0;
        await clock.sleep(waitMs, signal);
      }
    },
    askAll: async () => (limits.all.everyMs === 0 ? 0 : work.bookSend(limits.all)),
  };
}
