/** Carbon of a melt from what went into it. */
import type { Range } from "../steel/index.js";
import {
  type BalanceOptions,
  type ChargeItem,
  contribution,
  type Part,
  partOf,
} from "./charge-part.js";
import type { MeltNote } from "./melt-note.js";

export interface Balance {
  /** Carbon of the melt, wt%. */
  readonly carbonPct: Range;
  /** Metal that the charge can give, g: iron, and the carbon it took up. */
  readonly metalG: number;
  /** Things whose kind we do not know; they count for nothing. */
  readonly unknown: readonly string[];
  readonly notes: readonly MeltNote[];
}

type Pick = (part: Part, what: "carbon" | "recovery") => number;
const likely: Pick = ({ material }, what) =>
  what === "carbon" ? material.carbonPct.likely : material.recovery.likely;

const bothEnds = (make: (end: "low" | "high") => Pick): readonly [Pick, Pick] => [
  make("low"),
  make("high"),
];

function carbonOf(parts: readonly Part[], pick: Pick): { pct: number; metalG: number } {
  let carbonG = 0;
  let ironG = 0;
  for (const part of parts) {
    const given = contribution(part, pick(part, "carbon"), pick(part, "recovery"));
    carbonG += given.carbonG;
    ironG += given.ironG;
  }
  const metalG = ironG + Math.max(0, carbonG);
  return { pct: metalG > 0 ? Math.max(0, (100 * carbonG) / metalG) : 0, metalG };
}

/**
 * Carbon of the melt, wt%, by the mass balance Σ (mass × carbon × recovery) / Σ mass that ends in the melt.
 * Range: each carbon content is moved to its ends in turn, and each kind's recovery for all of that kind together (one lid, one fire);
 * the moves add as squares, being independent.
 * Holds: a charge that melted through and took up its carbon. Error: the range, mostly recovery. Source: [S51]; shares [S52], [S60].
 */
export function carbonOfMelt(charge: readonly ChargeItem[], options: BalanceOptions = {}): Balance {
  const notes = new Set<MeltNote>();
  const parts: Part[] = [];
  const unknown: string[] = [];
  for (const item of charge) {
    const part = partOf(item, options);
    if (!part) {
      unknown.push(item.what);
      notes.add("material-unknown");
      continue;
    }
    parts.push(part);
    if (part.material.kind === "oxide" && part.massG > 0) notes.add("oxide-unsure");
    if (part.material.carbonPct.low < part.material.carbonPct.high) notes.add("carbon-assumed");
  }
  const middle = carbonOf(parts, likely);
  if (middle.metalG <= 0) notes.add("no-metal");
  const moves: { readonly ends: readonly [Pick, Pick] }[] = [
    ...parts.map((moved) => ({
      ends: bothEnds((end) => (part, what) => {
        const here = part === moved && what === "carbon";
        return here ? part.material.carbonPct[end] : likely(part, what);
      }),
    })),
    ...(["metal", "carbon"] as const).map((kind) => ({
      ends: bothEnds((end) => (part, what) => {
        const here = part.material.kind === kind && what === "recovery";
        return here ? part.material.recovery[end] : likely(part, what);
      }),
    })),
  ];
  let down = 0;
  let up = 0;
  for (const { ends } of moves) {
    const shifts = ends.map((pick) => carbonOf(parts, pick).pct - middle.pct);
    down += Math.min(0, ...shifts) ** 2;
    up += Math.max(0, ...shifts) ** 2;
  }
  if (middle.pct > 2.05) notes.add("cast-iron");
  if (middle.metalG > 0 && middle.pct < 0.77) notes.add("carbon-low");
  return {
    carbonPct: {
      low: Math.max(0, middle.pct - Math.sqrt(down)),
      likely: middle.pct,
      high: middle.pct + Math.sqrt(up),
    },
    metalG: middle.metalG,
    unknown,
    notes: [...notes],
  };
}

/**
 * Recovery of charcoal and graphite that explains a measured carbon, 0 to 1: what one melt teaches about the shop.
 * Nothing if the charge held no carbon source, or if no share from 0 to 1.2 explains it. Source: the balance turned round, [S51].
 */
export function recoveryFrom(
  charge: readonly ChargeItem[],
  measuredCarbonPct: number,
  options: BalanceOptions = {},
): number | undefined {
  const at = (share: number) =>
    carbonOfMelt(charge, { ...options, recovery: { low: share, likely: share, high: share } })
      .carbonPct.likely;
  const [none, all] = [at(0), at(1.2)];
  if (all <= none || measuredCarbonPct < none || measuredCarbonPct > all) return undefined;
  let low = 0;
  let high = 1.2;
  for (let step = 0; step < 50; step += 1) {
    const middle = (low + high) / 2;
    if (at(middle) < measuredCarbonPct) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
