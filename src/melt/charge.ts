/** What to weigh for a wanted ingot. */
import { liquidusC, mustLie, type Range } from "../steel/index.js";
import { carbonOfMelt } from "./carbon-balance.js";
import type { BalanceOptions, ChargeItem } from "./charge-part.js";
import { materialNamed } from "./material.js";
import { crucibleNeededCm3, meltHeat } from "./melt-heat.js";
import type { MeltNote } from "./melt-note.js";

/** Metal that comes out as ingot, share of the charge's metal. Common practice [S52], memory, low. */
export const MELT_YIELD: Range = { low: 0.93, likely: 0.96, high: 0.98 };

/** Cast iron for each kg of iron, kg: (target − iron) / (cast − target), all wt%. Exact mixing. Source: [S51]. */
export function castIronPerKgIron(targetPct: number, ironPct: number, castPct: number): number {
  mustLie("targetPct", targetPct, ironPct, castPct, "%");
  return (targetPct - ironPct) / (castPct - targetPct);
}

/**
 * Charcoal or graphite for a mass of iron, g: M (t − c) / ((1 − t) f r), shares of 1 inside.
 * `fixedPct` fixed carbon of the source, `recovery` the share that arrives. Exact balance. Source: [S51].
 */
export function carbonSourceG(
  ironG: number,
  targetPct: number,
  ironPct: number,
  fixedPct: number,
  recovery: number,
): number {
  mustLie("fixedPct", fixedPct, 1, 100, "%");
  mustLie("recovery", recovery, 0.01, 1.2, "(share)");
  const [t, c, f] = [targetPct / 100, ironPct / 100, fixedPct / 100];
  return Math.max(0, (ironG * (t - c)) / ((1 - t) * f * recovery));
}

/** Something the shop has, with its carbon if known and how much of it there is. */
export interface OnHand {
  readonly what: string;
  readonly carbonPct?: number;
  readonly availableG?: number;
}

export interface ChargePlan {
  /** What brings the carbon. */
  readonly carburiser: string;
  readonly items: readonly ChargeItem[];
  readonly carbonPct: Range;
  readonly ingotG: Range;
  readonly liquidusC: number;
  readonly holdC: Range;
  readonly crucibleCm3: { readonly melt: number; readonly charge: number };
  readonly notes: readonly MeltNote[];
}

export interface ChargeWish extends BalanceOptions {
  /** The ingot wanted, g, and its carbon, wt%. */
  readonly ingotG: number;
  readonly targetCarbonPct: number;
  readonly onHand: readonly OnHand[];
  readonly yield?: Range;
}

/**
 * Charges that give the wanted ingot, one for each carbon bringer the shop has, least uncertain carbon first.
 * Iron with the least carbon is the base. Holds: targets between the base's carbon and 4 %. Error: the ranges.
 * Source: [S51]; yield and recovery common practice [S52], [S60]. Empty if there is no iron or nothing to carburise it.
 */
export function chargePlans(wish: ChargeWish): readonly ChargePlan[] {
  mustLie("ingotG", wish.ingotG, 1, 100_000, "g");
  mustLie("targetCarbonPct", wish.targetCarbonPct, 0, 4.3, "%");
  const share = wish.yield ?? MELT_YIELD;
  const metalG = wish.ingotG / share.likely;
  const stock = wish.onHand.flatMap((own) => {
    const material = materialNamed(own.what, wish.lid);
    if (!material) return [];
    const carbonPct = own.carbonPct ?? material.carbonPct.likely;
    const learnt = material.kind === "carbon" ? wish.recovery : wish.metalRecovery;
    return [{ own, material, carbonPct, recovery: (learnt ?? material.recovery).likely }];
  });
  const metals = stock.filter((s) => s.material.kind === "metal");
  const base = metals.reduce<(typeof stock)[number] | undefined>(
    (least, next) => (!least || next.carbonPct < least.carbonPct ? next : least),
    undefined,
  );
  if (!base || base.carbonPct >= wish.targetCarbonPct) return [];
  const t = wish.targetCarbonPct;
  const baseArrives = base.carbonPct * base.recovery;

  const plans = stock.flatMap((s): ChargePlan[] => {
    if (s === base) return [];
    let amounts: readonly [number, number] | undefined;
    if (s.material.kind === "carbon") {
      const ironG = (metalG * (1 - t / 100)) / (1 - base.carbonPct / 100);
      const arrivedG = (metalG * t) / 100 - (ironG * baseArrives) / 100;
      amounts = [ironG, arrivedG / ((s.carbonPct / 100) * s.recovery)];
    } else if (s.material.kind === "metal" && s.carbonPct > t) {
      amounts = mixed(metalG, t, base.carbonPct, base.recovery, s.carbonPct, s.recovery);
    }
    if (!amounts) return [];
    const [baseG, carburiserG] = amounts;
    if (!(carburiserG > 0 && baseG > 0)) return [];
    const items: readonly ChargeItem[] = [itemOf(base.own, baseG), itemOf(s.own, carburiserG)];
    const balance = carbonOfMelt(items, wish);
    const notes = new Set<MeltNote>(balance.notes);
    if (short(base.own, baseG) || short(s.own, carburiserG)) notes.add("not-enough-on-hand");
    return [
      {
        carburiser: s.own.what,
        items,
        carbonPct: balance.carbonPct,
        ingotG: {
          low: balance.metalG * share.low,
          likely: balance.metalG * share.likely,
          high: balance.metalG * share.high,
        },
        liquidusC: liquidusC(t),
        holdC: meltHeat(t).holdC,
        crucibleCm3: crucibleNeededCm3(items, t),
        notes: [...notes],
      },
    ];
  });
  const width = ({ carbonPct }: ChargePlan) => carbonPct.high - carbonPct.low;
  return plans.sort((a, b) => width(a) - width(b));
}

/** Masses of two metals that give `metalG` of melt at `t` %, with the share of each one's carbon that arrives. */
function mixed(
  metalG: number,
  t: number,
  c1: number,
  r1: number,
  c2: number,
  r2: number,
): readonly [number, number] | undefined {
  // Iron and carbon each balance: m1 (1 − c1) + m2 (1 − c2) = M (1 − t); m1 c1 r1 + m2 c2 r2 = M t.
  const [a1, a2, iron] = [1 - c1 / 100, 1 - c2 / 100, metalG * (1 - t / 100)];
  const [b1, b2, carbon] = [(c1 * r1) / 100, (c2 * r2) / 100, (metalG * t) / 100];
  const whole = a1 * b2 - a2 * b1;
  if (whole <= 0) return undefined;
  return [(iron * b2 - a2 * carbon) / whole, (a1 * carbon - b1 * iron) / whole];
}

const itemOf = (own: OnHand, massG: number): ChargeItem => ({
  what: own.what,
  massG,
  ...(own.carbonPct === undefined ? {} : { carbonPct: own.carbonPct }),
});
const short = (own: OnHand, massG: number): boolean =>
  own.availableG !== undefined && massG > own.availableG;
