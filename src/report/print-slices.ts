/** A drawing cut into pieces that a printer sets one after another: at its sections, never through a shape or a line. */
import { type Drawing, type Item, MARGIN } from "./drawing.js";
import type { Part } from "./svg.js";

export interface Slice {
  readonly drawing: Drawing;
  readonly part: Part;
}

/** Kept of the margins at the sides, so that strokes at the edge stay whole. */
const EDGE = 8;

/** In order, each at most `most` high unless one shape alone is higher. */
export function slicesOf(drawing: Drawing, most: number): readonly Slice[] {
  const { height, items, width } = drawing;
  const extents = items.map(extentY);
  const free = (y: number): boolean => extents.every(({ bottom, top }) => y <= top || y >= bottom);
  const gaps = extents.map(({ bottom }) => bottom).filter(free);
  const ends = [...drawing.breaks.filter(free), height].sort((a, b) => a - b);
  const slices: Slice[] = [];
  let top = Math.max(0, MARGIN - EDGE);
  for (const end of ends) {
    while (end - top > most) {
      const fits = gaps.filter((y) => y > top + 1 && y < end - 1);
      const next = Math.max(...fits.filter((y) => y - top <= most));
      const cut = Number.isFinite(next) ? next : Math.min(...fits);
      if (!Number.isFinite(cut)) break;
      slices.push(
        slice(drawing, extents, {
          left: MARGIN - EDGE,
          right: width - MARGIN + EDGE,
          top,
          bottom: cut,
        }),
      );
      top = cut;
    }
    const bottom = end === height ? Math.max(top + 1, height - MARGIN + EDGE) : end;
    slices.push(
      slice(drawing, extents, { left: MARGIN - EDGE, right: width - MARGIN + EDGE, top, bottom }),
    );
    top = bottom;
  }
  return slices.filter(({ drawing: own }) => own.items.length > 0);
}

interface Extent {
  readonly top: number;
  readonly bottom: number;
}

function slice(drawing: Drawing, extents: readonly Extent[], part: Part): Slice {
  const items = drawing.items.filter((_, index) => {
    const { bottom, top } = extents[index] as Extent;
    const middle = (top + bottom) / 2;
    return middle >= part.top && middle < part.bottom;
  });
  return { drawing: { ...drawing, items }, part };
}

/** Letters rise 0.8 of their size over the line they stand on and hang 0.25 under it, more than those of our font do. */
const RISE = 0.8;
const HANG = 0.25;

function extentY(item: Item): Extent {
  if (item.item === "text") {
    return { top: item.y - RISE * item.size, bottom: item.y + HANG * item.size };
  }
  if (item.item === "rect") return { top: item.y, bottom: item.y + item.height };
  return pathY(item.d);
}

const STEP = /([MLHVA])([^MLHVAZ]*)/g;

/** Of moves, lines and arcs in absolute figures; an arc may bow out by its radius. */
function pathY(d: string): Extent {
  const ys: number[] = [];
  for (const [, letter = "", rest = ""] of d.matchAll(STEP)) {
    const figures = (rest.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);
    if (letter === "V") ys.push(...figures);
    else if (letter === "M" || letter === "L") ys.push(...figures.filter((_, i) => i % 2 === 1));
    else if (letter === "A") {
      const [, radius = 0] = figures;
      const y = figures[6] ?? 0;
      ys.push(y - radius, y + radius);
    }
  }
  if (ys.length === 0) throw new RangeError(`a path without a height: ${d}`);
  return { top: Math.min(...ys), bottom: Math.max(...ys) };
}
