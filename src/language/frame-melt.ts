/** Which field of a melt a figure fills: charge, peak, time held, what came out. */
import { type Body, type Ledger, put } from "./ledger.js";
import { type Fig, means, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";

export const isCarbon = (fig: Fig): boolean =>
  fig.label === "carbonPct" ||
  (fig.dimension === "percent" && fig.value < 7) ||
  (fig.q.unit === "c" && fig.value < 7);
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
