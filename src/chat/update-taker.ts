/** Takes one update until it is committed: in order within its chat, through full disks and own faults. */
import { readUpdate } from "./arrival.js";
import type { ChatLanes } from "./chat-lanes.js";
import type { ChatLogger } from "./chat-logger.js";
import { backOffMs, type Clock } from "./clock.js";
import { type Metrics, NO_METRICS } from "./metrics.js";
import { type ArrivalDeps, takeArrival } from "./take-arrival.js";
import { describeTrouble, isStoreTrouble, placeOfTrouble } from "./trouble.js";

export interface UpdateTakerDeps {
  readonly arrivals: ArrivalDeps;
  readonly lanes: ChatLanes;
  readonly clock: Clock;
  readonly logger: ChatLogger;
  readonly signal: AbortSignal;
  /** False: what the disk refuses is given back to the messenger at once, which delivers it again. */
  readonly patient: boolean;
  readonly metrics?: Metrics;
  /** Told after every try whether the log could be written. */
  readonly onWell: (well: boolean) => void;
}

/** How often a message that our own code trips over is tried before it is left for the next start. */
const OWN_FAULT_TRIES = 3;
/** Between two lines about the same trouble in one chat, ms. Common practice, no source; 1 to 60 min. */
const TROUBLE_LINE_MS = 600_000;
/** Chats whose last such line is remembered, at most. */
const REMEMBERED = 10_000;
const TRIPPED = "I stumbled over that and did not answer it. Say it in other words.";

/** The taker resolves once the update is committed, or given up as our own fault. */
export function createUpdateTaker(
  deps: UpdateTakerDeps,
): (raw: unknown, more?: Partial<ArrivalDeps>) => Promise<void> {
  const { arrivals, clock, logger, signal } = deps;
  const { metrics = NO_METRICS } = deps;
  const troubleSaid = new Map<string, number>();

  async function sayTrouble(chatId: string, trouble: string): Promise<void> {
    const at = clock.nowMs();
    if (at - (troubleSaid.get(chatId) ?? Number.NEGATIVE_INFINITY) < TROUBLE_LINE_MS) return;
    if (troubleSaid.size > REMEMBERED) troubleSaid.clear();
    troubleSaid.set(chatId, at);
    await arrivals.say(chatId, {
      text: `I cannot write to the log: ${trouble}. What you send waits and is taken as soon as I can.`,
    });
  }

  return async (raw, more) => {
    const arrival = readUpdate(raw);
    if (arrival.kind === "nothing") return;
    const chatId = arrivals.ids.toLog(arrival.chatId);
    await deps.lanes.run(chatId, async () => {
      for (let tries = 0; ; tries += 1) {
        if (signal.aborted) throw new RangeError("stopping");
        try {
          const fromMs = clock.nowMs();
          await takeArrival(arrival, more === undefined ? arrivals : { ...arrivals, ...more });
          metrics.turnTook((clock.nowMs() - fromMs) / 1000);
          deps.onWell(true);
          return;
        } catch (error) {
          const trouble = describeTrouble(error);
          const at = placeOfTrouble(error);
          logger.error({ chat: chatId, tries, trouble, at }, "update not taken");
          if (isStoreTrouble(error)) {
            deps.onWell(false);
            await sayTrouble(chatId, trouble);
            if (!deps.patient) throw error;
            await clock.sleep(backOffMs(tries, 15_000), signal);
          } else if (tries + 1 >= OWN_FAULT_TRIES) {
            return arrivals.say(chatId, { text: TRIPPED });
          }
        }
      }
    });
  };
}
