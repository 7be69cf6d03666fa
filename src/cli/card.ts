/** `card`: the summary of one ingot, as words. */
import { z } from "zod";
import { chatUnits, wholePlanOf } from "../conversation/index.js";
import { foldShop } from "../logbook/index.js";
import { cardWords, ingotCard } from "../report/index.js";
import type { Command } from "./command.js";
import { findIngot, reading } from "./for-reading.js";
import { options } from "./options.js";

const schema = z.object({ db: z.string().min(1).optional() });

export const card: Command = async (args, config) => {
  const { values, words } = options(args, schema, { least: 1, most: 6 });
  const text = await reading(values.db ?? config.db, async (store) => {
    const { chatId, state } = await findIngot(store, words.join(" "));
    const { settings } = await store.view(chatId, "", new Date(0).toISOString());
    const shop = foldShop(settings);
    return cardWords(ingotCard({ state, shop, ...wholePlanOf(state, shop) }), chatUnits(shop));
  });
  process.stdout.write(`${text}\n`);
};
