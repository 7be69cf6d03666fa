/** What the planner is asked and what it answers. Lengths cold in mm unless a name says hot; masses in g. */

import type { BladeSection, IngotPiece, Piece } from "../shape/index.js";
import type { Range } from "../steel/index.js";
import type { Reason } from "./reasons.js";

export type Route = "spine" | "face" | "end" | "ring";
export const ROUTES: readonly Route[] = ["spine", "face", "end", "ring"];
export type { Range };

/** An ingot as told: any of it may be missing, but not both its mass and its sizes. */
export interface IngotSpec {
  readonly shape?: "bowl" | "puck" | "cone";
  readonly diameterMm?: number;
  readonly heightMm?: number;
  readonly bottomDiameterMm?: number;
  readonly massG?: number;
  readonly carbonPct?: number;
  readonly pPct?: number;
  readonly pipeDepthMm?: number;
  readonly pipeDiameterMm?: number;
  /** How fast it froze, K/min: sets the spacing of the growth cells. */
  readonly coolingKPerMin?: number;
}

export interface BladeGoal {
  readonly edge: "single" | "double";
  /** Shoulder to point, without the tang. */
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thicknessMm: number;
  readonly tangLengthMm?: number;
  readonly tangWidthMm?: number;
  readonly tangThicknessMm?: number;
  readonly section?: BladeSection;
  readonly fullerWidthMm?: number;
  readonly fullerDepthMm?: number;
  readonly tipWidthMm?: number;
  readonly tipThicknessMm?: number;
  readonly tang?: "stick" | "full";
  readonly count?: number;
}

/** Factors that the log learned from weighings and sizes of this shop; 1 is the planner's own figure. */
export interface ShopFigures {
  /** Share of the piece's mass that one heat costs, 0 to 1. Replaces the scale formula. */
  readonly lossPerHeatFraction?: number;
  /** Multiplies the published spread. */
  readonly spreadFactor?: number;
  /** Multiplies the heats. */
  readonly heatsFactor?: number;
  /** Share of clean iron's scaling that this fire gives. */
  readonly atmosphereFactor?: number;
  /** Multiplies what is taken out with the pipe. */
  readonly pipeFactor?: number;
}

export interface Shop {
  readonly pressKn?: number;
  readonly hammerKg?: number;
  readonly handHammer?: boolean;
  /** True: a handle can be welded on; false: it cannot. Not said: taken as possible, and said so. */
  readonly welder?: boolean;
  readonly startC?: number;
  readonly minutesPerHeat?: number;
  readonly learned?: ShopFigures;
}

export type CrackPlace =
  | "top"
  | "bottom"
  | "rim"
  | "face"
  | "spine"
  | "edge"
  | "end"
  | "tang"
  | "tip";

export interface Crack {
  readonly place?: CrackPlace;
  readonly depthMm?: number;
  readonly lengthMm?: number;
  /** From the tang end. */
  readonly positionMm?: number;
  readonly severity?: "hairline" | "small" | "large";
}

/** What lies on the anvil now. */
export interface WorkState {
  /** Cold sizes. */
  readonly piece: Piece;
  readonly massG?: number;
  readonly heatsDone: number;
  /** Ingot's mass less `massG`. */
  readonly lostG?: number;
  /** Of it: cut, ground, chiselled off, as told. What is left went to scale. */
  readonly removedG?: number;
  readonly meanTempC?: number;
  readonly cracks?: readonly Crack[];
  /** The last stage that is done, if known; else it is read from the sizes. */
  readonly stage?: StageName;
  /** True: the pipe zone is out already. Not said: read from the stage, and stated. */
  readonly pipeTaken?: boolean;
}

export interface PlanRequest {
  readonly ingot: IngotSpec;
  readonly blade?: Partial<BladeGoal>;
  readonly shop?: Shop;
  /** Only this route. */
  readonly route?: Route;
  /** Only with, or only without, the bar cut in two blades. */
  readonly split?: boolean;
  readonly now?: WorkState;
}

export type StageName =
  | "flatten"
  | "punch"
  | "open"
  | "block"
  | "bar"
  | "cut"
  | "preform"
  | "blade";

export interface BladeSize {
  readonly shape: "blade";
  /** Without the tang. */
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thicknessMm: number;
}
export type StagePiece = Exclude<Piece, { shape: "bowl" | "puck" | "cone" }> | BladeSize;

export type PipePlace = "top" | "spine" | "face" | "end" | "tang" | "out";

/** Where the pipe zone lies on a piece. `out`: it has been taken out whole. */
export interface PipeZone {
  readonly place: PipePlace;
  /** Along the piece, from the tang end (on a disc or ring, across it). */
  readonly fromMm: number;
  readonly toMm: number;
  /** From the surface it opens on. */
  readonly depthMm: number;
}

export interface Losses {
  readonly pipeG: number;
  readonly scaleG: number;
  readonly trimG: number;
  readonly grindG: number;
}

export interface StageLosses extends Losses {
  /** Sound steel cut off and kept: not lost, but no longer in the piece. */
  readonly keptG: number;
}

export type Squeezed = "thickness" | "width" | "height" | "length";

/** One line of the schedule: so many passes over the piece, squeezing one side from so much to so much. */
export interface Pass {
  readonly squeeze: Squeezed;
  readonly fromMm: number;
  readonly toMm: number;
  readonly passes: number;
  /** Length of the piece between the dies at each bite. */
  readonly biteMm: number;
  readonly reduction: number;
}

export interface Stage {
  readonly name: StageName;
  /** What the stage begins with, sides named as in `cold`; what is cut off first is gone from it already. */
  readonly start: StagePiece | IngotPiece;
  readonly cold: StagePiece;
  /** The same as a caliper reads it at the working temperature. */
  readonly hot: StagePiece;
  readonly massG: number;
  readonly losses: StageLosses;
  /** Likely heats, whole; `rawHeats` not rounded: the steel lost to scale goes with it. */
  readonly heats: number;
  readonly rawHeats: number;
  /** Of the heaviest bite, likely. */
  readonly forceKn: number;
  /** From the start temperature to the floor, likely. */
  readonly workingS: number;
  readonly pipeLies: PipeZone;
  readonly passes: readonly Pass[];
  readonly watch: readonly Reason[];
  /** How to turn and hold the piece, and why. */
  readonly orient: Reason;
}

export interface Pattern {
  /** Growth cells left across the finished blade. */
  readonly cellsThickness: number;
  readonly cellsWidth: number;
  readonly cellsLength: number;
  readonly bandThicknessUm: number;
  readonly bandWidthUm: number;
  readonly cellsThicknessRange: Range;
  readonly bandThicknessUmRange: Range;
  readonly bandWidthUmRange: Range;
  /** Share of the squeezing that falls on the blade's narrow sides, 0 to 1: over a half the look turns from sheets to strings. */
  readonly sideWorkShare: number;
}

export interface RoutePlan {
  readonly route: Route;
  readonly split: boolean;
  readonly rank: number;
  /** The wanted blade comes out of the steel, likely. */
  readonly fits: boolean;
  /** This shop can do it. */
  readonly feasible: boolean;
  readonly why: readonly Reason[];
  readonly against: readonly Reason[];
  /** The finished blade or blades. */
  readonly neededG: Range;
  /** What is left for them after all four losses. */
  readonly usableG: Range;
  readonly spareG: Range;
  /** Longest blade of the wanted width and thickness, without tang; 0 when not even the tang comes out. */
  readonly largestBladeMm: number;
  /** What the piece now can still give: sizes differ from the goal only where the piece is too thin or too narrow. */
  readonly reachable: {
    readonly lengthMm: number;
    readonly widthMm: number;
    readonly thicknessMm: number;
  };
  readonly ingotShouldHaveWeighedG: number;
  readonly loss: Losses;
  /** Sound steel cut off and kept up to now, as it was planned: gone from the piece, not lost. */
  readonly keptSoFarG: number;
  readonly heats: Range;
  /** To scale, a heat, over the heats that are left. */
  readonly lossPerHeatG: Range;
  readonly pattern: Pattern;
  /** On the piece as it is now. */
  readonly pipeNow: PipeZone;
  /** On the bar, before it is cut. */
  readonly pipeLies: PipeZone;
  /** What is still to do; with a piece on the anvil, from there on. */
  readonly stages: readonly Stage[];
}

export interface ResolvedIngot {
  readonly shape: "bowl" | "puck" | "cone";
  readonly diameterMm: number;
  readonly heightMm: number;
  readonly bottomDiameterMm?: number;
  readonly carbonPct: number;
  readonly volumeMm3: number;
  /** As weighed, or from the shape when it was not. */
  readonly massG: number;
  /** Weighed: the scale's digit; not weighed: the ruler's and the voids'. */
  readonly massRangeG: Range;
  readonly shapeMassG?: number;
  readonly voidPct?: number;
  readonly voidPlusMinusPct?: number;
  readonly pipe: { readonly depthMm: number; readonly diameterMm: number; readonly massG: number };
}

export interface Assumption {
  readonly field: string;
  readonly value: number | string;
  readonly unit?: string;
  /** `default`: common practice; `inferred`: worked out from what was said. */
  readonly from: "default" | "inferred";
}

export interface PlanWindow {
  readonly floorC: number;
  readonly ceilingC: number;
  readonly acmC: number;
  readonly solidusC: number;
  readonly startC: number;
}

export interface Plan {
  readonly refused: false;
  readonly ingot: ResolvedIngot;
  readonly goal: Required<BladeGoal>;
  readonly window: PlanWindow;
  readonly routes: readonly RoutePlan[];
  readonly assumptions: readonly Assumption[];
  readonly notes: readonly Reason[];
}

export interface PlanRefusal {
  readonly refused: true;
  readonly code: "missing" | "not-a-number" | "too-small" | "too-large" | "contradiction";
  readonly field: string;
  readonly got?: number;
  readonly atLeast?: number;
  readonly atMost?: number;
  /** What to do, one plain sentence. */
  readonly what: string;
}
