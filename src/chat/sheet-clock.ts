/** Looks every minute whose day sheet is due and puts it into the log and the outbox, as a press of its button would. */
import { type DaySheets, type DueSheet, type Handler, sheetPress } from "../conversation/index.js";
import type { AccessStore } from "../logbook/index.js";
import type { ChatLogger } from "./chat-logger.js";
import type { Clock } from "./clock.js";
import { describeTrouble } from "./trouble.js";

export interface SheetClockDeps {
  readonly sheets: DaySheets;
  readonly handler: Pick<Handler, "handle">;
  readonly access: Pick<AccessStore, "person" | "groupIsIn">;
  /** Runs the job with the chat in hand, or not at all while another process has it. */
  readonly within: (chatId: string, job: () => Promise<void>) => Promise<void>;
  /** There may be replies to send. */
  readonly kick: (chatId: string) => void;
  readonly newId: () => string;
  readonly now: () => string;
  readonly clock: Clock;
  readonly logger: ChatLogger;
  readonly signal: AbortSignal;
}

const LOOK_MS = 60_000;

/** Runs until the signal aborts; the first look is at once, for a process that was down when it was time. */
export async function sheetClock(deps: SheetClockDeps): Promise<void> {
  const { clock, signal } = deps;
  while (!signal.aborted) {
    await look(deps);
    await clock.sleep(LOOK_MS, signal);
  }
}

async function look(deps: SheetClockDeps): Promise<void> {
  const { logger, now, sheets, signal } = deps;
  try {
    for (const sheet of await sheets.due(now())) {
      if (signal.aborted) return;
      if (await mayHave(sheet, deps)) await deps.within(sheet.chatId, () => send(sheet, deps));
    }
  } catch (error) {
    logger.warn({ trouble: describeTrouble(error) }, "day sheets: looked for again in a minute");
  }
}

/** Written first, seen to afterwards: a process that dies between the two writes it again, which changes nothing. */
async function send(sheet: DueSheet, deps: SheetClockDeps): Promise<void> {
  await deps.handler.handle(sheetPress(sheet, deps.newId(), deps.now()));
  await deps.sheets.done(sheet);
  deps.kick(sheet.chatId);
}

/** Nothing is sent to who was let out meanwhile. */
async function mayHave({ chatId, smithId }: DueSheet, deps: SheetClockDeps): Promise<boolean> {
  if (chatId !== smithId) return deps.access.groupIsIn(chatId);
  return (await deps.access.person(smithId)) !== undefined;
}
