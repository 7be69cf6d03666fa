/** `card`: the summary of one ingot, as words and, with `--png` or `--page`, as a picture or a page to print. */
import { z } from "zod";
import type { Command } from "./command.js";
import { findIngot, reading } from "./for-reading.js";
import { options } from "./options.js";
import { writePng } from "./png.js";
import { cardOf } from "./sheets.js";
import { writePage } from "./write-page.js";

const schema = z.object({
  db: z.string().min(1).optional(),
  png: z.string().min(1).optional(),
  page: z.string().min(1).optional(),
});

export const card: Command = async (args, config) => {
  const { values, words } = options(args, schema, { least: 1, most: 6 });
  const sheet = await reading(values.db ?? config.db, async (store) => {
    const { chatId, state } = await findIngot(store, words.join(" "));
    return cardOf(store, chatId, state.ingotId, config.timezone);
  });
  if (values.png !== undefined) await writePng(values.png, sheet.drawing);
  if (values.page !== undefined) await writePage(values.page, [sheet]);
  process.stdout.write(`${sheet.text}\n`);
};
