/** The size to work to next: a few heats away, on the straight way of its stage. */
import {
  type BarPiece,
  type DiscPiece,
  pieceSurfaceMm2,
  pieceVolumeMm3,
  scaledPiece,
} from "../shape/index.js";
import type { Reason } from "./reasons.js";
import * as rule from "./rules-of-thumb.js";
import type { RoutePlan, Squeezed, Stage, StagePiece } from "./types.js";

export interface NextSize {
  readonly cold: StagePiece;
  /** As a caliper reads it at the working temperature. */
  readonly hot: StagePiece;
  readonly massG: number;
  /** The side that is brought down the most; undefined where nothing is squeezed (cutting, punching, the blade). */
  readonly squeeze:
    | { readonly side: Squeezed; readonly fromMm: number; readonly toMm: number }
    | undefined;
  /** What to watch on the way to this size; how slender it is on edge is its own figure. */
  readonly watch: readonly Reason[];
  /** Likely heats from the piece now to this size, whole. */
  readonly heats: number;
  readonly ofStage: {
    readonly stage: Stage;
    /** This size is the first of so many on the way to the stage's own; 1: it is the stage's own. */
    readonly sizes: number;
  };
}

/** The next size of a route as planned from the piece now; undefined when nothing is left to do. */
export const nextSize = (route: RoutePlan): NextSize | undefined => waypoints(route.stages[0])[0];

/**
 * Sizes on the way of a stage, about `HEATS_A_SIZE` heats apart, the last the stage's own.
 * Shape: equal steps of true strain, so that flat and edge squeezes keep their balance and spread as published all the way, and no
 * size is more slender than the ends of the stage; the length is what the volume leaves. Steel cut off first is gone from all, what is taken out
 * at the end (the pipe) only from the last; scale goes with heats and surface. Error: that of the stage. Source: [S42].
 */
export function waypoints(stage: Stage | undefined): NextSize[] {
  if (stage === undefined) return [];
  const many = canStop(stage) ? Math.max(1, Math.ceil(stage.rawHeats / rule.HEATS_A_SIZE)) : 1;
  return Array.from({ length: many }, (_, index) => waypoint(stage, index + 1, many));
}

/** A casting is flattened in one go: between a bowl and a disc it has no size that a rule can tell. */
const canStop = ({ name, start, cold }: Stage): boolean =>
  (isBar(start) && isBar(cold) && (name === "block" || name === "bar" || name === "preform")) ||
  (start.shape === "disc" && cold.shape === "disc");

const isBar = (piece: { readonly shape: string }): piece is BarPiece =>
  piece.shape === "block" || piece.shape === "bar";

function waypoint(stage: Stage, step: number, many: number): NextSize {
  const { cold, massG } = step === many ? stage : between(stage, step / many);
  const start = step === 1 ? stage.start : between(stage, (step - 1) / many).cold;
  const grown = grownBy(stage);
  const [before, after] = [step - 1, step].map((n) => (stage.rawHeats * n) / many);
  return {
    cold,
    hot: cold.shape === "blade" ? stage.hot : scaledPiece(cold, grown),
    massG,
    squeeze: squeezeOf(start, cold),
    watch: watchOf(stage, start, cold),
    heats: Math.max(1, Math.round((after ?? 0) - (before ?? 0))),
    ofStage: { stage, sizes: many - step + 1 },
  };
}

function watchOf({ watch }: Stage, start: Stage["start"], cold: StagePiece): Reason[] {
  const onEdge = (piece: Stage["start"]): number =>
    isBar(piece)
      ? Math.max(piece.widthMm / piece.thicknessMm, piece.thicknessMm / piece.widthMm)
      : 0;
  const ratio = Math.max(onEdge(start), onEdge(cold));
  return watch.flatMap((reason): readonly Reason[] => {
    if (reason.code !== "slender-on-edge") return [reason];
    return ratio > rule.EDGE_CARE_RATIO ? [{ code: reason.code, ratio }] : [];
  });
}

function grownBy({ cold, hot }: Stage): number {
  const side = (piece: StagePiece) =>
    piece.shape === "disc"
      ? piece.heightMm
      : piece.shape === "ring"
        ? piece.outerDiameterMm
        : piece.widthMm;
  return side(hot) / side(cold);
}

/** Mass on the way, g: what the stage cuts first is off, its scale goes with heats and the surface in the fire, the groove comes last. */
function massAt({ start, cold, massG, losses }: Stage, share: number): number {
  // Each strain takes more heats as the piece cools faster, and each heat more scale as more of it lies bare.
  const growth =
    cold.shape === "blade" || start.shape === "blade"
      ? 1
      : (inFireMm2(cold) / inFireMm2(start)) * (pieceSurfaceMm2(cold) / pieceSurfaceMm2(start));
  const scaled = Math.abs(growth - 1) < 1e-6 ? share : (growth ** share - 1) / (growth - 1);
  return massG + losses.pipeG + losses.scaleG * (1 - scaled);
}

function inFireMm2(piece: Stage["start"]): number {
  if (piece.shape === "blade") return 1;
  const lengthMm = isBar(piece) ? piece.lengthMm : 0;
  return pieceSurfaceMm2(piece) * Math.min(1, rule.FIRE_LENGTH_MM / lengthMm);
}

/** A size on the way, sides rounded for the caliper, and its mass: scale goes with the strain that the rounded sides really have. */
function between(stage: Stage, share: number): { cold: BarPiece | DiscPiece; massG: number } {
  const { start, cold } = stage;
  const along = (from: number, to: number) => readable(from * (to / from) ** share, from, to);
  const at = (ends: readonly (readonly [number, number])[], reached: readonly number[]) => {
    const strain = (of: (index: number) => number) =>
      ends.reduce((sum, [from], index) => sum + Math.abs(Math.log(from / of(index))), 0);
    const whole = strain((index) => ends[index]?.[1] ?? 1);
    const part = whole < 1e-6 ? share : strain((index) => reached[index] ?? 1) / whole;
    const massG = massAt(stage, Math.min(1, part));
    return { massG, volume: volumePerG(stage) * massG };
  };
  if (start.shape === "disc" && cold.shape === "disc") {
    const heightMm = along(start.heightMm, cold.heightMm);
    const { massG, volume } = at([[start.heightMm, cold.heightMm]], [heightMm]);
    const diameterMm = Math.sqrt((4 * volume) / Math.PI / heightMm);
    return { cold: { shape: "disc", diameterMm, heightMm }, massG };
  }
  if (!isBar(start) || !isBar(cold)) {
    throw new RangeError(`no size between ${start.shape} and ${cold.shape}`);
  }
  const thicknessMm = along(start.thicknessMm, cold.thicknessMm);
  const widthMm = along(start.widthMm, cold.widthMm);
  const ends = [
    [start.thicknessMm, cold.thicknessMm],
    [start.widthMm, cold.widthMm],
  ] as const;
  const { massG, volume } = at(ends, [thicknessMm, widthMm]);
  const lengthMm = volume / (thicknessMm * widthMm);
  return { cold: { shape: cold.shape, thicknessMm, widthMm, lengthMm }, massG };
}

/** Volume of a gram, mm³: the stage's own, so that sizes close with masses. */
const volumePerG = ({ cold, massG }: Stage): number =>
  cold.shape === "blade" ? 0 : pieceVolumeMm3(cold) / massG;

/** To a whole mm, to half a mm under 10, where that stays between the two ends. */
function readable(value: number, fromMm: number, toMm: number): number {
  const step = value < 10 ? 0.5 : 1;
  const round = Math.round(value / step) * step;
  const [low, high] = [Math.min(fromMm, toMm), Math.max(fromMm, toMm)];
  return round > low && round < high ? round : value;
}

/** The side that comes down the most, in strain. */
function squeezeOf(start: Stage["start"], cold: StagePiece): NextSize["squeeze"] {
  const sides: readonly (readonly [Squeezed, number, number])[] =
    isBar(start) && isBar(cold)
      ? [
          ["thickness", start.thicknessMm, cold.thicknessMm],
          ["width", start.widthMm, cold.widthMm],
        ]
      : "heightMm" in start && cold.shape === "disc"
        ? [["height", start.heightMm, cold.heightMm]]
        : [];
  const most = [...sides].sort((a, b) => b[1] / b[2] - a[1] / a[2])[0];
  if (most === undefined || most[1] <= most[2] * 1.005) return undefined;
  return { side: most[0], fromMm: most[1], toMm: most[2] };
}
