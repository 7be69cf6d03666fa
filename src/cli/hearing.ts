/** Voice for the edges: a note is heard with what the shop knows of the ingot in hand. */
import type { Hear } from "../chat/index.js";
import type { Config } from "../config.js";
import { knownShop } from "../conversation/index.js";
import type { LogStore } from "../logbook/index.js";
import { createEars, type Ears } from "../speech/index.js";

export function hearWith(ears: Ears, store: LogStore, timezone: string): Hear {
  return async (file, who) => {
    const heard = await ears.hear(file, await knownShop({ store, timezone }, who));
    if (heard.kind === "trouble") return { text: "", confidence: 0, trouble: heard.trouble };
    const [other] = heard.others;
    const { text, confidence } = heard;
    return heard.doubtful && other !== undefined
      ? { text, confidence, other }
      : { text, confidence };
  };
}

export const earsFor = (config: Config): Ears =>
  createEars(config.speechModel === undefined ? {} : { model: config.speechModel });
