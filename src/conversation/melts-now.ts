/** Melts as they stand once this message is written, and what an ingot's own melt says of its steel. */
import {
  type Decision,
  type Entry,
  foldMelts,
  type IngotState,
  type MeltFacts,
  type MeltState,
} from "../logbook/index.js";
import { type ChargeItem, COOLING_RATES, carbonOfMelt, coolingWay } from "../melt/index.js";
import { dateIn } from "../report/index.js";
import type { Range } from "../steel/index.js";
import type { ShopNow } from "./shop-now.js";

/** `log`: the chat's melt rows before this message. */
export function meltsAfter(
  log: readonly Entry[],
  decision: Pick<Decision, "entries" | "takeBacks">,
  timezone: string,
): readonly MeltState[] {
  const gone = new Set(decision.takeBacks.map(({ entryId }) => entryId));
  const last = log.reduce((most, { seq }) => Math.max(most, seq), 0);
  const fresh = decision.entries
    .filter(({ fact }) => fact?.kind === "melt")
    .map((entry, index): Entry => ({ ...entry, seq: last + index + 1, place: last + index + 1 }));
  const kept = log.filter(({ id }) => !gone.has(id));
  return foldMelts([...kept, ...fresh], (iso) => dateIn(iso, timezone));
}

/** The melt that the ingot was said to come from. */
export const meltOf = (
  { facts }: Pick<IngotState, "facts">,
  { melts }: Pick<ShopNow, "melts">,
): MeltState | undefined =>
  facts.melt === undefined ? undefined : melts?.findLast(({ number }) => number === facts.melt);

/** What went in, each with its mass; a single mass that nobody said is what the whole leaves. Undefined when more are missing. */
export function chargeItems({ charge = [], massG }: MeltFacts): readonly ChargeItem[] | undefined {
  const open = charge.filter((part) => part.massG === undefined);
  const rest = charge.reduce((left, part) => left - (part.massG ?? 0), massG ?? 0);
  if (charge.length === 0 || open.length > 1 || (open.length === 1 && rest <= 0)) return undefined;
  return charge.map(({ what, carbonPct, massG: said }) => ({
    what,
    massG: said ?? rest,
    ...(carbonPct === undefined ? {} : { carbonPct }),
  }));
}

/** Cooling through freezing, K/min, by the words that were said; nothing if they do not tell. */
export function coolingOf({ cooling }: MeltFacts): Range | undefined {
  const way = cooling === undefined ? undefined : coolingWay(cooling);
  return way === undefined ? undefined : COOLING_RATES[way];
}

/** Carbon that the planner can take, wt%: what is forged as crucible steel. */
const FORGED_CARBON = { low: 0.77, high: 2.05 };

/** The planner's figures of an ingot by its melt: carbon as analysed or balanced, rate through freezing. */
export function steelOfMelt(melt: MeltState | undefined): {
  readonly carbonPct?: number;
  readonly coolingKPerMin?: number;
} {
  if (melt === undefined) return {};
  const items = chargeItems(melt.facts);
  const balance = items === undefined ? undefined : carbonOfMelt(items);
  const carbonPct =
    melt.facts.carbonPct ?? (balance?.unknown.length === 0 ? balance.carbonPct.likely : undefined);
  const forged =
    carbonPct !== undefined && carbonPct >= FORGED_CARBON.low && carbonPct <= FORGED_CARBON.high;
  const rate = coolingOf(melt.facts);
  return {
    ...(forged ? { carbonPct } : {}),
    ...(rate === undefined ? {} : { coolingKPerMin: rate.likely }),
  };
}
