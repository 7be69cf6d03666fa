/** What this piece's own weighings say of the fire: loss a heat, and how surely. */
import { pieceSurfaceMm2 } from "../shape/index.js";
import type { Context, MeasuredFire } from "./context.js";
import { scaleG } from "./effort.js";
import type { WorkState } from "./types.js";

/** Nine times in ten of a bell curve, in its standard deviations. */
const NINE_IN_TEN = 1.645;
/** Scatter of one heat's loss, and of the surface that was reckoned with, as logarithms. Judgement, 0.3 to 0.5 and 0.1 to 0.2. */
const ONE_HEAT = 0.4;
const SURFACE = 0.15;
/** Further from the reckoned loss than this factor, something else than scale is gone: nothing is learned. Judgement. */
const MOST_OFF = 5;

/**
 * Loss weighed over loss reckoned for the heats done, weighed against what was known before (both bell-shaped in the logarithm).
 * Undefined: not weighed since the start, no heats told, or steel gone that no heat takes. Holds: removals are told with their mass.
 */
export function measuredFire(
  context: Context,
  now: WorkState | undefined,
): MeasuredFire | undefined {
  if (now?.lostG === undefined || now.massG === undefined || now.heatsDone < 1) return undefined;
  if (now.pipeTaken === true && now.removedG === undefined) return undefined;
  const { ingot, piece } = context.ingot;
  const lostG = now.lostG - (now.removedG ?? 0);
  const reckonedG = scaleG(
    context,
    Math.sqrt(ingot.massG * now.massG),
    now.heatsDone,
    (pieceSurfaceMm2(piece) + pieceSurfaceMm2(now.piece)) / 2,
    Math.max(1, lengthMm(now)),
  );
  const ratio = lostG / reckonedG;
  if (!(ratio > 1 / MOST_OFF && ratio < MOST_OFF)) return undefined;
  const digits = Math.hypot(halfDigit(ingot.massG), halfDigit(now.massG)) / lostG / NINE_IN_TEN;
  const measured = Math.hypot(ONE_HEAT / Math.sqrt(now.heatsDone), SURFACE, digits);
  const before = scatterBefore(context);
  const weight = before ** 2 / (before ** 2 + measured ** 2);
  const after = Math.sqrt(weight) * measured;
  return {
    factor: Math.exp(weight * Math.log(ratio)),
    share: {
      low: Math.exp(-NINE_IN_TEN * after),
      likely: 1,
      high: Math.exp(NINE_IN_TEN * after),
    },
  };
}

/** Share by which a loss that this shop taught may still differ, nine times in ten. */
export const TAUGHT_SPREAD = 0.2;

function scatterBefore({ scaleMmPerHeat: { low, high }, shop }: Context): number {
  const taught = shop.learned?.lossPerHeatFraction !== undefined;
  return taught ? TAUGHT_SPREAD / NINE_IN_TEN : Math.log(high / low) / 2 / NINE_IN_TEN;
}

const halfDigit = (massG: number): number =>
  Number.isInteger(massG) && massG % 10 === 0 ? 5 : 0.5;

const lengthMm = ({ piece }: WorkState): number =>
  "lengthMm" in piece
    ? piece.lengthMm
    : "outerDiameterMm" in piece
      ? piece.outerDiameterMm
      : piece.diameterMm;
