/** The ring: the pipe punched out, the ring opened to a bar. */
import { type DiscPiece, pieceSurfaceMm2 } from "../shape/index.js";
import { type Done, done, NO_LOSS } from "./chain.js";
import { effortOfFlattening, scaleG, squeezeEffort } from "./effort.js";
import type { RouteFrame, Work } from "./frame.js";
import * as rule from "./rules-of-thumb.js";
import { schedule } from "./spread.js";
import type { StagePiece } from "./types.js";
import { NO_ZONE } from "./zone.js";

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
