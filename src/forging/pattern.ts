/** Growth cells across the blade: their number is kept by forging flat, their spacing follows the thickness. */

import { squareOfRoundMm } from "../shape/index.js";
import type { BladeSizes, Context } from "./context.js";
import type { RouteFrame } from "./frame.js";
import type { Pattern, Range, Route } from "./types.js";

/** The ingot's own sides that become thickness, width and length, mm. A round counts as the square of its area. */
export function ingotSides(context: Context, route: Route, frame: RouteFrame) {
  const { diameterMm, heightMm } = context.ingot.ingot;
  const across = squareOfRoundMm(diameterMm);
  switch (route) {
    case "spine":
      return { thicknessMm: across, widthMm: heightMm, lengthMm: across };
    case "face":
      return { thicknessMm: heightMm, widthMm: across, lengthMm: across };
    case "end":
      return { thicknessMm: across, widthMm: across, lengthMm: heightMm * (1 - frame.topShare) };
    case "ring": {
      const hole = frame.zoneShare * diameterMm;
      const wall = (diameterMm - hole) / 2;
      const [thicknessMm, widthMm] = heightMm <= wall ? [heightMm, wall] : [wall, heightMm];
      return { thicknessMm, widthMm, lengthMm: (Math.PI * (diameterMm + hole)) / 2 };
    }
  }
}

/**
 * Cells left across the finished blade and the spacing of the bands they make, µm.
 * Shape: N = ingot side / cell spacing; spacing on the blade = forged side / N; grinding takes cells with the steel.
 * Holds: forged flat, the cells drawn out evenly. Error: the band of the cell spacing, ±30 %. Source: [S70], [S21].
 */
export function patternOf(
  frame: RouteFrame,
  sizes: BladeSizes,
  lengthShare: number,
  strains: { readonly thickness: number; readonly width: number },
): Pattern {
  const { context, route } = frame;
  const sides = ingotSides(context, route, frame);
  const finished = sizes.finished(1);
  const blank = sizes.blank(1);
  const um = context.cellUm;
  const across = (mm: number): Range => ({
    low: (mm * 1000) / um.high,
    likely: (mm * 1000) / um.likely,
    high: (mm * 1000) / um.low,
  });
  const left = (cells: Range, of: number): Range => ({
    low: cells.low * of,
    likely: cells.likely * of,
    high: cells.high * of,
  });
  const band = (mm: number, cells: Range): Range => ({
    low: (mm * 1000) / cells.high,
    likely: (mm * 1000) / cells.likely,
    high: (mm * 1000) / cells.low,
  });
  const ofThickness = across(sides.thicknessMm);
  const ofWidth = across(sides.widthMm);
  const cellsThickness = left(ofThickness, finished.thicknessMm / blank.thicknessMm);
  const bandThickness = band(blank.thicknessMm, ofThickness);
  const bandWidth = band(blank.widthMm, ofWidth);
  const all = strains.thickness + strains.width;
  return {
    cellsThickness: cellsThickness.likely,
    cellsWidth: (ofWidth.likely * finished.widthMm) / blank.widthMm,
    cellsLength: across(sides.lengthMm).likely * Math.min(1, Math.max(0, lengthShare)),
    bandThicknessUm: bandThickness.likely,
    bandWidthUm: bandWidth.likely,
    cellsThicknessRange: cellsThickness,
    bandThicknessUmRange: bandThickness,
    bandWidthUmRange: bandWidth,
    sideWorkShare: all > 0 ? strains.width / all : 0,
  };
}
