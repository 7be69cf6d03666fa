/** What the card and the day's sheet are given of the plans: the report itself plans nothing. */

import { nextSize } from "../forging/index.js";
import { type IngotState, isEnded } from "../logbook/index.js";
import { asOf, type DayInput, type DaySheet, dayBounds, daySheet } from "../report/index.js";
import { smallestFirst } from "./forge.js";
import { meltOf, steelOfMelt } from "./melts-now.js";
import { planFor } from "./plan-for.js";
import type { ShopNow } from "./shop-now.js";

/** The plan of the whole ingot from before the first blow, its route chosen, and its window. */
export function wholePlanOf(state: IngotState, shop: ShopNow) {
  const { piece: _piece, ...start } = state;
  // As it was planned, before this ingot taught anything.
  const { learned: _learned, taught: _taught, ...said } = shop;
  const plan = planFor({ ...start, heats: [], removals: [], cracks: [], weighings: [] }, said);
  if (plan === undefined || plan.refused) return {};
  const planned = plan.routes[0];
  const { carbonPct: meltCarbonPct } = steelOfMelt(meltOf(state, shop));
  return {
    window: plan.window,
    pipe: plan.ingot.pipe,
    meltCarbonPct,
    ...(planned === undefined ? {} : { planned }),
  };
}

/** The day's sheet with what each open ingot's plan said next at the end of that day. */
export function daySheetOf(
  input: Omit<DayInput, "next" | "windows"> & { readonly shop: ShopNow },
): DaySheet {
  const { shop, ...rest } = input;
  const next = new Map();
  const windows = new Map();
  const { to } = dayBounds(input.date, input.timezone);
  for (const [id, now] of input.states) {
    const state = asOf(now, to);
    if (isEnded(state)) continue;
    const plan = planFor(state, shop);
    if (plan === undefined || plan.refused) continue;
    windows.set(id, plan.window);
    const stage = plan.routes[0]?.stages[0];
    const size = plan.routes[0] === undefined ? undefined : nextSize(plan.routes[0]);
    if (stage !== undefined) {
      next.set(id, { name: stage.name, cold: smallestFirst(size?.cold ?? stage.cold) });
    }
  }
  return daySheet({ ...rest, next, windows });
}
