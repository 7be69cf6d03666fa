/** `card`: the summary of one ingot, as words and, with `--png`, as a picture. */
import { z } from "zod";
import { chatUnits, wholePlanOf } from "../conversation/index.js";
import { foldShop } from "../logbook/index.js";
import { cardPicture, cardWords, ingotCard } from "../report/index.js";
import type { Command } from "./command.js";
import { findIngot, reading } from "./for-reading.js";
import { options } from "./options.js";
import { writePng } from "./png.js";

const schema = z.object({
  db: z.string().min(1).optional(),
  png: z.string().min(1).optional(),
});

export const card: Command = async (args, config) => {
  const { values, words } = options(args, schema, { least: 1, most: 6 });
  const { drawing, text } = await reading(values.db ?? config.db, async (store) => {
    const { chatId, state } = await findIngot(store, words.join(" "));
    const { settings } = await store.view(chatId, "", new Date(0).toISOString());
    const shop = foldShop(settings);
    const data = ingotCard({ state, shop, ...wholePlanOf(state, shop) });
    const units = chatUnits(shop);
    return { drawing: cardPicture(data, units), text: cardWords(data, units) };
  });
  if (values.png !== undefined) await writePng(values.png, drawing);
  process.stdout.write(`${text}\n`);
};
