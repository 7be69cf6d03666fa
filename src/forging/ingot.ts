/** The ingot: what was said, what follows from it, and what its weight says of voids. */
import {
  depthOfShareMm,
  type IngotPiece,
  pieceVolumeMm3,
  shareAboveDepth,
} from "../shape/index.js";
import { densityGPerMm3 } from "../steel/index.js";
import type { Reason } from "./reasons.js";
import { refusalOf } from "./refusal.js";
import * as rule from "./rules-of-thumb.js";
import type { Assumption, IngotSpec, PlanRefusal, Range, ResolvedIngot } from "./types.js";

export interface IngotInHand {
  readonly refused: false;
  readonly ingot: ResolvedIngot;
  readonly piece: IngotPiece;
  /** Share of the steel above the bottom of the pipe zone. */
  readonly pipeTopShare: Range;
  /** Over the steel of the zone, what a groove takes. */
  readonly grooveOverZone: Range;
  readonly coolingKPerMin: number;
  readonly assumptions: readonly Assumption[];
  readonly notes: readonly Reason[];
}

/** Half of the last digit that a figure was given to: what a ruler or a scale leaves open. */
export const halfDigit = (value: number): number => (Number.isInteger(value) ? 0.5 : 0.05);
const halfDigitOfMass = (massG: number): number =>
  Number.isInteger(massG) && massG % 10 === 0 ? 5 : 0.5;

/**
 * Mass against shape: how much lighter than sound steel an ingot is.
 * `voidPct` may come out negative: the sizes are too small. `plusMinusPct` is what the last digits of ruler and scale leave open
 * (about 90 %). `heightErrorMm` is the error in height that would explain it instead. Exact but for density, ±0.13 %. [S02]
 */
export function voidCheck(
  piece: IngotPiece,
  massG: number,
  carbonPct: number = rule.DEFAULT_CARBON_PCT,
): { voidPct: number; plusMinusPct: number; heightErrorMm: number } {
  const volume = pieceVolumeMm3(piece);
  const voidShare = 1 - massG / (densityGPerMm3(carbonPct) * volume);
  const perMmHeight = slope(piece, "heightMm") / volume;
  const parts = [...relativeRulerErrors(piece), halfDigitOfMass(massG) / massG, 0.01 / 7.83];
  return {
    voidPct: voidShare * 100,
    plusMinusPct: Math.hypot(...parts) * (1 - voidShare) * 100,
    heightErrorMm: voidShare / perMmHeight,
  };
}

type SizeKey = "diameterMm" | "heightMm" | "bottomDiameterMm";

function slope(piece: IngotPiece, key: SizeKey): number {
  const value = piece[key];
  if (!value) return 0;
  const step = value * 1e-4;
  const more = pieceVolumeMm3({ ...piece, [key]: value + step });
  return (more - pieceVolumeMm3({ ...piece, [key]: value - step })) / (2 * step);
}

const relativeRulerErrors = (piece: IngotPiece): number[] =>
  (["diameterMm", "heightMm", "bottomDiameterMm"] as const).map((key) => {
    const value = piece[key];
    return value ? (slope(piece, key) * halfDigit(value)) / pieceVolumeMm3(piece) : 0;
  });

/** Completes an ingot from what was said. Missing sizes follow from the mass, a missing mass from the sizes. */
export function resolveIngot(spec: IngotSpec): IngotInHand | PlanRefusal {
  const refusal = checked(spec);
  if (refusal) return refusal;
  const assumptions: Assumption[] = [];
  const notes: Reason[] = [];
  const carbonPct = spec.carbonPct ?? rule.DEFAULT_CARBON_PCT;
  if (spec.carbonPct === undefined) {
    assumptions.push({ field: "carbonPct", value: carbonPct, unit: "%", from: "default" });
  }
  const density = densityGPerMm3(carbonPct);
  const piece = shapeOf(spec, density, assumptions);
  if ("refused" in piece) return piece;
  const volumeMm3 = pieceVolumeMm3(piece);
  const sizesSaid = spec.diameterMm !== undefined && spec.heightMm !== undefined;
  const shapeMassG = density * volumeMm3;
  const massG = spec.massG ?? shapeMassG;
  const massRangeG = massRange(spec, piece, shapeMassG);
  if (spec.massG === undefined) {
    assumptions.push({ field: "massG", value: Math.round(massG), unit: "g", from: "inferred" });
  }
  const check =
    spec.massG !== undefined && sizesSaid ? voidCheck(piece, spec.massG, carbonPct) : undefined;
  if (check && (check.voidPct > 45 || check.voidPct < -45)) {
    return {
      refused: true,
      code: "contradiction",
      field: "ingot.massG",
      got: massG,
      what: `Check the ingot: its sizes say ${Math.round(shapeMassG)} g, the scale ${Math.round(massG)} g.`,
    };
  }
  if (check) notes.push(...voidNotes(check));
  if (spec.shape === undefined && spec.massG !== undefined) {
    notes.push({ code: "taken-as", shape: piece.shape });
  }
  const pipe = pipeOf(spec, piece, massG, assumptions);
  if (spec.coolingKPerMin === undefined) {
    const value = rule.DEFAULT_COOLING_K_PER_MIN;
    assumptions.push({ field: "coolingKPerMin", value, unit: "K/min", from: "default" });
  }
  return {
    refused: false,
    ingot: {
      ...piece,
      carbonPct,
      volumeMm3,
      massG,
      massRangeG,
      ...(sizesSaid ? { shapeMassG } : {}),
      ...(check ? { voidPct: check.voidPct, voidPlusMinusPct: check.plusMinusPct } : {}),
      pipe: pipe.zone,
    },
    piece,
    pipeTopShare: pipe.topShare,
    grooveOverZone: pipe.grooveOverZone,
    coolingKPerMin: spec.coolingKPerMin ?? rule.DEFAULT_COOLING_K_PER_MIN,
    assumptions,
    notes,
  };
}

const checked = (spec: IngotSpec): PlanRefusal | undefined =>
  refusalOf([
    { field: "ingot.diameterMm", value: spec.diameterMm, low: 10, high: 400, unit: "mm" },
    { field: "ingot.heightMm", value: spec.heightMm, low: 5, high: 500, unit: "mm" },
    {
      field: "ingot.bottomDiameterMm",
      value: spec.bottomDiameterMm,
      low: 1,
      high: 400,
      unit: "mm",
    },
    { field: "ingot.massG", value: spec.massG, low: 20, high: 30_000, unit: "g" },
    { field: "ingot.carbonPct", value: spec.carbonPct, low: 0.4, high: 2.1, unit: "%" },
    { field: "ingot.pPct", value: spec.pPct, low: 0, high: 2, unit: "%" },
    { field: "ingot.pipeDepthMm", value: spec.pipeDepthMm, low: 0.1, high: 500, unit: "mm" },
    { field: "ingot.pipeDiameterMm", value: spec.pipeDiameterMm, low: 0.1, high: 400, unit: "mm" },
    {
      field: "ingot.coolingKPerMin",
      value: spec.coolingKPerMin,
      low: 0.01,
      high: 10_000,
      unit: "K/min",
    },
  ]);

/** The shape from what was said; what is missing from the mass and common proportions. */
function shapeOf(
  spec: IngotSpec,
  densityGPerMm: number,
  assumptions: Assumption[],
): IngotPiece | PlanRefusal {
  const { diameterMm, heightMm, massG } = spec;
  if (massG === undefined && (diameterMm === undefined || heightMm === undefined)) {
    return {
      refused: true,
      code: "missing",
      field: "ingot.massG",
      what: "Give the ingot's weight, or its shape with diameter and height.",
    };
  }
  const shape = spec.shape ?? likelyShape(spec, densityGPerMm);
  if (spec.shape === undefined) {
    assumptions.push({ field: "shape", value: shape, from: "inferred" });
  }
  const bottom = spec.bottomDiameterMm;
  const of = (diameter: number, height: number): IngotPiece => {
    const foot =
      bottom ??
      (shape === "cone" && heightMm === undefined ? diameter * rule.CONE_BOTTOM_SHARE : undefined);
    return {
      shape,
      diameterMm: diameter,
      heightMm: height,
      ...(foot ? { bottomDiameterMm: foot } : {}),
    };
  };
  if (diameterMm !== undefined && heightMm !== undefined) {
    const piece = of(diameterMm, heightMm);
    return shape === "cone" && !bottom && massG
      ? coneOfMass(piece, massG / densityGPerMm, assumptions)
      : piece;
  }
  const target = (massG ?? 0) / densityGPerMm;
  const share = rule.HEIGHT_SHARE[shape];
  const grown = (factor: number): IngotPiece => {
    if (diameterMm !== undefined) return of(diameterMm, factor);
    if (heightMm !== undefined) return of(factor, heightMm);
    return of(factor, factor * share);
  };
  const found = solveSize(grown, target);
  for (const field of ["diameterMm", "heightMm"] as const) {
    if (spec[field] === undefined) {
      assumptions.push({ field, value: Math.round(found[field]), unit: "mm", from: "inferred" });
    }
  }
  return found;
}

function solveSize(grown: (factor: number) => IngotPiece, volumeMm3: number): IngotPiece {
  let low = 0.1;
  let high = 2000;
  for (let step = 0; step < 50; step++) {
    const middle = (low + high) / 2;
    if (pieceVolumeMm3(grown(middle)) < volumeMm3) low = middle;
    else high = middle;
  }
  return grown((low + high) / 2);
}

/** A cone whose bottom was not said is pointed, unless its mass says that it is not. */
function coneOfMass(piece: IngotPiece, volumeMm3: number, assumptions: Assumption[]): IngotPiece {
  if (volumeMm3 <= pieceVolumeMm3(piece)) return piece;
  const full = { ...piece, bottomDiameterMm: piece.diameterMm };
  if (volumeMm3 >= pieceVolumeMm3(full)) return full;
  const found = solveSize((size) => ({ ...piece, bottomDiameterMm: size }), volumeMm3);
  const value = Math.round(found.bottomDiameterMm ?? 0);
  assumptions.push({ field: "bottomDiameterMm", value, unit: "mm", from: "inferred" });
  return found;
}

function likelyShape(spec: IngotSpec, densityGPerMm: number): "bowl" | "puck" | "cone" {
  const { diameterMm, heightMm, massG, bottomDiameterMm } = spec;
  if (bottomDiameterMm !== undefined) return "cone";
  if (massG === undefined || diameterMm === undefined || heightMm === undefined) return "bowl";
  const filled = massG / densityGPerMm / ((Math.PI / 4) * diameterMm ** 2 * heightMm);
  return filled > 0.85 ? "puck" : "bowl";
}

function massRange(spec: IngotSpec, piece: IngotPiece, shapeMassG: number): Range {
  if (spec.massG !== undefined) {
    const half = halfDigitOfMass(spec.massG);
    return { low: spec.massG - half, likely: spec.massG, high: spec.massG + half };
  }
  const ruler = Math.hypot(...relativeRulerErrors(piece));
  return {
    low: shapeMassG * (1 - Math.hypot(ruler, rule.UNWEIGHED_VOID_SHARE)),
    likely: shapeMassG,
    high: shapeMassG * (1 + ruler),
  };
}

function voidNotes(check: ReturnType<typeof voidCheck>): Reason[] {
  const { voidPct, plusMinusPct, heightErrorMm } = check;
  if (voidPct > plusMinusPct) return [{ code: "void", voidPct, plusMinusPct, heightErrorMm }];
  if (voidPct < -plusMinusPct)
    return [{ code: "heavier-than-shape", overPct: -voidPct, plusMinusPct, heightErrorMm }];
  return [];
}

/** The pipe zone: a cone point down at the top centre, as said or as common practice has it. */
function pipeOf(spec: IngotSpec, piece: IngotPiece, massG: number, assumptions: Assumption[]) {
  const said = spec.pipeDepthMm;
  const share = rule.PIPE_TOP_SHARE;
  const depthMm = Math.min(said ?? depthOfShareMm(piece, share.likely), piece.heightMm);
  const diameterMm = Math.min(
    spec.pipeDiameterMm ?? piece.diameterMm * rule.PIPE_DIAMETER_SHARE.likely,
    piece.diameterMm,
  );
  if (said === undefined) {
    assumptions.push({
      field: "pipeDepthMm",
      value: Math.round(depthMm),
      unit: "mm",
      from: "default",
    });
  }
  if (spec.pipeDiameterMm === undefined) {
    assumptions.push({
      field: "pipeDiameterMm",
      value: Math.round(diameterMm),
      unit: "mm",
      from: "default",
    });
  }
  const coneMm3 = (Math.PI * diameterMm ** 2 * depthMm) / 12;
  const error = rule.SAID_PIPE_ERROR;
  const guessed = said === undefined || spec.pipeDiameterMm === undefined;
  return {
    zone: { depthMm, diameterMm, massG: (massG * coneMm3) / pieceVolumeMm3(piece) },
    topShare:
      said === undefined
        ? share
        : {
            low: shareAboveDepth(piece, depthMm * (1 - error)),
            likely: shareAboveDepth(piece, depthMm),
            high: shareAboveDepth(piece, depthMm * (1 + error)),
          },
    grooveOverZone: guessed ? rule.GROOVE_OVER_GUESSED_ZONE : rule.GROOVE_OVER_ZONE,
  };
}
