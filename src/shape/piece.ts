/** What can lie on the anvil: an ingot, a disc, a block or bar, a ring. Volume and surface by exact forms. */
import {
  ballRadiusMm,
  ballSliceVolumeMm3,
  capVolumeMm3,
  coneFlankMm2,
  coneVolumeMm3,
} from "./solids.js";

export interface IngotPiece {
  /** Top up, as it froze: `diameterMm` is the rim, `bottomDiameterMm` the flat it stands on, if it has one. */
  readonly shape: "bowl" | "puck" | "cone";
  readonly diameterMm: number;
  readonly heightMm: number;
  readonly bottomDiameterMm?: number;
}
export interface DiscPiece {
  readonly shape: "disc";
  readonly diameterMm: number;
  readonly heightMm: number;
}
export interface BarPiece {
  readonly shape: "block" | "bar";
  readonly thicknessMm: number;
  readonly widthMm: number;
  readonly lengthMm: number;
}
export interface RingPiece {
  readonly shape: "ring";
  readonly outerDiameterMm: number;
  readonly innerDiameterMm: number;
  readonly heightMm: number;
}
/** A casting that has not been forged to another shape yet. */
export const isIngotPiece = (piece: { readonly shape: string }): piece is IngotPiece =>
  piece.shape === "bowl" || piece.shape === "puck" || piece.shape === "cone";

export type Piece = IngotPiece | DiscPiece | BarPiece | RingPiece;

/**
 * Volume of a piece, mm³.
 * Shape: a bowl is a cap of a ball up to a half ball, above that a half ball with a straight part; with a flat bottom, a slice of a
 * ball. A puck is a cylinder, with a bottom diameter a truncated cone; a cone without a bottom diameter is pointed.
 * Holds: all sizes > 0. Exact. Source: [S02].
 */
export function pieceVolumeMm3(piece: Piece): number {
  switch (piece.shape) {
    case "bowl": {
      const rim = piece.diameterMm / 2;
      if (piece.bottomDiameterMm) {
        return ballSliceVolumeMm3(rim, piece.bottomDiameterMm / 2, piece.heightMm);
      }
      const round = Math.min(piece.heightMm, rim);
      return capVolumeMm3(rim, round) + Math.PI * rim ** 2 * (piece.heightMm - round);
    }
    case "puck":
    case "cone": {
      const bottom = piece.bottomDiameterMm ?? (piece.shape === "puck" ? piece.diameterMm : 0);
      return coneVolumeMm3(piece.diameterMm / 2, bottom / 2, piece.heightMm);
    }
    case "disc":
      return coneVolumeMm3(piece.diameterMm / 2, piece.diameterMm / 2, piece.heightMm);
    case "ring":
      return (
        (Math.PI / 4) * (piece.outerDiameterMm ** 2 - piece.innerDiameterMm ** 2) * piece.heightMm
      );
    default:
      return piece.thicknessMm * piece.widthMm * piece.lengthMm;
  }
}

/** Whole outside of a piece, mm². Same shapes as `pieceVolumeMm3`. Exact. Source: [S02]. */
export function pieceSurfaceMm2(piece: Piece): number {
  switch (piece.shape) {
    case "bowl": {
      const rim = piece.diameterMm / 2;
      const top = Math.PI * rim ** 2;
      if (piece.bottomDiameterMm) {
        const foot = piece.bottomDiameterMm / 2;
        const centre = (rim ** 2 - foot ** 2 + piece.heightMm ** 2) / (2 * piece.heightMm);
        const zone = 2 * Math.PI * Math.hypot(foot, centre) * piece.heightMm;
        return top + zone + Math.PI * foot ** 2;
      }
      const round = Math.min(piece.heightMm, rim);
      const straight = 2 * Math.PI * rim * (piece.heightMm - round);
      return top + 2 * Math.PI * ballRadiusMm(rim, round) * round + straight;
    }
    case "puck":
    case "cone": {
      const rim = piece.diameterMm / 2;
      const foot = (piece.bottomDiameterMm ?? (piece.shape === "puck" ? piece.diameterMm : 0)) / 2;
      return Math.PI * (rim ** 2 + foot ** 2) + coneFlankMm2(rim, foot, piece.heightMm);
    }
    case "disc":
      return (Math.PI / 2) * piece.diameterMm ** 2 + Math.PI * piece.diameterMm * piece.heightMm;
    case "ring": {
      const { outerDiameterMm: outer, innerDiameterMm: inner, heightMm } = piece;
      return (Math.PI / 2) * (outer ** 2 - inner ** 2) + Math.PI * (outer + inner) * heightMm;
    }
    default: {
      const { thicknessMm: t, widthMm: w, lengthMm: l } = piece;
      return 2 * (t * w + t * l + w * l);
    }
  }
}

/** The same piece with every length multiplied: how it reads hot, or how it shrinks. */
export function scaledPiece<P extends Piece>(piece: P, factor: number): P {
  const entries = Object.entries(piece).map(([key, value]) => [
    key,
    typeof value === "number" ? value * factor : value,
  ]);
  return Object.fromEntries(entries) as P;
}

/** Share of an ingot's steel that lies above a depth below its top, 0 to 1. Exact, from the shape's own volumes. */
export function shareAboveDepth(piece: IngotPiece | DiscPiece, depthMm: number): number {
  const depth = Math.min(Math.max(depthMm, 0), piece.heightMm);
  return 1 - volumeBelowMm3(piece, piece.heightMm - depth) / pieceVolumeMm3(piece);
}

/** Depth below the top above which a share of the steel lies, mm: `shareAboveDepth` turned round, to a millionth of the height. */
export function depthOfShareMm(piece: IngotPiece | DiscPiece, share: number): number {
  let low = 0;
  let high = piece.heightMm;
  for (let step = 0; step < 24; step++) {
    const middle = (low + high) / 2;
    if (shareAboveDepth(piece, middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function volumeBelowMm3(piece: IngotPiece | DiscPiece, levelMm: number): number {
  if (levelMm <= 0) return 0;
  const rim = piece.diameterMm / 2;
  if (piece.shape === "disc") return Math.PI * rim ** 2 * levelMm;
  if (piece.shape === "bowl") {
    if (piece.bottomDiameterMm) {
      const foot = piece.bottomDiameterMm / 2;
      const centre = (rim ** 2 - foot ** 2 + piece.heightMm ** 2) / (2 * piece.heightMm);
      const at2 = foot ** 2 + centre ** 2 - (levelMm - centre) ** 2;
      return ballSliceVolumeMm3(Math.sqrt(Math.max(0, at2)), foot, levelMm);
    }
    const round = Math.min(piece.heightMm, rim);
    const ball = ballRadiusMm(rim, round);
    const inBall = Math.min(levelMm, round);
    const straight = Math.max(0, levelMm - round);
    return (Math.PI * inBall ** 2 * (3 * ball - inBall)) / 3 + Math.PI * rim ** 2 * straight;
  }
  const foot = (piece.bottomDiameterMm ?? (piece.shape === "puck" ? piece.diameterMm : 0)) / 2;
  const at = foot + ((rim - foot) * levelMm) / piece.heightMm;
  return coneVolumeMm3(at, foot, levelMm);
}
