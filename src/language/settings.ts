/** Settings said in words: units, welder, hand hammer, spoken replies, time zone. (Press and hammer: frames.ts.) */
import { type Body, type Ledger, open, put } from "./ledger.js";
import { means, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";
import type { Token } from "./tokens.js";

const SAYS: Readonly<Record<string, { field: string; value: unknown }>> = {
  unitsmm: { field: "units", value: "mm" },
  unitsinch: { field: "units", value: "inch" },
  tempc: { field: "temperatureUnits", value: "c" },
  tempf: { field: "temperatureUnits", value: "f" },
  handhammer: { field: "handHammer", value: true },
  welderyes: { field: "welder", value: true },
  welderno: { field: "welder", value: false },
  spokenyes: { field: "spokenReplies", value: true },
  spokenno: { field: "spokenReplies", value: false },
};
const LONGEST_ZONE = 60;

const settingOf = (ledger: Ledger): Body =>
  ledger.bodies.find((body) => body.kind === "setting") ?? open(ledger, { kind: "setting" });

/** Takes the settings out of a clause; the parts that said them are returned as understood. */
export function readSettings(parts: readonly Part[], ledger: Ledger, sentence: Sentence): void {
  for (const part of parts) {
    const says = SAYS[means(part, "kind") ?? ""];
    if (says) put(ledger, settingOf(ledger), says.field, says.value);
  }
  const content = parts.filter(
    (part) => part.type !== "stop" && means(part, "filler") === undefined,
  );
  const only = content.length === 1 ? content[0] : undefined;
  const unit = means(only, "unit");
  const rest = sentence.lower(parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0);
  if (unit === "mm" || (unit === "inch" && only?.type === "mark" && only.words !== "in"))
    put(ledger, settingOf(ledger), "units", unit);
  if ((unit === "c" || unit === "f") && only?.type === "mark" && only.words.length > 2)
    put(ledger, settingOf(ledger), "temperatureUnits", unit);
  if (
    content.length === 2 &&
    content.some((one) => one.type === "unknown") &&
    /^units?\b/.test(rest)
  ) {
    const named = content.map((one) => means(one, "unit")).find((one) => one !== undefined);
    if (named === "mm" || named === "inch") put(ledger, settingOf(ledger), "units", named);
  }
}

/** `timezone Europe/Berlin`, with the tokens that said it. */
export function zoneIn(
  tokens: readonly Token[],
  sentence: Sentence,
): { name: string; from: number; to: number } | undefined {
  for (let i = 0; i < tokens.length; i += 1) {
    const one = tokens[i]?.text;
    const two = one === "time" && tokens[i + 1]?.text === "zone";
    if (one !== "timezone" && !two) continue;
    let from = i + (two ? 2 : 1);
    while (/^(is|now|to|:|=)$/.test(tokens[from]?.text ?? "")) from += 1;
    let to = from + 1;
    while (tokens[to]?.glued && to < from + 12) to += 1;
    const name = sentence.raw(from, to).replace(/[.,;]+$/, "");
    if (
      name.length <= LONGEST_ZONE &&
      (/^[A-Za-z_]+(\/[A-Za-z_+\-0-9]+)+$/.test(name) || /^utc$/i.test(name))
    )
      return { name, from: i, to };
  }
  return undefined;
}
