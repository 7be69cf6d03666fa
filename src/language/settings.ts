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

/** Wishes in any words; only where no figure stands in the clause. */
const WISHES: readonly {
  readonly says: RegExp;
  readonly field: string;
  readonly value: unknown;
}[] = [
  {
    says: /\b(switch|turn|stop|no|no more|mute|kill|without|drop|quit|end|don't|dont)\b.*\b(spoken|voice|audio|talking|speaking|out loud|aloud|read(ing)? out)\b|\b(spoken|voice|audio) (replies|answers|messages|notes) off\b|\b(text|writing) only\b/,
    field: "spokenReplies",
    value: false,
  },
  {
    says: /\b(speak|say|read|talk|tell|answer|reply)\b.*\b(out loud|aloud|by voice|with voice|in voice)\b|\b(turn|switch) (on )?(the |your )?(spoken|voice|audio) (replies|answers|messages)( on)?\b|\b(want|like|prefer|send me|give me) (the |your |some )?(spoken|voice|audio) (replies|answers|messages)\b/,
    field: "spokenReplies",
    value: true,
  },
  {
    says: /\b(think|work|measure|talk|speak|read|everything|show|give|put|want|use|go|change|switch|set|back|prefer|deal|stick)\b.*\b(inches|imperial)\b|^(inches|imperial)\b.*\b(please|from now on|for me)\b/,
    field: "units",
    value: "inch",
  },
  {
    says: /\b(think|work|measure|talk|speak|read|everything|show|give|put|want|use|go|change|switch|set|back|prefer|deal|stick)\b.*\b(mm|millimet\w+|metric)\b|^(mm|millimet\w+|metric)\b.*\b(please|from now on|for me)\b/,
    field: "units",
    value: "mm",
  },
  {
    says: /\b(temp\w*|degrees|show|use|read|reads|give|want|think|work|in|my pyrometer|thermocouple|change|switch|set|prefer)\b.*\b(fahrenheit|deg(rees)? f|in f)\b/,
    field: "temperatureUnits",
    value: "f",
  },
  {
    says: /\b(temp\w*|degrees|show|use|read|reads|give|want|think|work|in|my pyrometer|thermocouple|change|switch|set|prefer)\b.*\b(celsius|centigrade|deg(rees)? c|in c)\b/,
    field: "temperatureUnits",
    value: "c",
  },
  {
    says: /\b(no|haven't (got )?a|don't have a|without a|isn't a|lost (the|my)) (welder|welding)\b|\b(can't|cannot|can not|unable to) weld\b/,
    field: "welder",
    value: false,
  },
];

/** What a clause without figures wishes of the bot, if it does. */
export function wished(
  parts: readonly Part[],
  sentence: Sentence,
): (typeof WISHES)[number] | undefined {
  const words = sentence.lower(parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0);
  const steel = parts.some(
    (part) =>
      part.type === "number of heat" ||
      (part.type === "figure" && !(part.q.spoken && part.value === 1)) ||
      ["op", "removal", "about"].some((group) => means(part, group) !== undefined) ||
      /^(crack|heat|melt|goal|finish)$/.test(means(part, "kind") ?? ""),
  );
  return steel || /\b(meant|mean|said)\b/.test(words)
    ? undefined
    : WISHES.find((wish) => wish.says.test(words));
}

/** Takes the settings out of a clause; the parts that said them are returned as understood. */
export function readSettings(parts: readonly Part[], ledger: Ledger, sentence: Sentence): void {
  const stops = wished(parts, sentence);
  if (stops?.field === "spokenReplies" && stops.value === false) {
    put(ledger, settingOf(ledger), stops.field, stops.value);
    return;
  }
  for (const part of parts) {
    const says = SAYS[means(part, "kind") ?? ""];
    if (says) put(ledger, settingOf(ledger), says.field, says.value);
  }
  const wish = wished(parts, sentence);
  if (wish) {
    const words = sentence.lower(parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0);
    for (const one of WISHES)
      if (one.says.test(words) && settingOf(ledger)[one.field] === undefined)
        put(ledger, settingOf(ledger), one.field, one.value);
    return;
  }
  const content = parts.filter(
    (part) => part.type !== "stop" && means(part, "filler") === undefined,
  );
  const only = content.length === 1 ? content[0] : undefined;
  // `inches and fahrenheit`: nothing but units.
  const units = content.map((one) => means(one, "unit"));
  if (content.length === 2 && units.every((one) => /^(mm|inch|c|f)$/.test(one ?? "")))
    for (const one of units)
      put(
        ledger,
        settingOf(ledger),
        one === "mm" || one === "inch" ? "units" : "temperatureUnits",
        one,
      );
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
    // `put the clock on UTC`.
    const clock = one === "clock" && /^(on|to|is)$/.test(tokens[i + 1]?.text ?? "");
    if (one !== "timezone" && !two && !clock) continue;
    let from = i + (two || clock ? 2 : 1);
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
