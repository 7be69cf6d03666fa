/** Which field of a new ingot a figure fills. */
import type { ReadingContext } from "./context.js";
import { isCarbon } from "./frame-melt.js";
import { type Body, type Ledger, mm, put } from "./ledger.js";
import { chainOf, type Fig, type Mark, means, onlyFiller, type Part } from "./parts.js";

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
