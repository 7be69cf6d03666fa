/** Which field of a goal or a finished blade a figure fills. */
import type { ReadingContext } from "./context.js";
import { type Body, isLength, type Ledger, mm, put } from "./ledger.js";
import { chainOf, type Fig, means, type Part } from "./parts.js";

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
