/** `day`: the sheet of one day, of every chat of the log that has anything on it; with `--png` as a picture too, with `--page` as pages to print. */
import { z } from "zod";
import { type Drawing, dateIn, type PrintedSheet } from "../report/index.js";
import type { Command } from "./command.js";
import { reading } from "./for-reading.js";
import { options } from "./options.js";
import { writePng } from "./png.js";
import { Refused, Usage } from "./refused.js";
import { sheetOf, shopOf } from "./sheets.js";
import { writePage } from "./write-page.js";

const schema = z.object({
  db: z.string().min(1).optional(),
  png: z.string().min(1).optional(),
  page: z.string().min(1).optional(),
});
const dateSchema = z.iso.date();

export const day: Command = async (args, config) => {
  const { values, words } = options(args, schema, { least: 0, most: 1 });
  const said = words[0];
  if (said !== undefined && !dateSchema.safeParse(said).success) {
    throw new Usage(`${said}: a date is written 2026-05-12`);
  }
  const sheets = await reading(values.db ?? config.db, async (store) => {
    const found: PrintedSheet[] = [];
    for (const { chatId } of await store.chats()) {
      const at = await shopOf(store, chatId, config.timezone);
      const date = said ?? dateIn(new Date().toISOString(), at.timezone);
      const sheet = await sheetOf(store, chatId, date, at);
      if (sheet !== undefined) found.push(sheet);
    }
    return found;
  });
  if (values.png !== undefined) await writePictures(values.png, sheets);
  if (values.page !== undefined) {
    if (sheets.length === 0) throw new Refused("nothing logged on that day: no page written");
    await writePage(values.page, sheets);
  }
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
