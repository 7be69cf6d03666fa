/** Small sums asked between heats: what a cut takes, what a piece weighs, which blade is left. */
import { type BarPiece, type Piece, pieceVolumeMm3 } from "../shape/index.js";
import { densityGPerMm3 } from "../steel/index.js";
import * as rule from "./rules-of-thumb.js";
import type { Plan, RoutePlan } from "./types.js";

export interface CutAdvice {
  readonly massG: number;
  readonly leftMm: number;
  readonly leftG: number;
  /** Share of the piece that goes, 0 to 1. */
  readonly share: number;
}

/**
 * What goes and what stays when a length is cut off a bar. More than the bar is long takes all of it.
 * Exact but for density, ±0.13 %. Source: [S02], [S07].
 */
export function cutAdvice({
  piece,
  cutMm,
  carbonPct = rule.DEFAULT_CARBON_PCT,
  massG,
}: {
  readonly piece: BarPiece;
  readonly cutMm: number;
  readonly carbonPct?: number;
  readonly massG?: number;
}): CutAdvice {
  const share = Math.min(1, Math.max(0, cutMm / piece.lengthMm));
  const whole = massG ?? massFromPiece(piece, carbonPct);
  return {
    massG: whole * share,
    leftMm: piece.lengthMm * (1 - share),
    leftG: whole * (1 - share),
    share,
  };
}

/** Mass of a piece from its sizes, g; with a temperature, the sizes are hot ones. Error: ±0.2 % and the ruler's. Source: [S07]. */
export const massFromPiece = (
  piece: Piece,
  carbonPct: number = rule.DEFAULT_CARBON_PCT,
  tempC?: number,
): number => pieceVolumeMm3(piece) * densityGPerMm3(carbonPct, tempC);

export interface LargestBlade {
  readonly route: RoutePlan["route"];
  readonly split: boolean;
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thicknessMm: number;
}

/** Longest blade of the wanted width and thickness by each route that this shop can do, longest first. */
export const largestBlade = (plan: Plan): LargestBlade[] =>
  plan.routes
    .filter(({ feasible }) => feasible)
    .map(({ route, split, reachable }) => ({ route, split, ...reachable }))
    .sort((a, b) => b.lengthMm - a.lengthMm);
