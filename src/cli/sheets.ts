/** An ingot's card and a day's sheet from the log, drawn and in words: for the commands and for the chat. */
import {
  chatUnits,
  daySheetOf,
  meltsBefore,
  type ShopNow,
  wholePlanOf,
} from "../conversation/index.js";
import { foldIngot, foldShop, type IngotState, type LogStore } from "../logbook/index.js";
import {
  cardPicture,
  cardWords,
  dayBounds,
  dayPicture,
  dayWords,
  ingotCard,
  isTimezone,
  type PrintedSheet,
} from "../report/index.js";

export interface ShopAt {
  readonly shop: ShopNow;
  readonly timezone: string;
}

/** What a chat has set; `timezone` is the one of chats that set none. */
export async function shopOf(store: LogStore, chatId: string, timezone: string): Promise<ShopAt> {
  const { settings } = await store.view(chatId, "", new Date(0).toISOString());
  const shop = foldShop(settings);
  const said = shop.timezone;
  return { shop, timezone: said !== undefined && isTimezone(said) ? said : timezone };
}

export async function cardOf(
  store: LogStore,
  chatId: string,
  ingotId: string,
  defaultZone: string,
): Promise<PrintedSheet & { readonly name: string }> {
  const { shop: said, timezone } = await shopOf(store, chatId, defaultZone);
  const state = foldIngot(ingotId, await store.ingotLog(chatId, ingotId));
  const { openedAt } = state;
  const melts =
    state.facts.melt === undefined || openedAt === undefined
      ? undefined
      : await meltsBefore(store, chatId, openedAt, timezone);
  const shop = { ...said, melts };
  const data = ingotCard({ state, shop, ...wholePlanOf(state, shop) });
  const units = chatUnits(shop);
  return { name: state.name, drawing: cardPicture(data, units), text: cardWords(data, units) };
}

/** Undefined when nothing was logged on that day. */
export async function sheetOf(
  store: LogStore,
  chatId: string,
  date: string,
  { shop: said, timezone }: ShopAt,
): Promise<PrintedSheet | undefined> {
  const { from, to } = dayBounds(date, timezone);
  const entries = await store.day(chatId, from, to);
  if (entries.length === 0) return undefined;
  const states = new Map<string, IngotState>();
  for (const id of new Set(entries.flatMap(({ ingotId }) => ingotId ?? []))) {
    states.set(id, foldIngot(id, await store.ingotLog(chatId, id)));
  }
  const shop = { ...said, melts: await meltsBefore(store, chatId, from, timezone) };
  const sheet = daySheetOf({ date, timezone, entries, states, shop });
  const units = chatUnits(shop);
  return { drawing: dayPicture(sheet, units), text: dayWords(sheet, units) };
}
