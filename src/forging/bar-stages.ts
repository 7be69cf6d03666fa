/** From the disc or the ingot to the bar: flattening, block, bar, the pipe end cut off. */
import { type DiscPiece, type IngotPiece, pieceSurfaceMm2 } from "../shape/index.js";
import { type Done, discOf, done, type Made, NO_LOSS, startBox } from "./chain.js";
import type { Context } from "./context.js";
import { effortOfFlattening, scaleG, squeezeEffort } from "./effort.js";
import type { RouteFrame, Work } from "./frame.js";
import type { Reason } from "./reasons.js";
import { passesOf, type Section, schedule } from "./spread.js";
import type { StageName, StagePiece } from "./types.js";
import { NO_ZONE, type Zone, zoneAfterCuts } from "./zone.js";

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
