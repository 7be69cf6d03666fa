/** `charge for 600 g at 1.5 carbon`: what to weigh, what the crucible must hold, how hot. */
import type { MeltState } from "../logbook/index.js";
import {
  type ChargePlan,
  carbonOfMelt,
  chargePlans,
  materialNamed,
  type OnHand,
} from "../melt/index.js";
import { type ChatUnits, formatMass, formatTemperature } from "../units/index.js";
import { carbonRange } from "./melt-lines.js";
import { CARBON_UNTIL_SAID_PCT } from "./plan-for.js";
import { safetyText } from "./safety.js";
import type { ShopNow } from "./shop-now.js";

/** Taken where the shop's melts say nothing. Common practice; docs/melt.md. */
const USUAL_IRON: OnHand = { what: "bar iron", carbonPct: 0.05 };
const USUAL_BRINGERS: readonly OnHand[] = [
  { what: "cast iron", carbonPct: 4 },
  { what: "graphite" },
  { what: "charcoal" },
];
/** Carbon of plain carbon steel at its pearlite point, wt%: what melts to crucible steel by taking carbon up lies below. */
const IRON_BELOW_PCT = 0.77;

interface Stock extends OnHand {
  /** Carbon content is ours, not the shop's. */
  readonly assumed: boolean;
}

export function chargeLines(
  wish: { readonly massG?: number | undefined; readonly carbonPct?: number | undefined },
  shop: ShopNow,
  units: ChatUnits,
): readonly string[] {
  const { massG, carbonPct: target = CARBON_UNTIL_SAID_PCT } = wish;
  if (massG === undefined) {
    const example = units.length === "mm" ? "600 g" : "21 oz";
    return [`How heavy an ingot? Say: charge for ${example} at 1.5 carbon`];
  }
  if (!(target > 0.1 && target <= 2.05)) {
    return [`${target} % is not crucible steel. Say a carbon from 0.8 to 2 %.`];
  }
  const stock = stockOf(shop.melts ?? []);
  const plans = chargePlans({ ingotG: massG, targetCarbonPct: target, onHand: stock });
  const [first, second] = plans;
  if (first === undefined) {
    return [`Nothing in your list brings ${target} % carbon. Say a charge with its carbon.`];
  }
  const range = widened(first, stock);
  const { crucibleCm3, holdC, liquidusC } = first;
  const heat = (tempC: number): string => formatTemperature(tempC, units);
  const assumed = [first, second].flatMap((plan) => assumedIn(plan, stock));
  return [
    weights(first, units),
    ...(second === undefined ? [] : [`or ${weights(second, units)}`]),
    `Carbon ${carbonRange(range)} · ${recoveryWords(first)} · yield ${Math.round((100 * first.ingotG.likely) / metalG(first))} %`,
    `Crucible: ${ml(crucibleCm3.melt)} molten, ${ml(crucibleCm3.charge)} heaped, and a finger's breadth`,
    `Liquid at ${heat(liquidusC)}; hold or pour at ${heat(holdC.likely)}, ${heat(holdC.low)} to ${heat(holdC.high)}`,
    ...(assumed.length === 0 ? [] : [`Assumed: ${[...new Set(assumed)].join(", ")}`]),
    safetyText("melt-day", units),
  ];
}

/** The shop's own materials by its melts, the last carbon said of each; the usual ones where it has none of a sort. */
function stockOf(melts: readonly MeltState[]): readonly Stock[] {
  const own = new Map<string, Stock>();
  for (const { facts } of melts) {
    for (const { what, carbonPct } of facts.charge ?? []) {
      const name = materialNamed(what)?.name;
      if (name === undefined) continue;
      const said = carbonPct ?? own.get(name)?.carbonPct;
      own.set(name, {
        what: name,
        ...(said === undefined ? usual(name) : { carbonPct: said }),
        assumed: said === undefined,
      });
    }
  }
  const mine = [...own.values()];
  const isIron = ({ what, carbonPct }: OnHand): boolean => {
    const material = materialNamed(what);
    return material?.kind === "metal" && (carbonPct ?? material.carbonPct.likely) < IRON_BELOW_PCT;
  };
  const brings = ({ what, carbonPct }: OnHand): boolean => {
    const material = materialNamed(what);
    return material?.kind === "carbon" || (carbonPct ?? material?.carbonPct.likely ?? 0) > 2.05;
  };
  return [
    ...mine,
    ...(mine.some(isIron) ? [] : [{ ...USUAL_IRON, assumed: true }]),
    ...(mine.some(brings) ? [] : USUAL_BRINGERS.map((each) => ({ ...each, assumed: true }))),
  ];
}

const usual = (name: string): { readonly carbonPct?: number } => {
  const known = [USUAL_IRON, ...USUAL_BRINGERS].find(({ what }) => what === name);
  return known?.carbonPct === undefined ? {} : { carbonPct: known.carbonPct };
};

/** The plan's carbon, wider by what an assumed carbon content of its materials may be off; moves add as squares. */
function widened({ carbonPct, items }: ChargePlan, stock: readonly Stock[]) {
  let down = (carbonPct.likely - carbonPct.low) ** 2;
  let up = (carbonPct.high - carbonPct.likely) ** 2;
  for (const item of items) {
    const guess = stock.find(({ what, assumed }) => assumed && what === item.what);
    const kind = materialNamed(item.what);
    if (guess?.carbonPct === undefined || kind === undefined) continue;
    const shifts = [kind.carbonPct.low, kind.carbonPct.high].map((end) => {
      const moved = items.map((each) => (each === item ? { ...each, carbonPct: end } : each));
      return carbonOfMelt(moved).carbonPct.likely - carbonPct.likely;
    });
    down += Math.min(0, ...shifts) ** 2;
    up += Math.max(0, ...shifts) ** 2;
  }
  return {
    low: Math.max(0, carbonPct.likely - Math.sqrt(down)),
    likely: carbonPct.likely,
    high: carbonPct.likely + Math.sqrt(up),
  };
}

const weights = ({ items }: ChargePlan, units: ChatUnits): string =>
  items.map(({ what, massG }) => `${formatMass(massG, units)} ${what}`).join(" + ");

function recoveryWords({ carburiser }: ChargePlan): string {
  const share = (value: number): number => Math.round(100 * value);
  const recovery = materialNamed(carburiser)?.recovery ?? { low: 1, likely: 1, high: 1 };
  return `${share(recovery.likely)} % of the ${carburiser}'s carbon arrives`;
}

const metalG = ({ items }: ChargePlan): number => carbonOfMelt(items).metalG;

const ml = (cm3: number): string => `${Math.round(cm3 / 5) * 5} ml`;

function assumedIn(plan: ChargePlan | undefined, stock: readonly Stock[]): readonly string[] {
  return (plan?.items ?? []).flatMap(({ what }) => {
    const guess = stock.find((each) => each.assumed && each.what === what);
    const carbonPct = guess?.carbonPct ?? materialNamed(what)?.carbonPct.likely;
    return guess === undefined ? [] : [`${what} ${carbonPct} % carbon`];
  });
}
