/** Sizes of the piece: labelled figures and lists. */
import { type FactReader, THINNEST_BAR_MM } from "./fact-reader.js";
import { imply, isLength, mm, put, sizeOf } from "./ledger.js";
import { type Fig, means } from "./parts.js";

export function sizeFigure(r: FactReader, fig: Fig) {
  const { ledger, context } = r;
  const label = fig.label;
  if (fig.chain !== undefined) return sizeChain(r, fig);
  const value = mm(fig, context);
  const disc = ledger.size?.shape === "disc" || r.disc;
  if (label === "square") {
    const size = sizeOf(ledger);
    if (put(ledger, size, "thicknessMm", value, fig)) put(ledger, size, "widthMm", value, fig);
    return;
  }
  if (
    label === undefined ||
    label === "depthMm" ||
    label === "positionMm" ||
    label === "bottomDiameterMm" ||
    label === "carbonPct" ||
    label === "bore" ||
    label === "bite" ||
    label === "tangLengthMm"
  )
    return;
  const field = disc && label === "thicknessMm" ? "heightMm" : label;
  put(ledger, sizeOf(ledger), field, value, fig);
}

export function sizeChain(r: FactReader, fig: Fig): void {
  const { ledger, parts, context } = r;
  const list = fig.list ?? [fig];
  if (list.some((one) => !isLength(one))) return;
  const thinnest = Math.min(...list.map((one) => mm(one, context)));
  if (
    ledger.frame?.kind === "crack" &&
    !ledger.soft &&
    list.length === 2 &&
    thinnest < THINNEST_BAR_MM
  )
    return;
  const size = sizeOf(ledger);
  const free = list.filter((one) => one.label === undefined);
  for (const one of list)
    if (one.label !== undefined) {
      const disc = size.shape === "disc";
      if (one.label === "square") {
        put(ledger, size, "thicknessMm", mm(one, context), one);
        put(ledger, size, "widthMm", mm(one, context), one);
      } else
        put(
          ledger,
          size,
          disc && one.label === "thicknessMm" ? "heightMm" : one.label,
          mm(one, context),
          one,
        );
    }
  const values = free.map((one) => mm(one, context)).sort((a, b) => a - b);
  const shape =
    size.shape ??
    parts.map((one) => means(one, "shape")).find((one) => one !== undefined && one !== "bar");
  // `flattened to 60 by 20`, of an ingot or a disc in hand: a disc.
  const { ingot } = context;
  const round = ingot !== undefined && (ingot.piece === undefined || ingot.piece.shape === "disc");
  const flat = ledger.heats.some((heat) => heat.operation === "flatten");
  const pair = values.length === 2 && list.length === 2;
  if (shape === undefined && round && flat && pair) {
    put(ledger, size, "shape", "disc");
    imply(ledger, size, "shape");
  }
  const names =
    shape === "disc" || size.shape === "disc" || (shape === "ring" && values.length === 2)
      ? ["heightMm", "diameterMm"].filter((name) => list.every((one) => one.label !== name))
      : ["thicknessMm", "widthMm", "lengthMm"].filter((name) =>
          list.every((one) => one.label !== name),
        );
  if (values.length > names.length) return;
  const before = names.filter((name) => size[name] === undefined || names.length === values.length);
  const sorted = [...free].sort((a, b) => mm(a, context) - mm(b, context));
  for (let k = 0; k < values.length; k += 1) {
    const field = before[k] ?? "";
    if (size[field] !== undefined && size[field] !== values[k]) return;
  }
  sorted.forEach((one, k) => {
    put(ledger, size, before[k] ?? "", mm(one, context), one);
  });
  imply(ledger, size, ...before.slice(0, sorted.length));
}
