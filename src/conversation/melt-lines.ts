/** What the bot says of a melt that was just told: its carbon, its yield, the growth cells to expect. */
import type { Decision } from "../logbook/index.js";
import { carbonOfMelt, cellsOfMelt, type MeltNote, meltYield } from "../melt/index.js";
import { type ChatUnits, formatMass } from "../units/index.js";
import { RANK, type RankedLine } from "./lines.js";
import { chargeItems, coolingOf } from "./melts-now.js";
import type { ShopNow } from "./shop-now.js";

/** At most three lines; none when the message told of no melt. */
export function meltLines(decision: Decision, shop: ShopNow, units: ChatUnits): RankedLine[] {
  const told = decision.entries.filter(({ fact }) => fact?.kind === "melt").map(({ id }) => id);
  const melt = shop.melts?.findLast(({ entryIds }) => entryIds.some((id) => told.includes(id)));
  if (melt === undefined || decision.undone.length > 0) return [];
  const items = chargeItems(melt.facts);
  const balance = items === undefined ? undefined : carbonOfMelt(items);
  const known = balance !== undefined && balance.metalG > 0 && balance.unknown.length === 0;
  const ingotG = melt.facts.ingotG ?? ingotBeside(decision);
  const out =
    known && items !== undefined && ingotG !== undefined ? meltYield(items, ingotG) : undefined;
  const rate = coolingOf(melt.facts);
  const notes = [...(balance?.notes ?? []), ...(out?.notes ?? [])];
  const parts = [
    known && `Carbon ${carbonRange(balance.carbonPct)} by the charge`,
    out !== undefined && `yield ${(100 * out.fraction).toFixed(0)} %`,
    out !== undefined && out.lostG > 0 && `${formatMass(out.lostG, units)} lost`,
  ].filter((part) => part !== false);
  const trouble = troubleWords(notes, balance?.unknown ?? []);
  return [
    ...(parts.length === 0 ? [] : [{ rank: RANK.verdict, text: parts.join(" · ") }]),
    ...(rate === undefined ? [] : [{ rank: RANK.hold, text: cellsText(rate) }]),
    ...(trouble === undefined ? [] : [{ rank: RANK.issue, text: trouble }]),
  ];
}

/** "1.5 %, 1.4 to 1.6". */
export const carbonRange = (range: {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}): string => `${range.likely.toFixed(2)} %, ${range.low.toFixed(2)} to ${range.high.toFixed(2)}`;

function cellsText(rate: Parameters<typeof cellsOfMelt>[0]): string {
  const cells = cellsOfMelt(rate);
  const um = (value: number): number => Math.round(value / 10) * 10;
  return `Growth cells about ${um(cells.likely)} µm, ${um(cells.low)} to ${um(cells.high)}, by that cooling`;
}

/** The ingot weighed in the same breath, when only one was. */
function ingotBeside(decision: Decision): number | undefined {
  const weighed = decision.entries.flatMap(({ fact }) =>
    fact?.kind === "ingot" && fact.massG !== undefined ? [fact.massG] : [],
  );
  return weighed.length === 1 ? weighed[0] : undefined;
}

function troubleWords(notes: readonly MeltNote[], unknown: readonly string[]): string | undefined {
  if (unknown.length > 0) return `Carbon of ${unknown[0]}? Say: ${unknown[0]} 0.1 carbon`;
  if (notes.includes("more-out-than-in")) return "More came out than went in: weigh again.";
  if (notes.includes("cast-iron")) return "Over 2.05 % it is cast iron: it will not forge.";
  if (notes.includes("carbon-low")) return "Under 0.77 % no pattern will come of it.";
  if (notes.includes("yield-low")) return "Low yield: look for steel in the slag and the wall.";
  return notes.includes("oxide-unsure")
    ? "Rust or scale in the charge burns carbon: less sure."
    : undefined;
}
