/** `day`: the sheet of one day, of every chat of the log that has anything on it. */
import { z } from "zod";
import { chatUnits, daySheetOf } from "../conversation/index.js";
import { foldIngot, foldShop, type IngotState } from "../logbook/index.js";
import { dateIn, dayBounds, dayWords, isTimezone } from "../report/index.js";
import type { Command } from "./command.js";
import { reading } from "./for-reading.js";
import { options } from "./options.js";
import { Usage } from "./refused.js";

const schema = z.object({ db: z.string().min(1).optional() });
const dateSchema = z.iso.date();

export const day: Command = async (args, config) => {
  const { values, words } = options(args, schema, { least: 0, most: 1 });
  const said = words[0];
  if (said !== undefined && !dateSchema.safeParse(said).success) {
    throw new Usage(`${said}: a date is written 2026-05-12`);
  }
  const sheets = await reading(values.db ?? config.db, async (store) => {
    const texts: string[] = [];
    for (const { chatId } of await store.chats()) {
      const { settings } = await store.view(chatId, "", new Date(0).toISOString());
      const shop = foldShop(settings);
      const zone = shop.timezone;
      const timezone = zone !== undefined && isTimezone(zone) ? zone : config.timezone;
      const date = said ?? dateIn(new Date().toISOString(), timezone);
      const { from, to } = dayBounds(date, timezone);
      const entries = await store.day(chatId, from, to);
      if (entries.length === 0) continue;
      const states = new Map<string, IngotState>();
      for (const id of new Set(entries.flatMap(({ ingotId }) => ingotId ?? []))) {
        states.set(id, foldIngot(id, await store.ingotLog(chatId, id)));
      }
      const sheet = daySheetOf({ date, timezone, entries, states, shop });
      texts.push(dayWords(sheet, chatUnits(shop)));
    }
    return texts;
  });
  process.stdout.write(
    `${sheets.length === 0 ? `Nothing logged on ${said ?? "this day"}.` : sheets.join("\n\n")}\n`,
  );
};
