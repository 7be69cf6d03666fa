/** `day`: the sheet of one day, of every chat of the log that has anything on it; with `--png` as a picture too. */
import { z } from "zod";
import { chatUnits, daySheetOf } from "../conversation/index.js";
import { foldIngot, foldShop, type IngotState } from "../logbook/index.js";
import {
  type Drawing,
  dateIn,
  dayBounds,
  dayPicture,
  dayWords,
  isTimezone,
} from "../report/index.js";
import type { Command } from "./command.js";
import { reading } from "./for-reading.js";
import { options } from "./options.js";
import { writePng } from "./png.js";
import { Refused, Usage } from "./refused.js";

const schema = z.object({
  db: z.string().min(1).optional(),
  png: z.string().min(1).optional(),
});
const dateSchema = z.iso.date();

export const day: Command = async (args, config) => {
  const { values, words } = options(args, schema, { least: 0, most: 1 });
  const said = words[0];
  if (said !== undefined && !dateSchema.safeParse(said).success) {
    throw new Usage(`${said}: a date is written 2026-05-12`);
  }
  const sheets = await reading(values.db ?? config.db, async (store) => {
    const found: { drawing: Drawing; text: string }[] = [];
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
      const units = chatUnits(shop);
      found.push({ drawing: dayPicture(sheet, units), text: dayWords(sheet, units) });
    }
    return found;
  });
  if (values.png !== undefined) await writePictures(values.png, sheets);
  process.stdout.write(
    `${sheets.length === 0 ? `Nothing logged on ${said ?? "this day"}.` : sheets.map(({ text }) => text).join("\n\n")}\n`,
  );
};

/** The first sheet under the name given, those of further chats with a number before the ending. */
async function writePictures(
  file: string,
  sheets: readonly { readonly drawing: Drawing }[],
): Promise<void> {
  if (sheets.length === 0) throw new Refused("nothing logged on that day: no picture written");
  for (const [index, { drawing }] of sheets.entries()) {
    await writePng(index === 0 ? file : file.replace(/(\.png)?$/i, `-${index + 1}.png`), drawing);
  }
}
