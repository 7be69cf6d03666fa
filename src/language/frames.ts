/** Which field of an open frame a figure fills: melt, ingot, goal, finished blade, press and hammer. */
import { knFromBarAndBore } from "../units/index.js";
import type { ReadingContext } from "./context.js";
import { type Body, isLength, type Ledger, mm, put } from "./ledger.js";
import { type Fig, type Mark, means, onlyFiller, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";

const chainOf = (fig: Fig): readonly Fig[] => fig.list ?? [fig];

export const isCarbon = (fig: Fig): boolean =>
  fig.label === "carbonPct" ||
  (fig.dimension === "percent" && fig.value < 7) ||
  (fig.q.unit === "c" && fig.value < 7);

export function ingotFigure(
  fig: Fig,
  parts: readonly Part[],
  frame: Body,
  ledger: Ledger,
  context: ReadingContext,
): boolean {
  if (isCarbon(fig)) return put(ledger, frame, "carbonPct", fig.value, fig);
  if (
    fig.dimension === "mass" ||
    (fig.label === "massG" && fig.dimension === undefined && context.units === "mm")
  )
    return put(ledger, frame, "massG", fig.value, fig);
  if (fig.dimension !== undefined && fig.dimension !== "length") return false;
  const before = parts[parts.indexOf(fig) - 1];
  if (means(before, "kind") === "melt" && fig.dimension === undefined && fig.q.whole)
    return put(ledger, frame, "melt", fig.value, fig);
  if (ledger.pipeMode) {
    if (fig.label === "depthMm" || (fig.label === undefined && fig.chain === undefined))
      return put(ledger, frame, "pipeDepthMm", mm(fig, context), fig);
    if (fig.label === "diameterMm" || fig.label === "widthMm")
      return put(ledger, frame, "pipeDiameterMm", mm(fig, context), fig);
  }
  if (fig.chain !== undefined) {
    const list = chainOf(fig);
    const free = list.filter((one) => one.label === undefined);
    if (list.length === 2 && free.length === 2) {
      const [first, second] = free;
      if (!first || !second) return false;
      return (
        put(ledger, frame, "diameterMm", mm(first, context), first) &&
        put(ledger, frame, "heightMm", mm(second, context), second)
      );
    }
  }
  // `Ø60 x 25`: across is told, the other is the height.
  const list = fig.chain === undefined ? [] : chainOf(fig);
  const across = list.find((one) => one.label === "diameterMm" || one.label === "widthMm");
  if (list.length === 2 && across && fig !== across && fig.label === undefined)
    return put(ledger, frame, "heightMm", mm(fig, context), fig);
  // `bowl 66 34`: across, then high.
  const bare = (one: Part | undefined): boolean =>
    one?.type === "figure" &&
    one.label === undefined &&
    one.chain === undefined &&
    (one.dimension === undefined || one.dimension === "length");
  const at = parts.indexOf(fig);
  if (bare(fig) && (bare(parts[at + 1]) || bare(parts[at - 1])))
    return put(
      ledger,
      frame,
      bare(parts[at + 1]) && frame.diameterMm === undefined ? "diameterMm" : "heightMm",
      mm(fig, context),
      fig,
    );
  const field: Readonly<Record<string, string>> = {
    diameterMm: "diameterMm",
    widthMm: "diameterMm",
    heightMm: "heightMm",
    thicknessMm: "heightMm",
    depthMm: "heightMm",
    bottomDiameterMm: "bottomDiameterMm",
  };
  const led = rimBefore(parts, at, frame.name !== undefined);
  if (led !== undefined) return put(ledger, frame, led, mm(fig, context), fig);
  const beside = parts[parts.indexOf(fig) + 1];
  const further = parts[parts.indexOf(fig) + 2];
  const there =
    beside?.type === "mark" && /^(at|on|at the|on the|over the)$/.test(beside.words)
      ? further
      : beside;
  const end = there?.type === "mark" && fig.label === undefined ? there.words : "";
  const name = /^(at |on )?(the )?top$/.test(end)
    ? "diameterMm"
    : /^(at |on )?(the )?(bottom|base|foot)$/.test(end)
      ? "bottomDiameterMm"
      : field[fig.label ?? ""];
  if (name === undefined) {
    // `top 70 bottom 48`: the place stands before its figure.
    const before = parts[at - 1];
    const where = before?.type === "mark" && fig.label === undefined ? before.words : "";
    if (/^(the )?(top|bottom|base|foot)( is)?$/.test(where))
      return put(
        ledger,
        frame,
        /top/.test(where) ? "diameterMm" : "bottomDiameterMm",
        mm(fig, context),
        fig,
      );
    return false;
  }
  const next = parts[parts.indexOf(fig) + 1];
  const after = parts[parts.indexOf(fig) + 2];
  const bottom =
    name === "diameterMm" &&
    [next, after].some(
      (one) =>
        one?.type === "mark" &&
        /bottom|base|foot/.test(one.words) &&
        // A label of its own belongs to another figure.
        (means(one, "adj") ?? means(one, "noun")) !== "bottomDiameterMm",
    );
  if (name === "diameterMm" && frame[name] !== undefined)
    return put(ledger, frame, "bottomDiameterMm", mm(fig, context), fig);
  return put(ledger, frame, bottom ? "bottomDiameterMm" : name, mm(fig, context), fig);
}

const RIM = /^(at |on )?(the )?(top|bottom|base|foot)( is)?$/;
const isRim = (part: Part | undefined): part is Mark =>
  part?.type === "mark" && RIM.test(part.words);
/** `top 70 bottom 48`, `top dia 60 bottom 38`: each place stands before its figure if the first one does. */
function rimBefore(parts: readonly Part[], at: number, named: boolean): string | undefined {
  const first = parts.findIndex(isRim);
  const filler = parts[first - 1]?.type === "mark" && onlyFiller(parts[first - 1] as Part) ? 1 : 0;
  const labelled =
    means(parts[first - 1 - filler], "noun") ?? means(parts[first - 1 - filler], "adj");
  const ahead = first - 1 - filler - (labelled === undefined ? 0 : 1);
  // `ingot 9 top 70`, but `cone ingot 60 top 44 bottom`.
  const name = means(parts[ahead - 1], "kind") === "ingot" && named;
  if (first < 0 || (parts[ahead]?.type === "figure" && !name)) return undefined;
  const label = means(parts[at - 1], "noun") === "diameterMm" ? 2 : 1;
  const place = parts[at - label];
  if (!isRim(place)) return undefined;
  return /top/.test(place.words) ? "diameterMm" : "bottomDiameterMm";
}

/** Sorted list of a blade: largest the length, then width, then thickness. */
function blade(
  list: readonly Fig[],
  frame: Body,
  ledger: Ledger,
  context: ReadingContext,
): boolean {
  const names = ["lengthMm", "widthMm", "thicknessMm"].filter(
    (name) => frame[name] === undefined && !list.some((one) => one.label === name),
  );
  for (const one of list)
    if (one.label !== undefined) put(ledger, frame, one.label, mm(one, context), one);
  const free = list.filter((one) => one.label === undefined);
  const sorted = [...free].sort((a, b) => mm(b, context) - mm(a, context));
  if (sorted.length > names.length) return false;
  return sorted.every((one, k) => put(ledger, frame, names[k] ?? "", mm(one, context), one));
}

function tangBeside(parts: readonly Part[], i: number): boolean {
  const near = [parts[i - 1], parts[i + 1]];
  if (means(parts[i - 1], "place") === "tang") return true;
  if (parts[i - 1]?.type === "mark" && means(parts[i - 2], "place") === "tang") return true;
  return (
    near.some((one) => means(one, "place") === "tang") &&
    means(parts[i + 1], "place") === "tang" &&
    parts[i + 2]?.type !== "figure"
  );
}

/** `two blades`, `two double edged blades`, `a pair of daggers`. */
function countsBlades(parts: readonly Part[], i: number): boolean {
  for (const part of parts.slice(i + 1, i + 5)) {
    if (part.type !== "mark") return false;
    const blade = means(part, "goal") === "blade" || /^daggers$/.test(part.words);
    if (blade) return /s( of)?$|knives/.test(part.words);
    if (means(part, "edge") === undefined && means(part, "filler") === undefined) return false;
  }
  return false;
}

export function goalFigure(
  fig: Fig,
  parts: readonly Part[],
  i: number,
  frame: Body,
  ledger: Ledger,
  context: ReadingContext,
): boolean {
  if (
    fig.dimension === undefined &&
    fig.q.whole &&
    fig.value <= 20 &&
    fig.label === undefined &&
    fig.chain === undefined &&
    !fig.inches &&
    fig.value > 1 &&
    countsBlades(parts, i)
  )
    return put(ledger, frame, "count", fig.value, fig);
  if (!isLength(fig)) return false;
  if (
    fig.label === "tangLengthMm" ||
    (fig.label === undefined && fig.chain === undefined && tangBeside(parts, i))
  )
    return put(ledger, frame, "tangLengthMm", mm(fig, context), fig);
  const isTang = parts[i - 1]?.type === "mark" && means(parts[i - 2], "place") === "tang";
  if (fig.label === "lengthMm" && (isTang || means(parts[i - 1], "place") === "tang"))
    return put(ledger, frame, "tangLengthMm", mm(fig, context), fig);
  if (fig.chain !== undefined) return blade(chainOf(fig), frame, ledger, context);
  if (fig.label === "lengthMm" || fig.label === "widthMm" || fig.label === "thicknessMm")
    return put(ledger, frame, fig.label, mm(fig, context), fig);
  if (fig.label !== undefined) return false;
  if (frame.lengthMm === undefined && mm(fig, context) >= 60)
    return put(ledger, frame, "lengthMm", mm(fig, context), fig);
  return false;
}

export function finishFigure(
  fig: Fig,
  parts: readonly Part[],
  i: number,
  frame: Body,
  ledger: Ledger,
  context: ReadingContext,
): boolean {
  if (
    fig.dimension === "mass" ||
    (fig.label === "massG" && fig.dimension === undefined && context.units === "mm")
  )
    return put(ledger, frame, "massG", fig.value, fig);
  return goalFigure(fig, parts, i, frame, ledger, context);
}

export function meltFigure(
  fig: Fig,
  parts: readonly Part[],
  i: number,
  frame: Body,
  ledger: Ledger,
  sentence: Sentence,
  understood: WeakSet<Part>,
): boolean {
  if (isCarbon(fig)) {
    // `cast iron 4 % C 250 g`: of the one that is weighed next.
    if (weighs(parts[i + 1]) || (isCarbonWord(parts[i + 1]) && weighs(parts[i + 2])))
      if (materialFirst(parts) && materialBefore(parts, i).length > 0) {
        fig.used = true;
        return true;
      }
    const charge = frame.charge as { carbonPct?: number }[] | undefined;
    const last = charge?.[charge.length - 1];
    const beside = parts.slice(0, i).some((one) => one.type === "figure" || means(one, "what"));
    if (last && beside && ledger.meltMode === "charge" && last.carbonPct === undefined) {
      last.carbonPct = fig.value;
      fig.used = true;
      return true;
    }
    return put(ledger, frame, "carbonPct", fig.value, fig);
  }
  if (fig.dimension === "mass") {
    const out = [parts[i + 1], parts[i + 2]].some(
      (one, k, next) =>
        one?.type === "mark" &&
        /^(ingot out|came out|out came)/.test(one.words) &&
        // `charge was 810 grams ingot out 795 grams`: it leads the next one.
        !(ledger.meltMode === "charge" && weighs(parts[i + 2 + k] ?? next[k + 1])),
    );
    if (ledger.meltMode === "ingotG" || fig.label === "ingotG" || out)
      return put(ledger, frame, "ingotG", fig.value, fig);
    const what = materialFirst(parts) ? materialBefore(parts, i) : materialAfter(parts, i);
    if (what.length > 0) {
      const first = what[0];
      const last = what[what.length - 1];
      if (!first || !last) return false;
      const list =
        (frame.charge as { what: string; massG: number; carbonPct?: number }[] | undefined) ?? [];
      const between = parts.slice(parts.indexOf(last) + 1, i).find((one) => one.type === "figure");
      list.push({
        what: sentence.raw(first.from, last.to).replace(/^of\s+/i, ""),
        massG: fig.value,
        ...(between?.type === "figure" && isCarbon(between) && { carbonPct: between.value }),
      });
      frame.charge = list;
      for (const one of what) understood.add(one);
      fig.used = true;
      if (fig.approx) frame.approx = true;
      ledger.touched += 1;
      ledger.meltMode = "charge";
      return true;
    }
    const next = parts[i + 1];
    const charged = next?.type === "mark" && /charge/.test(next.words);
    if (ledger.meltMode === "charge" || ledger.meltMode === undefined || charged)
      return put(ledger, frame, "massG", fig.value, fig);
    return false;
  }
  if (
    fig.dimension === undefined &&
    fig.label === undefined &&
    fig.chain === undefined &&
    fig.q.whole
  ) {
    if (means(parts[i - 1], "noun") === "ingotG" && frame.ingotG === undefined)
      return put(ledger, frame, "ingotG", fig.value, fig);
    if (fig.value >= 1000 && frame.temperatureC === undefined)
      return put(ledger, frame, "temperatureC", fig.value, fig);
    if (ledger.meltMode === "ingotG" && fig.value >= 50)
      return put(ledger, frame, "ingotG", fig.value, fig);
    if (ledger.meltMode === "charge" && frame.massG === undefined && fig.value >= 100) {
      return put(ledger, frame, "massG", fig.value, fig);
    }
  }
  return false;
}

const weighs = (part: Part | undefined): boolean =>
  part?.type === "figure" && part.dimension === "mass";
/** `4 % C`, `4 % carbon`. */
const isCarbonWord = (part: Part | undefined): boolean =>
  means(part, "noun") === "carbonPct" ||
  means(part, "adj") === "carbonPct" ||
  means(part, "unit") === "c";
const isMaterial = (part: Part | undefined): boolean => means(part, "what") !== undefined;
const isWeight = (part: Part | undefined): boolean =>
  part?.type === "figure" && part.dimension === "mass";

/** `iron 640 g cast iron 170 g`: each material stands before its weight. */
function materialFirst(parts: readonly Part[]): boolean {
  // `charge 1.1 kg: bloom 700 g`: the total goes before.
  const total = parts.findIndex((part, i) => isWeight(part) && parts[i + 1]?.type === "stop");
  const lead = total >= 0 && !parts.slice(0, total).some(isMaterial) ? total + 1 : 0;
  const first = parts.slice(lead).find((part) => isMaterial(part) || isWeight(part));
  const last = parts.findLast((part) => isMaterial(part) || isWeight(part));
  return isMaterial(first) && isWeight(last);
}

/** The words before a mass that say what was charged. */
function materialBefore(parts: readonly Part[], i: number): Part[] {
  const words: Part[] = [];
  for (let k = i - 1; k >= 0 && words.length < 4; k -= 1) {
    const part = parts[k];
    // `cast iron 4 % C 350 g`: its carbon stands between.
    if (words.length === 0 && part?.type === "figure" && isCarbon(part)) continue;
    if (words.length === 0 && isCarbonWord(part)) continue;
    if (!part || (part.type !== "unknown" && !isMaterial(part))) break;
    words.unshift(part);
  }
  return words.some(isMaterial) ? words : [];
}

/** The words after a mass that say what was charged. */
function materialAfter(parts: readonly Part[], i: number): Part[] {
  const words: Part[] = [];
  for (let k = i + 1; k < parts.length && words.length < 5; k += 1) {
    const part = parts[k];
    if (
      !part ||
      part.type === "stop" ||
      part.type === "figure" ||
      part.type === "time" ||
      part.type === "colour"
    )
      break;
    if (part.type === "mark") {
      if (
        /^(and|plus|with|then|also|total|in total|altogether|in all|all up|now|held|in|in the|at|total charge|for|for the)$/.test(
          part.words,
        )
      )
        break;
      if (
        means(part, "kind") !== undefined ||
        means(part, "noun") !== undefined ||
        means(part, "cooling") !== undefined ||
        means(part, "adj") !== undefined
      )
        break;
      if (
        part.means.every((one) => one.startsWith("filler:")) &&
        words.length === 0 &&
        part.words !== "of" &&
        !isMaterial(parts[k + 1])
      )
        break;
    }
    if (means(parts[k + 1], "cooling") !== undefined && words.length > 0) break;
    words.push(part);
  }
  const real = words.some(
    (part) =>
      part.type === "unknown" ||
      means(part, "what") !== undefined ||
      means(part, "shape") !== undefined,
  );
  return real ? words : [];
}

/** The one entry that holds what a message says about the shop. */
export const settingOf = (ledger: Ledger): Body => {
  const found = ledger.bodies.find((body) => body.kind === "setting");
  if (found) return found;
  const made: Body = { kind: "setting" };
  ledger.bodies.push(made);
  return made;
};

/** Force of a press (said, or from pressure and bore), weight of a hammer. */
export function shopFigure(
  fig: Fig,
  about: string,
  ledger: Ledger,
  context: ReadingContext,
): boolean {
  const setting = settingOf(ledger);
  if (fig.dimension === "force") return put(ledger, setting, "pressKn", fig.value, fig);
  if (fig.dimension === "mass" && about === "hammer")
    return put(ledger, setting, "hammerKg", fig.value / 1000, fig);
  if (fig.dimension === "pressure") put(ledger, setting, "pressureBar", fig.value, fig);
  else if (fig.label === "bore" || (about === "press" && isLength(fig)))
    put(ledger, setting, "boreMm", mm(fig, context), fig);
  else return false;
  const { pressureBar, boreMm } = setting;
  if (typeof pressureBar === "number" && typeof boreMm === "number")
    put(ledger, setting, "pressKn", knFromBarAndBore(pressureBar, boreMm));
  return true;
}
