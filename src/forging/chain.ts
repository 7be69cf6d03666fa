/** The stages of one route, one after another: what goes in comes out again, less the losses that are named. */
import {
  type DiscPiece,
  type IngotPiece,
  pieceSurfaceMm2,
  scaledPiece,
  squareOfRoundMm,
} from "../shape/index.js";
import type { Context } from "./context.js";
import { type Effort, effortOfFlattening, scaleG, squeezeEffort } from "./effort.js";
import type { RouteFrame, Work } from "./frame.js";
import type { Reason } from "./reasons.js";
import * as rule from "./rules-of-thumb.js";
import { passesOf, type Section, schedule } from "./spread.js";
import { stageWatch } from "./stage-watch.js";
import type { Pass, Route, Stage, StageLosses, StageName, StagePiece } from "./types.js";
import { NO_ZONE, type Zone, zoneAfterCuts, zoneOn } from "./zone.js";

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

/** A disc under this share of the rim it came from had its rim trued in, and not only scaled. */
const RIM_AS_CAST = 0.97;

/** Flatten and true the ingot until it sits well. */
export function flatten(frame: RouteFrame, work: Work): Done {
  const { context, route } = frame;
  const from = work.piece as IngotPiece | DiscPiece;
  const before = discOf(context, route, work.massG, from, frame.disc);
  const volume = work.massG / context.densityGPerMm3;
  const effort = effortOfFlattening(context, volume, from.heightMm, before);
  const lost = scaleG(
    context,
    work.massG,
    effort.heats,
    (pieceSurfaceMm2(from) + pieceSurfaceMm2(before)) / 2,
    before.diameterMm,
  );
  const massG = work.massG - lost;
  const cold = discOf(context, route, massG, from, frame.disc);
  const diameter = frame.zoneShare;
  const zone: Zone = {
    place: "top",
    from: 0.5 - diameter / 2,
    to: 0.5 + diameter / 2,
    depth: frame.topShare,
  };
  return done(frame, {
    name: "flatten",
    start: from,
    cold,
    massG,
    losses: { ...NO_LOSS, scaleG: lost },
    effort,
    heats: effort.heats,
    zone,
    pipeTaken: work.pipeTaken,
    passes: [
      {
        squeeze: "height",
        fromMm: from.heightMm,
        toMm: cold.heightMm,
        passes: Math.max(1, Math.ceil(Math.abs(Math.log(from.heightMm / cold.heightMm)) / 0.17)),
        biteMm: effort.biteMm,
        reduction: Math.max(0, 1 - cold.heightMm / from.heightMm),
      },
    ],
    orient:
      cold.diameterMm < from.diameterMm * RIM_AS_CAST && from.shape !== "cone"
        ? { code: "true-rim-in", diameterMm: cold.diameterMm }
        : { code: "hold-by-rim" },
    watch: firstHeatWatch(context),
  });
}

export const firstHeatWatch = (context: Context): Reason[] => [
  context.phosphorusLimits
    ? { code: "first-heats-cool", ceilingC: context.window.ceilingC }
    : { code: "keep-under", ceilingC: context.window.ceilingC },
];

/** Punch the pipe out of the disc. */
export function punch(frame: RouteFrame, work: Work): Done {
  const { context } = frame;
  const disc = work.piece as DiscPiece;
  const hole = Math.max(0.05, frame.zoneShare) * disc.diameterMm;
  const holeG = (Math.PI / 4) * hole ** 2 * disc.heightMm * context.densityGPerMm3;
  const slug = Math.min(
    0.8 * work.massG,
    (holeG * rule.SLUG_SHARE.likely * frame.grooveFactor) / GROOVE_LIKELY,
  );
  const effort = effortOfFlattening(context, holeG / context.densityGPerMm3, disc.heightMm, {
    diameterMm: hole,
    heightMm: disc.heightMm,
  });
  const heats = PUNCH_HEATS * context.heatsFactor;
  const lost = scaleG(context, work.massG - slug, heats, pieceSurfaceMm2(disc), disc.diameterMm);
  const massG = work.massG - slug - lost;
  const volume = massG / context.densityGPerMm3;
  const outer = Math.sqrt(volume / disc.heightMm / (Math.PI / 4) + hole ** 2);
  return done(frame, {
    name: "punch",
    start: disc,
    cold: { shape: "ring", outerDiameterMm: outer, innerDiameterMm: hole, heightMm: disc.heightMm },
    massG,
    losses: { ...NO_LOSS, pipeG: slug, scaleG: lost },
    effort: { ...effort, heats },
    heats,
    zone: NO_ZONE,
    pipeTaken: true,
    passes: [],
    orient: { code: "hold-by-rim" },
    watch: [{ code: "punch-with-care", diameterMm: hole }],
  });
}

/** Heats to punch and to open. Common practice, 1 to 4 and 2 to 6. */
const PUNCH_HEATS = 2;
const OPEN_HEATS = 3;
const GROOVE_LIKELY = 1.6;

/** Cut the ring and open it: the length is that of its middle line. */
export function openRing(frame: RouteFrame, work: Work): Done {
  const { context } = frame;
  const ring = work.piece as Extract<StagePiece, { shape: "ring" }>;
  const wall = (ring.outerDiameterMm - ring.innerDiameterMm) / 2;
  const kerf = Math.min(
    work.massG / 4,
    rule.RING_CUT_MM * wall * ring.heightMm * context.densityGPerMm3,
  );
  const heats = OPEN_HEATS * context.heatsFactor;
  const lost = scaleG(
    context,
    work.massG - kerf,
    heats,
    pieceSurfaceMm2(ring),
    ring.outerDiameterMm,
  );
  const massG = work.massG - kerf - lost;
  const [thicknessMm, widthMm] = [Math.min(ring.heightMm, wall), Math.max(ring.heightMm, wall)];
  const lengthMm = massG / context.densityGPerMm3 / (thicknessMm * widthMm);
  const section = { thicknessMm, widthMm };
  const effort = squeezeEffort(
    context,
    section,
    section,
    schedule(section, section),
  )(massG / context.densityGPerMm3);
  return done(frame, {
    name: "open",
    start: ring,
    cold: { shape: "bar", ...section, lengthMm },
    massG,
    losses: { ...NO_LOSS, scaleG: lost, trimG: kerf },
    effort: { ...effort, heats },
    heats,
    // The wall of the hole lies across the ring's wall: on the spine of a flat ring, on a face of a high one.
    zone: {
      place: wall >= ring.heightMm ? "spine" : "face",
      from: 0,
      to: 1,
      depth: HOLE_WALL_SHARE,
    },
    pipeTaken: true,
    passes: [],
    orient: { code: wall >= ring.heightMm ? "hole-wall-is-spine" : "hole-wall-is-face" },
    watch: [{ code: "open-slowly" }],
  });
}
/** Depth of the torn hole wall as a share of the bar's width. Common practice, 0.05 to 0.15. */
const HOLE_WALL_SHARE = 0.1;

/** What the groove over the pipe zone takes, g: on the spine and face routes, once. */
const grooveOf = ({ route, ...frame }: RouteFrame, work: Work): number =>
  route === "end" || route === "ring" || work.pipeTaken
    ? 0
    : Math.min(
        0.6 * work.massG,
        frame.coneShare * work.massG * frame.grooveFactor * frame.grooveShare,
      );

/** From disc or ingot to the block, the pipe taken out where the route takes it out here. */
export function block(frame: RouteFrame, work: Work): Done {
  const { context, route } = frame;
  const volume = work.massG / context.densityGPerMm3;
  const piece = work.piece;
  const start =
    piece.shape === "block" || piece.shape === "bar"
      ? piece
      : startBox(route, piece as IngotPiece | DiscPiece, volume);
  const to = smaller(frame.block, start);
  const zoneLength = frame.zoneShare;
  const grooveG = grooveOf(frame, work);
  const zone: Zone =
    route === "end"
      ? { place: "end", from: 1 - frame.topShare, to: 1, depth: frame.topShare }
      : {
          place: route === "spine" ? "spine" : "face",
          from: Math.max(0, 0.5 - zoneLength / 2),
          to: Math.min(1, 0.5 + zoneLength / 2),
          depth: frame.topShare,
        };
  const box = { shape: "block" as const, ...to, lengthMm: volume / (to.thicknessMm * to.widthMm) };
  const groove: Reason[] =
    grooveG > 0
      ? [
          {
            code: "take-pipe-out",
            depthMm: frame.topShare * (route === "spine" ? box.widthMm : box.thicknessMm),
            grooveG,
          },
        ]
      : [];
  const upright = route === "end" ? firstHeatWatch(context) : [];
  return squeezeStage(frame, work, "block", start, to, {
    zone: work.pipeTaken && route === "end" ? NO_ZONE : zone,
    pipeG: grooveG,
    pipeTaken: work.pipeTaken || grooveG > 0,
    orient:
      route === "spine"
        ? { code: "stand-on-rim" }
        : route === "face"
          ? { code: "pipe-up-flat" }
          : { code: "axis-along-bar" },
    watch: [...upright, ...groove],
  });
}

/** From block to bar; `surplusG` is cut off first, at the tang end, so that it is not drawn out for nothing. */
export function bar(frame: RouteFrame, work: Work, surplusG = 0): Done {
  const start = work.piece as Extract<StagePiece, { shape: "bar" | "block" }>;
  const to = smaller(frame.sizes.bar, start);
  const grooveG = grooveOf(frame, work);
  const orient: Reason =
    frame.route === "spine"
      ? { code: "pipe-side-is-spine" }
      : frame.route === "face"
        ? { code: "pipe-side-is-face" }
        : { code: "flat-then-edge" };
  const cut = surplusG / work.massG;
  const surplus: Reason[] =
    surplusG > 0 ? [{ code: "cut-surplus", lengthMm: cut * start.lengthMm, keptG: surplusG }] : [];
  return squeezeStage(frame, work, "bar", start, to, {
    zone: frame.split
      ? zoneAfterCuts(work.zone, cut / 2, cut / 2)
      : zoneAfterCuts(work.zone, cut, 0),
    pipeG: grooveG,
    keptG: surplusG,
    pipeTaken: work.pipeTaken || grooveG > 0,
    orient,
    watch: [
      ...surplus,
      ...(grooveG > 0
        ? [{ code: "take-pipe-out" as const, depthMm: frame.topShare * start.widthMm, grooveG }]
        : []),
    ],
  });
}

/** Cut the pipe end off the bar. */
export function cutPipeEnd(frame: RouteFrame, work: Work): Done {
  const { context } = frame;
  const start = work.piece as Extract<StagePiece, { shape: "bar" | "block" }>;
  const pipeG = work.massG * frame.topShare;
  const heats = context.heatsFactor;
  const lost = scaleG(
    context,
    work.massG - pipeG,
    heats,
    pieceSurfaceMm2(start) * (1 - frame.topShare),
    start.lengthMm * (1 - frame.topShare),
  );
  const massG = work.massG - pipeG - lost;
  const volume = massG / context.densityGPerMm3;
  const section = { thicknessMm: start.thicknessMm, widthMm: start.widthMm };
  const effort = squeezeEffort(context, section, section, schedule(section, section))(volume);
  const cutMm = pipeG / context.densityGPerMm3 / (section.thicknessMm * section.widthMm);
  return done(frame, {
    name: "cut",
    start,
    cold: { shape: "bar", ...section, lengthMm: volume / (section.thicknessMm * section.widthMm) },
    massG,
    losses: { ...NO_LOSS, pipeG, scaleG: lost },
    effort: { ...effort, heats },
    heats,
    zone: NO_ZONE,
    pipeTaken: true,
    passes: [],
    orient: { code: "axis-along-bar" },
    watch: [{ code: "cut-off-pipe-end", lengthMm: cutMm, massG: pipeG }],
  });
}

const smaller = (to: Section, from: Section): Section => ({
  thicknessMm: Math.min(to.thicknessMm, from.thicknessMm),
  widthMm: to.widthMm,
});

function squeezeStage(
  frame: RouteFrame,
  work: Work,
  name: StageName,
  start: Section,
  wanted: Section,
  after: Pick<Made, "zone" | "pipeTaken" | "orient"> & {
    readonly pipeG: number;
    readonly keptG?: number;
    readonly watch: readonly Reason[];
  },
): Done {
  const { context } = frame;
  const { keptG = 0 } = after;
  const startG = work.massG - keptG;
  const volume = startG / context.densityGPerMm3;
  const plan = schedule(start, wanted, context.spreadFactor);
  const to = plan.reached;
  const effort = squeezeEffort(context, start, to, plan)(volume);
  const lengthOf = (section: Section) => volume / (section.thicknessMm * section.widthMm);
  const surface = (section: Section) =>
    pieceSurfaceMm2({ shape: "bar", ...section, lengthMm: lengthOf(section) });
  const lost = scaleG(
    context,
    startG - after.pipeG,
    effort.heats,
    (surface(start) + surface(to)) / 2,
    Math.sqrt(lengthOf(start) * lengthOf(to)),
  );
  const massG = startG - after.pipeG - lost;
  const lengthMm = massG / context.densityGPerMm3 / (to.thicknessMm * to.widthMm);
  const spreads: Reason[] = plan.spreads
    ? [{ code: "spread-it", biteMm: plan.thicknessBiteMm }]
    : [];
  return done(
    frame,
    {
      name,
      start: {
        shape: "block",
        thicknessMm: start.thicknessMm,
        widthMm: start.widthMm,
        lengthMm: lengthOf(start),
      },
      cold: {
        shape: name === "block" ? "block" : "bar",
        thicknessMm: to.thicknessMm,
        widthMm: to.widthMm,
        lengthMm,
      },
      massG,
      losses: { ...NO_LOSS, pipeG: after.pipeG, scaleG: lost, keptG },
      effort,
      heats: effort.heats,
      zone: after.zone,
      pipeTaken: after.pipeTaken,
      passes: passesOf(start, to, plan),
      orient: after.orient,
      watch: [...after.watch, ...spreads],
    },
    { thickness: plan.thicknessStrain, width: plan.widthStrain },
  );
}
