/** A blade with its tang: sections, tapers, volume. */
import { circleSegmentMm2, prismatoidVolumeMm3 } from "./solids.js";

export type BladeSection = "wedge" | "bevel" | "diamond" | "lens" | "flat";

export interface BladeShape {
  readonly section: BladeSection;
  /** From shoulder to point, without the tang. */
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thicknessMm: number;
  /** At the cutting edge; zero is sharp. */
  readonly edgeThicknessMm: number;
  readonly tipWidthMm: number;
  readonly tipThicknessMm: number;
  readonly tangLengthMm: number;
  readonly tangWidthMm: number;
  readonly tangThicknessMm: number;
  /** A groove on each face, over `FULLER_LENGTH_SHARE` of the blade. Zero depth: none. */
  readonly fullerWidthMm: number;
  readonly fullerDepthMm: number;
}

/** Share of the width that a part-height bevel takes; the rest is full thickness. Common practice, 0.4 to 0.7. */
export const BEVEL_SHARE = 0.6;
/** Share of the blade's length that a fuller runs. Common practice, 0.5 to 0.85. */
export const FULLER_LENGTH_SHARE = 0.7;

/**
 * Area of a blade's section, mm².
 * Shape: wedge w (t + e)/2; bevel flat over (1 − β) w then to e; diamond as two wedges; lens two arcs on a core of thickness e;
 * flat w t. e the edge thickness. Holds: 0 ≤ e ≤ t ≤ w. Exact. Source: [S02].
 */
export function sectionMm2(section: BladeSection, w: number, t: number, edgeMm = 0): number {
  const e = Math.min(edgeMm, t);
  switch (section) {
    case "wedge":
    case "diamond":
      return (w * (t + e)) / 2;
    case "bevel":
      return w * (1 - BEVEL_SHARE) * t + (w * BEVEL_SHARE * (t + e)) / 2;
    case "lens":
      return e * w + 2 * circleSegmentMm2(w, (t - e) / 2);
    case "flat":
      return w * t;
  }
}

/**
 * Volume of the blade without its tang, mm³: width and thickness taper straight from the shoulder to the tip.
 * Wedge, bevel, diamond and flat exactly (prismatoid); lens by the same rule in eight parts, error under 0.1 %.
 * Fullers are taken off as round grooves of constant section. Source: [S02].
 */
export function bladeBodyVolumeMm3(blade: BladeShape): number {
  const areaAt = (share: number) => {
    const w = blade.widthMm + (blade.tipWidthMm - blade.widthMm) * share;
    const t = blade.thicknessMm + (blade.tipThicknessMm - blade.thicknessMm) * share;
    return sectionMm2(blade.section, w, t, blade.edgeThicknessMm);
  };
  // The edge's clamp at the tip and the lens's arcs are not squares of the length: cut in parts.
  const parts = blade.section === "lens" || blade.edgeThicknessMm > blade.tipThicknessMm ? 8 : 1;
  let body = 0;
  for (let part = 0; part < parts; part++) {
    const [a, b] = [part / parts, (part + 1) / parts];
    body += prismatoidVolumeMm3(areaAt(a), areaAt((a + b) / 2), areaAt(b), blade.lengthMm / parts);
  }
  const groove = 2 * circleSegmentMm2(blade.fullerWidthMm, blade.fullerDepthMm);
  return Math.max(0, body - groove * blade.lengthMm * FULLER_LENGTH_SHARE);
}

/** Volume of the tang, mm³: a straight strip. Exact. */
export const tangVolumeMm3 = (blade: BladeShape): number =>
  blade.tangLengthMm * blade.tangWidthMm * blade.tangThicknessMm;

/** Volume of blade and tang, mm³. */
export const bladeVolumeMm3 = (blade: BladeShape): number =>
  bladeBodyVolumeMm3(blade) + tangVolumeMm3(blade);

/** Outside of blade and tang, mm²: both faces and the two narrow sides. Error: to −3 %, the slope of the faces is left out. */
export function bladeSurfaceMm2(blade: BladeShape): number {
  const width = (blade.widthMm + blade.tipWidthMm) / 2;
  const thickness = (blade.thicknessMm + blade.tipThicknessMm) / 2;
  const body = 2 * blade.lengthMm * (width + thickness);
  return body + 2 * blade.tangLengthMm * (blade.tangWidthMm + blade.tangThicknessMm);
}
