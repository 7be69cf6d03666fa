/** What stands at the end of the demo: one ingot's summary and one day's sheet, from the log that the week left. */
import { chatUnits, daySheetOf, wholePlanOf } from "../src/conversation/index.js";
import { foldIngot, foldShop, type IngotState, type LogStore } from "../src/logbook/index.js";
import { cardWords, dayBounds, dayWords, ingotCard } from "../src/report/index.js";

const shopOf = async (store: LogStore, chatId: string) =>
  foldShop((await store.view(chatId, "", new Date(0).toISOString())).settings);

export async function ingotByName(
  store: LogStore,
  chatId: string,
  name: string,
): Promise<IngotState> {
  const ingot = await store.findIngot(chatId, name);
  if (ingot === undefined) throw new Error(`no ingot ${name} in the demo`);
  return foldIngot(ingot.ingotId, await store.ingotLog(chatId, ingot.ingotId));
}

export async function summaryOf(store: LogStore, chatId: string, name: string): Promise<string> {
  const shop = await shopOf(store, chatId);
  const state = await ingotByName(store, chatId, name);
  return cardWords(ingotCard({ state, ...wholePlanOf(state, shop) }), chatUnits(shop));
}

export async function sheetOfDay(store: LogStore, chatId: string, date: string): Promise<string> {
  const shop = await shopOf(store, chatId);
  const timezone = shop.timezone ?? "UTC";
  const { from, to } = dayBounds(date, timezone);
  const entries = await store.day(chatId, from, to);
  const states = new Map<string, IngotState>();
  for (const id of new Set(entries.flatMap(({ ingotId }) => ingotId ?? []))) {
    states.set(id, foldIngot(id, await store.ingotLog(chatId, id)));
  }
  return dayWords(daySheetOf({ date, timezone, entries, states, shop }), chatUnits(shop));
}
