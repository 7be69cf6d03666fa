/** The melts of a chat before a moment, from the store. */
import type { Entry, LogStore, MeltState } from "../logbook/index.js";
import { meltsAfter } from "./melts-now.js";

/** How far back melts are looked for, days: an ingot is forged, and its materials bought, within a season. */
const MELTS_BACK_DAYS = 120;
const DAY_MS = 86_400_000;

/** Melt rows of the season before `at`, ISO 8601, and of that day. */
export async function meltEntries(
  store: Pick<LogStore, "day">,
  chatId: string,
  at: string,
): Promise<readonly Entry[]> {
  const from = new Date(Date.parse(at) - MELTS_BACK_DAYS * DAY_MS).toISOString();
  const to = new Date(Date.parse(at) + DAY_MS).toISOString();
  const entries = await store.day(chatId, from, to);
  return entries.filter(({ fact }) => fact?.kind === "melt");
}

/** The same folded, for what is drawn or written outside a turn. */
export async function meltsBefore(
  store: Pick<LogStore, "day">,
  chatId: string,
  at: string,
  timezone: string,
): Promise<readonly MeltState[]> {
  const log = await meltEntries(store, chatId, at);
  return meltsAfter(log, { entries: [], takeBacks: [] }, timezone);
}
