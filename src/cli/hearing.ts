/** Voice for the edges: a note is heard with what the shop knows of the ingot in hand. */
import type { Hear } from "../chat/index.js";
import type { Config } from "../config.js";
import { knownShop } from "../conversation/index.js";
import type { LogStore } from "../logbook/index.js";
import { createEars, type Ears, EarsBroken } from "../speech/index.js";
import { Refused } from "./refused.js";

export function hearWith(ears: Ears, store: LogStore, timezone: string): Hear {
  return async (file, who) => {
    const heard = await ears.hear(file, await knownShop({ store, timezone }, who));
    if (heard.kind === "trouble") return { text: "", confidence: 0, trouble: heard.trouble };
    const [other] = heard.others;
    const { text, confidence, doubtful } = heard;
    return other === undefined ? { text, confidence } : { text, confidence, other, doubtful };
  };
}

/** `threads`: notes heard at once. Throws `Refused` if a model was brought that can not be loaded. */
export async function earsFor(config: Config, threads = 1): Promise<Ears> {
  if (config.speechModel === undefined) return createEars({ threads });
  const ears = createEars({ model: config.speechModel, threads });
  try {
    await ears.ready();
  } catch (cause) {
    await ears.close();
    throw cause instanceof EarsBroken ? new Refused(cause.message) : cause;
  }
  return ears;
}
