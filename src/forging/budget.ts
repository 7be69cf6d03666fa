/** What the steel gives: losses by name, and how far each figure may be off. */
import type { Context } from "./context.js";
import type { RouteFrame } from "./frame.js";
import { TAUGHT_SPREAD } from "./measured-fire.js";
import * as rule from "./rules-of-thumb.js";
import type { Range, StageLosses } from "./types.js";

export const sumLosses = (list: readonly StageLosses[]): StageLosses =>
  list.reduce(
    (sum, next) => ({
      pipeG: sum.pipeG + next.pipeG,
      scaleG: sum.scaleG + next.scaleG,
      trimG: sum.trimG + next.trimG,
      grindG: sum.grindG + next.grindG,
      keptG: sum.keptG + next.keptG,
    }),
    { pipeG: 0, scaleG: 0, trimG: 0, grindG: 0, keptG: 0 },
  );

/** How far a loss may fall under and rise over its likely value, g. */
interface Swing {
  readonly less: number;
  readonly more: number;
}

const share = (range: Range): { less: number; more: number } => ({
  less: 1 - range.low / range.likely,
  more: range.high / range.likely - 1,
});

/** Heats of this plan over the likely ones; a shop that taught its own is surer. */
export const heatsSpread = ({ shop }: Context): Range =>
  shop.learned?.heatsFactor === undefined ? rule.HEATS_SPREAD : rule.TAUGHT_HEATS_SPREAD;

/** Shares by which the loss of one heat may differ: known of the fire, taught by the shop, weighed on this piece. */
export function fireSwing({ measured, shop, scaleMmPerHeat }: Context) {
  if (measured !== undefined) return share(measured.share);
  return shop.learned?.lossPerHeatFraction === undefined
    ? share(scaleMmPerHeat)
    : { less: TAUGHT_SPREAD, more: TAUGHT_SPREAD };
}

/** Shares by which the steel lost to the fire may differ: heats and the fire's sharpness, independent. */
export function scaleSwing(frame: RouteFrame): { less: number; more: number } {
  const heats = share(heatsSpread(frame.context));
  const fire = fireSwing(frame.context);
  return {
    less: Math.hypot(heats.less, fire.less),
    more: Math.hypot(heats.more, fire.more),
  };
}

function pipeSwing(frame: RouteFrame): { less: number; more: number } {
  const { ingot } = frame.context;
  if (frame.route === "end") return share(ingot.pipeTopShare);
  if (frame.route === "ring") return share(rule.SLUG_SHARE);
  return share(ingot.grooveOverZone);
}

/**
 * Usable steel as a range: the errors of mass, pipe, scale, trimming and grinding are independent, so their squares add.
 * Each is stated to hold nine times in ten; so does the sum.
 */
export function usableRange(
  frame: RouteFrame,
  usableG: number,
  ahead: StageLosses,
  mass: Range,
  massNowG: number,
): Range {
  const swings: Swing[] = [];
  const add = (lossG: number, by: { less: number; more: number }) =>
    swings.push({ less: lossG * by.less, more: lossG * by.more });
  add(ahead.pipeG, pipeSwing(frame));
  add(ahead.scaleG, scaleSwing(frame));
  add(ahead.trimG, share(rule.TRIM_OF_WIDTH));
  add(ahead.grindG, { less: rule.GRIND_SPREAD, more: rule.GRIND_SPREAD });
  const yields = massNowG > 0 ? Math.max(0, 1 - (ahead.pipeG + ahead.scaleG) / massNowG) : 1;
  const under = Math.hypot((mass.likely - mass.low) * yields, ...swings.map(({ more }) => more));
  const over = Math.hypot((mass.high - mass.likely) * yields, ...swings.map(({ less }) => less));
  return { low: usableG - under, likely: usableG, high: usableG + over };
}

export const neededRange = (neededG: number): Range => ({
  low: neededG * (1 - rule.FINISH_SPREAD),
  likely: neededG,
  high: neededG * (1 + rule.FINISH_SPREAD),
});

export const spareRange = (usable: Range, needed: Range): Range => {
  const likely = usable.likely - needed.likely;
  return {
    low: likely - Math.hypot(usable.likely - usable.low, needed.high - needed.likely),
    likely,
    high: likely + Math.hypot(usable.high - usable.likely, needed.likely - needed.low),
  };
};
