/** How a bar grows under flat dies, and the schedule of squeezes that leads from one size to another. */
import * as rule from "./rules-of-thumb.js";
import type { Pass } from "./types.js";

/** The published law holds between these bite ratios; outside it is held at its ends. [S42] */
const LEAST_BITE_RATIO = 0.25;
const MOST_BITE_RATIO = 2;

/**
 * Share of the height strain that goes into width: S = ln(w1/w0)/ln(h0/h1).
 * Shape: rectangular bar, flat dies; b bite along the bar, w0 width. S = 0.14 + 0.36 b/w0 − 0.054 (b/w0)².
 * Holds: b/w0 0.25 to 2, held at the ends outside. Error: ±0.05 between its two published forms. Source: [S42], memory, medium-high.
 */
export function spreadShare(biteMm: number, widthMm: number, factor = 1): number {
  const ratio = Math.min(MOST_BITE_RATIO, Math.max(LEAST_BITE_RATIO, biteMm / widthMm));
  return Math.min(0.9, factor * (0.14 + 0.36 * ratio - 0.054 * ratio ** 2));
}

/** The same law's fuller form with the reduction: S = 0.29 − 0.16 h1/h0 + 0.343 b/w0 − 0.048 (b/w0)². Source: [S42]. */
export const spreadShareFull = (biteMm: number, widthMm: number, heightRatio: number): number =>
  0.29 - 0.16 * heightRatio + 0.343 * (biteMm / widthMm) - 0.048 * (biteMm / widthMm) ** 2;

/**
 * Size after squeezing the height of a bar: w1 = w0 (h0/h1)^S, l1 = l0 (h0/h1)^(1−S). Volume is kept exactly.
 * Holds and errs as `spreadShare`. Source: [S42].
 */
export function squeezed(
  size: { readonly heightMm: number; readonly widthMm: number; readonly lengthMm: number },
  toHeightMm: number,
  biteMm: number,
  factor = 1,
) {
  const ratio = size.heightMm / toHeightMm;
  const share = spreadShare(biteMm, size.widthMm, factor);
  return {
    heightMm: toHeightMm,
    widthMm: size.widthMm * ratio ** share,
    lengthMm: size.lengthMm * ratio ** (1 - share),
  };
}

/** Bite that reaches the middle of a height, within what dies and hammer faces are. Memory, medium; [S48]. */
export const usualBiteMm = (heightMm: number): number =>
  Math.min(
    rule.MOST_BITE_MM,
    Math.max(rule.THIN_WORK_BITE_MM, heightMm * rule.BITE_OVER_HEIGHT.likely),
  );

export interface Section {
  readonly thicknessMm: number;
  readonly widthMm: number;
}

export interface Schedule {
  /** True strain put in by squeezing the thickness, and by squeezing the width. Both ≥ 0. */
  readonly thicknessStrain: number;
  readonly widthStrain: number;
  /** What the steel can reach from here; the target where nothing hinders. */
  readonly reached: Section;
  readonly thicknessBiteMm: number;
  readonly widthBiteMm: number;
  /** The bite had to be made longer to spread the piece. */
  readonly spreads: boolean;
}

/**
 * Squeezes on the flat and on edge that lead from one section to another.
 * With T = ln(t0/t1), W = ln(w0/w1), spread S1 of flat and S2 of edge squeezes: T = a − S2 b, W = b − S1 a.
 * A width that must grow takes a longer bite, as far as the law goes; what is still missing is left out of `reached`.
 */
export function schedule(from: Section, to: Section, factor = 1): Schedule {
  const T = Math.log(from.thicknessMm / to.thicknessMm);
  const W = Math.log(from.widthMm / to.widthMm);
  const middle = (a: number, b: number) => Math.sqrt(a * b);
  const t = middle(from.thicknessMm, to.thicknessMm);
  const w = middle(from.widthMm, to.widthMm);
  let thicknessBiteMm = usualBiteMm(t);
  const widthBiteMm = usualBiteMm(w);
  const s1 = spreadShare(thicknessBiteMm, w, factor);
  const s2 = spreadShare(widthBiteMm, t, factor);
  const det = 1 - s1 * s2;
  const a = (T + s2 * W) / det;
  const b = (W + s1 * T) / det;
  const rest = { thicknessBiteMm, widthBiteMm, spreads: false };
  if (a >= 0 && b >= 0) return { thicknessStrain: a, widthStrain: b, reached: to, ...rest };
  if (a < 0) {
    // Too thin already: squeezing the edge thickens it only by its spread.
    const edge = Math.max(0, W);
    const thicknessMm = Math.min(to.thicknessMm, from.thicknessMm * Math.exp(s2 * edge));
    const widthMm = Math.min(from.widthMm, to.widthMm);
    return { thicknessStrain: 0, widthStrain: edge, reached: { thicknessMm, widthMm }, ...rest };
  }
  const flat = Math.max(0, T);
  const most = spreadShare(MOST_BITE_RATIO * w, w, factor);
  const wanted = flat > 0 ? -W / flat : Number.POSITIVE_INFINITY;
  const share = Math.min(most, wanted);
  thicknessBiteMm = Math.min(rule.MOST_BITE_MM, biteOfSpreadMm(share / factor, w));
  const widthMm = share < wanted ? from.widthMm * Math.exp(share * flat) : to.widthMm;
  return {
    thicknessStrain: flat,
    widthStrain: 0,
    reached: { thicknessMm: Math.min(from.thicknessMm, to.thicknessMm), widthMm },
    thicknessBiteMm,
    widthBiteMm,
    spreads: true,
  };
}

/** Bite that spreads by a share: the law turned round (its rising branch). */
function biteOfSpreadMm(share: number, widthMm: number): number {
  const root = 0.36 ** 2 - 4 * 0.054 * Math.max(0, share - 0.14);
  return widthMm * ((0.36 - Math.sqrt(Math.max(0, root))) / (2 * 0.054));
}

/** The schedule as lines that a person can follow. */
export function passesOf(from: Section, to: Section, plan: Schedule): Pass[] {
  const perPass = Math.log(1 / (1 - rule.REDUCTION_PER_PASS.likely));
  const line = (
    squeeze: "thickness" | "width",
    strain: number,
    biteMm: number,
    fromMm: number,
    toMm: number,
  ): Pass[] => {
    if (strain < 0.005) return [];
    const passes = Math.max(1, Math.ceil(strain / perPass));
    return [{ squeeze, fromMm, toMm, passes, biteMm, reduction: 1 - Math.exp(-strain / passes) }];
  };
  return [
    ...line(
      "thickness",
      plan.thicknessStrain,
      plan.thicknessBiteMm,
      from.thicknessMm,
      to.thicknessMm,
    ),
    ...line("width", plan.widthStrain, plan.widthBiteMm, from.widthMm, to.widthMm),
  ];
}
