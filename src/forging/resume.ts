/** Where the work stands: which stage of a route a piece on the anvil has behind it. */
import { isIngotPiece, pieceVolumeMm3 } from "../shape/index.js";
import type { Done } from "./chain.js";
import type { RouteFrame, Work } from "./frame.js";
import { halfDigit } from "./ingot.js";
import type { Reason } from "./reasons.js";
import { ingotWork, stagesBeforeBlade } from "./steps.js";
import type { Range, Route, StageName, StagePiece, WorkState } from "./types.js";
import { NO_ZONE } from "./zone.js";

export interface Standing {
  /** The last stage that is done; undefined: none. */
  readonly last: StageName | undefined;
  readonly work: Work;
  readonly massRangeG: Range;
  readonly notes: readonly Reason[];
}

/** A side is taken as reached within this share over its target. Common practice: what a hand leaves. */
const REACHED = 1.08;
const WIDTH_REACHED = 1.15;
/** Under this share of the block's thickness the block is behind, however wide the piece is. Common practice, 0.7 to 0.85. */
const PAST_BLOCK = 0.8;
/** Weighed and measured may differ by this share before it is said. */
const MASS_OFF = 0.06;

/** A piece of this shape can lie on this route's way. */
export function onRoute(route: Route, now: WorkState): boolean {
  const { shape } = now.piece;
  if (shape === "ring") return route === "ring";
  if (shape === "disc") return route !== "end";
  return true;
}

/** Stands the piece on the route; what was not said of it is taken from the planned run to the same stage. */
export function standingOf(
  frame: RouteFrame,
  planned: readonly Done[],
  now: WorkState | undefined,
): Standing {
  const start = ingotWork(frame.context);
  if (now === undefined) {
    return {
      last: undefined,
      work: start,
      massRangeG: frame.context.ingot.ingot.massRangeG,
      notes: [],
    };
  }
  const { massG, massRangeG, notes } = massOf(frame, now);
  const { piece } = now;
  if (isIngotPiece(piece)) {
    return { last: undefined, work: { ...start, massG, piece }, massRangeG, notes };
  }
  const sorted = sortedSides(piece);
  const last = doneStage(frame, planned, sorted, massG, now);
  const work: StagePiece = beforeBlock(frame, last) ? turned(frame, sorted) : sorted;
  const at = planned.find(({ stage }) => stage.name === last)?.work;
  const told = now.pipeTaken;
  const pipeTaken = told ?? at?.pipeTaken ?? false;
  const said: Reason[] =
    told === undefined && pipeTaken && frame.route !== "ring" ? [{ code: "pipe-said-out" }] : [];
  const late = last === "preform" && told === false ? [{ code: "pipe-still-in" } as const] : [];
  return {
    last,
    work: { massG, piece: work, zone: at?.zone ?? zoneBefore(frame), pipeTaken },
    massRangeG,
    notes: [...notes, ...said, ...late],
  };
}

const zoneBefore = (frame: RouteFrame) =>
  frame.route === "end"
    ? { place: "end" as const, from: 1 - frame.topShare, to: 1, depth: frame.topShare }
    : { ...NO_ZONE, place: "top" as const };

/** Smallest side the thickness, largest the length. */
function sortedSides(piece: Exclude<StagePiece, { shape: "blade" }>): StagePiece {
  if (piece.shape === "disc" || piece.shape === "ring") return piece;
  const sides = [piece.thicknessMm, piece.widthMm, piece.lengthMm].sort((a, b) => a - b);
  const [thicknessMm = 0, widthMm = 0, lengthMm = 0] = sides;
  return { shape: piece.shape, thicknessMm, widthMm, lengthMm };
}

/** On the way from the disc, or the upright ingot, to the block. */
const beforeBlock = (frame: RouteFrame, last: StageName | undefined): boolean =>
  (frame.route === "end" && last === undefined) || (frame.route !== "ring" && last === "flatten");

/**
 * Which side is which before the block is reached: there the side that becomes the thickness may still be the longer one. Of the six ways to
 * name the sides, the one nearest in strain to the straight way from the start to the block.
 */
function turned(frame: RouteFrame, piece: StagePiece): StagePiece {
  if (piece.shape !== "bar" && piece.shape !== "block") return piece;
  const { box, block } = frame;
  const [t0, w0] = [Math.log(box.thicknessMm), Math.log(box.widthMm)];
  const [dt, dw] = [Math.log(block.thicknessMm) - t0, Math.log(block.widthMm) - w0];
  const away = (thicknessMm: number, widthMm: number): number => {
    const [t, w] = [Math.log(thicknessMm) - t0, Math.log(widthMm) - w0];
    const along = Math.min(1, Math.max(0, (t * dt + w * dw) / Math.max(1e-12, dt ** 2 + dw ** 2)));
    return Math.hypot(t - along * dt, w - along * dw);
  };
  const sides = [piece.thicknessMm, piece.widthMm, piece.lengthMm];
  let best: StagePiece = piece;
  let least = away(piece.thicknessMm, piece.widthMm);
  for (const [i, thicknessMm] of sides.entries()) {
    for (const [j, widthMm] of sides.entries()) {
      if (i === j || away(thicknessMm, widthMm) >= least - 1e-9) continue;
      least = away(thicknessMm, widthMm);
      best = { shape: piece.shape, thicknessMm, widthMm, lengthMm: sides[3 - i - j] ?? 0 };
    }
  }
  return best;
}

function massOf(frame: RouteFrame, now: WorkState) {
  const sizesG = pieceVolumeMm3(now.piece) * frame.context.densityGPerMm3;
  const notes: Reason[] = [];
  if (now.massG === undefined) {
    const errors = Object.values(now.piece).map((value) =>
      typeof value === "number" ? halfDigit(value) / value : 0,
    );
    const share = Math.hypot(...errors);
    return {
      massG: sizesG,
      massRangeG: { low: sizesG * (1 - share), likely: sizesG, high: sizesG * (1 + share) },
      notes,
    };
  }
  if (Math.abs(now.massG / sizesG - 1) > MASS_OFF) {
    notes.push({ code: "mass-off", saidG: now.massG, sizesG });
  }
  const half = Number.isInteger(now.massG) && now.massG % 10 === 0 ? 5 : 0.5;
  const massRangeG = { low: now.massG - half, likely: now.massG, high: now.massG + half };
  return { massG: now.massG, massRangeG, notes };
}

function doneStage(
  frame: RouteFrame,
  planned: readonly Done[],
  piece: StagePiece,
  massG: number,
  now: WorkState,
): StageName | undefined {
  const names = stagesBeforeBlade(frame.route);
  if (now.stage !== undefined && (names.includes(now.stage) || now.stage === "preform")) {
    return now.stage;
  }
  const plannedG = (name: StageName) =>
    planned.find(({ stage }) => stage.name === name)?.work.massG;
  switch (piece.shape) {
    case "disc":
      return piece.heightMm <= frame.disc.heightMm * REACHED ? "flatten" : undefined;
    case "ring":
      return "punch";
    case "blade":
      return "preform";
    default: {
      const { bar, preform } = frame.sizes;
      const reached = (to: { readonly thicknessMm: number; readonly widthMm: number }) =>
        piece.thicknessMm <= to.thicknessMm * REACHED &&
        piece.widthMm <= to.widthMm * WIDTH_REACHED;
      const beforeCut = plannedG("bar");
      const isCut = now.pipeTaken ?? isPastCut(massG, beforeCut, plannedG("cut"));
      const ready: StageName = frame.route === "end" && isCut ? "cut" : "bar";
      if (reached(preform)) {
        const cutG = plannedG("preform");
        return cutG !== undefined && massG <= cutG * WIDTH_REACHED ? "preform" : ready;
      }
      if (reached(bar)) return ready;
      if (frame.route === "ring") return "open";
      // Well thinner than the block: drawn out flat already, and not stood up again to be squared.
      const drawn = piece.thicknessMm <= frame.block.thicknessMm * PAST_BLOCK;
      return drawn || reached({ ...frame.block, widthMm: widthFrom(frame, piece.thicknessMm) })
        ? "block"
        : frame.route === "end"
          ? undefined
          : "flatten";
    }
  }
}

/** Width of the piece at a thickness on the way from block to bar, mm, where it grows on that way; else the block's. */
function widthFrom({ block, sizes: { bar } }: RouteFrame, thicknessMm: number): number {
  const whole = Math.log(block.thicknessMm / bar.thicknessMm);
  if (bar.widthMm <= block.widthMm || whole < 1e-6) return block.widthMm;
  const share = Math.min(1, Math.max(0, Math.log(block.thicknessMm / thicknessMm) / whole));
  return block.widthMm * (bar.widthMm / block.widthMm) ** share;
}

/** Nearer in mass to the bar after the cut than before it. */
const isPastCut = (massG: number, before: number | undefined, after: number | undefined): boolean =>
  before !== undefined && after !== undefined && massG < (before + after) / 2;
