/** What stands at the end of the demo: one ingot's summary and one day's sheet, from the log that the week left. */
import { cardOf, sheetOf, shopOf } from "../src/cli/sheets.js";
import { foldIngot, type IngotState, type LogStore } from "../src/logbook/index.js";

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
  const { ingotId } = await ingotByName(store, chatId, name);
  return (await cardOf(store, chatId, ingotId, "UTC")).text;
}

export async function sheetOfDay(store: LogStore, chatId: string, date: string): Promise<string> {
  const sheet = await sheetOf(store, chatId, date, await shopOf(store, chatId, "UTC"));
  return sheet?.text ?? "";
}
