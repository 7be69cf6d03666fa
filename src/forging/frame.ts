/** What a route runs on, and a piece on its way along it. */
import type { DiscPiece, IngotPiece } from "../shape/index.js";
import type { BladeSizes, Context } from "./context.js";
import type { Section } from "./spread.js";
import type { Route, StagePiece } from "./types.js";
import type { Zone } from "./zone.js";

/** A piece on its way: what it weighs, how it stands, where its pipe zone is. */
export interface Work {
  readonly massG: number;
  readonly piece: StagePiece | IngotPiece;
  readonly zone: Zone;
  readonly pipeTaken: boolean;
}

/** What a route runs on: the steel of the zone as shares of the piece, and the sizes aimed at. */
export interface RouteFrame {
  readonly context: Context;
  readonly route: Route;
  readonly split: boolean;
  readonly sizes: BladeSizes;
  /** Share of the ingot's mass in the pipe cone, and what a groove takes over it, likely. */
  readonly coneShare: number;
  readonly grooveFactor: number;
  /** Share of the steel above the bottom of the pipe. */
  readonly topShare: number;
  readonly disc: DiscPiece;
  /** Thickness and width, as the route names them, where the way to the block begins. */
  readonly box: Section;
  readonly block: Section;
  /** Width of the zone as a share of the disc, and so of the length of block and bar. */
  readonly zoneShare: number;
  /** Share of the zone that the tangs of a split bar cannot hide: that much of the groove is still cut. */
  readonly grooveShare: number;
}
