/** A stage done: what goes in comes out again, less the losses that are named; and the sizes a stage begins with. */
import { type DiscPiece, type IngotPiece, scaledPiece, squareOfRoundMm } from "../shape/index.js";
import type { Context } from "./context.js";
import type { Effort } from "./effort.js";
import type { RouteFrame, Work } from "./frame.js";
import type { Reason } from "./reasons.js";
import * as rule from "./rules-of-thumb.js";
import type { Section } from "./spread.js";
import { stageWatch } from "./stage-watch.js";
import type { Pass, Route, Stage, StageLosses, StageName, StagePiece } from "./types.js";
import { type Zone, zoneOn } from "./zone.js";

export const NO_LOSS: StageLosses = { pipeG: 0, scaleG: 0, trimG: 0, grindG: 0, keptG: 0 };

/**
 * The disc that a route begins with: as wide as the ingot's rim, which flattening from the bowl side does not shrink, and as high
 * as its steel makes it. On the spine route, which stands it on its rim, one that is too flat has its rim trued in on purpose.
 */
export function discOf(
  context: Context,
  route: Route,
  massG: number,
  from: IngotPiece | DiscPiece,
  nominal?: DiscPiece,
): DiscPiece {
  const volume = massG / context.densityGPerMm3;
  const wide = Math.max(from.diameterMm, nominal && from.shape === "disc" ? nominal.diameterMm : 0);
  const flatHeight = volume / ((Math.PI / 4) * wide ** 2);
  // A pointed cone is upset at most to half its height.
  const least = from.shape === "cone" ? Math.max(flatHeight, from.heightMm / 2) : flatHeight;
  let diameterMm = Math.sqrt(volume / least / (Math.PI / 4));
  if (route === "spine") {
    const stocky = Math.cbrt((rule.RIM_STAND_RATIO * 4 * volume) / Math.PI);
    diameterMm = Math.min(diameterMm, Math.max(stocky, rule.RIM_IN_SHARE * diameterMm));
  }
  return { shape: "disc", diameterMm, heightMm: volume / ((Math.PI / 4) * diameterMm ** 2) };
}

/** Thickness, width and length of a disc or an upright ingot as the block of the same steel, sides as the route has them. */
export function startBox(route: Route, piece: IngotPiece | DiscPiece, volumeMm3: number) {
  if (route === "end") {
    const side = Math.sqrt(volumeMm3 / piece.heightMm);
    return { thicknessMm: side, widthMm: side, lengthMm: piece.heightMm };
  }
  const side = squareOfRoundMm(piece.diameterMm);
  const height = volumeMm3 / side ** 2;
  return route === "spine"
    ? { thicknessMm: side, widthMm: height, lengthMm: side }
    : { thicknessMm: height, widthMm: side, lengthMm: side };
}

/** Half way, in strain, between the start and the bar, and never thicker than wide. */
export function blockSection(start: Section, bar: Section): Section {
  const widthMm = Math.sqrt(start.widthMm * bar.widthMm);
  const thicknessMm = Math.min(start.thicknessMm, Math.sqrt(start.thicknessMm * bar.thicknessMm));
  return { thicknessMm: Math.min(thicknessMm, widthMm), widthMm };
}

export interface Made {
  readonly name: StageName;
  readonly start: StagePiece | IngotPiece;
  readonly cold: StagePiece;
  readonly massG: number;
  readonly losses: StageLosses;
  readonly effort: Effort;
  readonly heats: number;
  readonly zone: Zone;
  readonly pipeTaken: boolean;
  readonly passes: readonly Pass[];
  readonly orient: Reason;
  readonly watch?: readonly Reason[];
}

/** A stage with the heats as they are reckoned, and the work after it. */
export interface Done {
  readonly stage: Stage;
  readonly work: Work;
  readonly rawHeats: number;
  readonly outOfReach: boolean;
  readonly strains: { readonly thickness: number; readonly width: number };
}

export function done(frame: RouteFrame, made: Made, strains = { thickness: 0, width: 0 }): Done {
  const { context } = frame;
  const { cold, effort } = made;
  const hot =
    cold.shape === "blade"
      ? {
          ...cold,
          lengthMm: cold.lengthMm * context.hotFactor,
          widthMm: cold.widthMm * context.hotFactor,
          thicknessMm: cold.thicknessMm * context.hotFactor,
        }
      : scaledPiece(cold, context.hotFactor);
  const pipeLies = zoneOn(made.zone, zoneSides(cold, made.zone));
  const stage: Stage = {
    name: made.name,
    start: made.start,
    cold,
    hot,
    massG: made.massG,
    losses: made.losses,
    heats: Math.max(1, Math.round(made.heats)),
    rawHeats: made.heats,
    forceKn: effort.forceKn,
    workingS: effort.working.likely,
    pipeLies,
    passes: made.passes,
    orient: made.orient,
    watch: [...(made.watch ?? []), ...stageWatch(frame, made, effort)],
  };
  return {
    stage,
    work: { massG: made.massG, piece: cold, zone: made.zone, pipeTaken: made.pipeTaken },
    rawHeats: made.heats,
    outOfReach: effort.outOfReach,
    strains,
  };
}

/** The sides that a zone is measured along and into. */
export function zoneSides(piece: StagePiece, zone: Zone) {
  switch (piece.shape) {
    case "disc":
      return { lengthMm: piece.diameterMm, depthMm: piece.heightMm };
    case "ring":
      return { lengthMm: piece.outerDiameterMm, depthMm: piece.heightMm };
    default: {
      const depthMm =
        zone.place === "face"
          ? piece.thicknessMm
          : zone.place === "end"
            ? piece.lengthMm
            : piece.widthMm;
      return { lengthMm: piece.lengthMm, depthMm };
    }
  }
}
