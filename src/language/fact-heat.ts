/** Heats: the words that begin one, and its temperature. */
import { colourBefore, type FactReader, fresh } from "./fact-reader.js";
import { TEMP_TO_C } from "./heat-number.js";
import {
  addTemperature,
  type Body,
  closeFrame,
  heatsOf,
  imply,
  newHeat,
  open,
  put,
} from "./ledger.js";
import { type Fig, type Mark, means, type Part } from "./parts.js";
import { fahrenheit } from "./scales.js";

export function heatMark(r: FactReader, part: Mark, i: number): void {
  const { ledger, parts, sentence, all } = r;
  const kind = means(part, "kind");
  const before = parts[i - 1];
  const frame = ledger.frame;
  const count =
    before?.type === "figure"
      ? before
      : means(before, "filler") !== undefined || means(before, "say") !== undefined
        ? parts[i - 2]
        : undefined;
  if (
    frame?.kind === "crack" ||
    frame?.kind === "removal" ||
    frame?.kind === "melt" ||
    frame?.kind === "ingot" ||
    frame?.kind === "setting" ||
    frame?.kind === "goal"
  )
    closeFrame(ledger);
  const numbered = (one: Part | undefined): boolean =>
    one?.type === "mark" && /^(number|no\.?|nr|num)$/.test(one.words);
  // `third heat`, `number nine heat`.
  const ordinal = [parts[i - 1], parts[i - 2]].find(
    (one, back): one is Fig =>
      one?.type === "figure" &&
      (one.q.ordinal || (one.q.whole && one.value < 100 && numbered(parts[i - 2 - back]))),
  );
  if (
    count?.type === "figure" &&
    count !== ordinal &&
    !count.q.ordinal &&
    count.q.whole &&
    count.dimension === undefined &&
    count.value <= 10 &&
    count.value > 0 &&
    count.label === undefined &&
    // `at nine two five and heat two`, `ingot five heat three`: no count.
    !(count.value > 1 && parts[i + 1]?.type === "number of heat" && part.words === "heat") &&
    (part.words === "heats" || part.words === "heat")
  ) {
    const more = before?.type === "mark" && /more|further|another|extra/.test(before.words);
    const another = means(parts[i - 2], "say") === "another";
    if (
      !more &&
      !another &&
      !all.some(
        (one) =>
          one.type === "time" ||
          means(one, "op") !== undefined ||
          (one.type === "figure" && one !== count && !one.used),
      ) &&
      !/\b(did|done)\b/.test(sentence.raw(parts[0]?.from ?? 0, part.from).toLowerCase())
    ) {
      ledger.leftovers.push({ from: count.from, to: part.to });
      count.used = true;
      return;
    }
    count.used = true;
    ledger.heats = Array.from({ length: count.value }, () => open(ledger, { kind: "heat" }));
    ledger.heatNamed = true;
    return;
  }
  if (part.words === "h" && parts[i + 1]?.type !== "number of heat") return;
  if (part.words === "heat" && colourBefore(r, i) && !ordinal) {
    heatsOf(ledger);
    ledger.heatNamed = true;
    return;
  }
  if (ledger.heats.length === 0 || ledger.heatNamed) newHeat(ledger, true);
  else ledger.touched += 1;
  ledger.heatNamed = kind === "heat";
  if (ordinal) {
    ordinal.used = true;
    const heat = ledger.heats[0];
    if (heat) put(ledger, heat, "number", ordinal.value);
  }
  r.justHeat = true;
  return;
}

export function takeTemperature(r: FactReader, fig: Fig): void {
  const { ledger, context, talk } = r;
  const celsius = fahrenheit(fig, context);
  const told = (body: Body): void => {
    if (fig.q.unit !== undefined) return;
    imply(ledger, body, "temperatureUnits");
    if (fig.dimension === undefined) imply(ledger, body, "temperatureC");
    if (celsius !== fig.value && context.temperatureUnits !== "f")
      imply(ledger, body, "fahrenheit");
  };
  if (ledger.frame?.kind === "melt" || (talk.melt && celsius > TEMP_TO_C)) {
    const melt = ledger.bodies.find((body) => body.kind === "melt") ?? fresh(r, { kind: "melt" });
    put(ledger, melt, "temperatureC", celsius, fig);
    told(melt);
    return;
  }
  addTemperature(ledger, celsius, fig);
  for (const heat of ledger.heats) told(heat);
}
