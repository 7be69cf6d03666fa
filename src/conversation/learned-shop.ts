/** The shop's own figures, as the planner takes them, from the ingots that came to an end. */
import { planForging, type ShopFigures } from "../forging/index.js";
import {
  believedPositive,
  fromPrior,
  type IngotState,
  learnedFigures,
  learnPositive,
  type PositivePrior,
  type ShopSettings,
} from "../logbook/index.js";
import { heatsDone, planRequest } from "./plan-for.js";
import type { ShopNow } from "./shop-now.js";

/**
 * Heats that a blade took over the planner's likely number. Common practice, no source: nine shops of ten
 * between 0.4 and 2.5; docs/learned.md.
 */
export const HEATS_PRIOR: PositivePrior = {
  likely: 1,
  low: 0.4,
  high: 2.5,
  scatter: 1.4,
  scatterShape: 2,
};

/** The figures of a shop from its finished ingots; a figure without evidence is left to the planner. */
export function shopNow(shop: ShopSettings, finished: readonly IngotState[]): ShopNow {
  if (finished.length === 0) return shop;
  const taught = learnedFigures(finished);
  const { lossPerHeat, spread } = taught;
  const heats = heatsFactor(shop, finished);
  const learned: ShopFigures = {
    ...(lossPerHeat.ingots > 0 ? { lossPerHeatFraction: lossPerHeat.likely } : {}),
    ...(spread.ingots > 0 ? { spreadFactor: spread.likely / SPREAD_UNLEARNED } : {}),
    ...(heats === undefined ? {} : { heatsFactor: heats }),
  };
  return { ...shop, learned, taught };
}

/** What `learnedFigures` says of spread without any ingot. */
const SPREAD_UNLEARNED = learnedFigures([]).spread.likely;

function heatsFactor(shop: ShopSettings, finished: readonly IngotState[]): number | undefined {
  const ratios = finished.flatMap((state) => {
    // Heats of an ingot that was given up say nothing of how many a blade takes.
    if (state.finish === undefined) return [];
    const { piece: _piece, ...whole } = state;
    const request = planRequest({ ...whole, heats: [], removals: [], cracks: [] }, shop);
    const plan = request === undefined ? undefined : planForging(request);
    const planned = plan === undefined || plan.refused ? undefined : plan.routes[0]?.heats.likely;
    const took = heatsDone(state);
    return planned !== undefined && planned > 0 && took > 0 ? [took / planned] : [];
  });
  if (ratios.length === 0) return undefined;
  return believedPositive(learnPositive(fromPrior(HEATS_PRIOR), ratios)).likely;
}
