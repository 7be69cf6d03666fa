/** The units of a chat: mm and °C until the smith says otherwise; °F goes with inches. */
import type { ShopSettings } from "../logbook/index.js";
import type { ChatUnits } from "../units/index.js";

export const chatUnits = (shop: ShopSettings): ChatUnits => ({
  length: shop.units ?? "mm",
  temperature: shop.temperatureUnits ?? (shop.units === "inch" ? "f" : "c"),
});
