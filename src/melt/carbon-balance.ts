/** Carbon of a melt from what went into it. */
import { mustLie, type Range } from "../steel/index.js";
import {
  IRON_PER_RUST,
  IRON_PER_SCALE,
  type Lid,
  type Material,
  materialNamed,
} from "./material.js";

/** One thing that was put in. A stated `carbonPct` goes before the usual figure of its kind. */
export interface ChargeItem {
  readonly what: string;
  readonly massG: number;
  readonly carbonPct?: number;
}

export interface Balance {
  /** Carbon of the melt, wt%. */
  readonly carbonPct: Range;
  /** Metal that the charge can give, g: iron, and the carbon it took up. */
  readonly metalG: number;
  /** Things whose kind we do not know; they count for nothing. */
  readonly unknown: readonly string[];
  readonly notes: readonly MeltNote[];
}

export type MeltNote =
  | "material-unknown"
  | "carbon-assumed"
  | "no-metal"
  | "oxide-unsure"
  | "cast-iron"
  | "carbon-low"
  | "more-out-than-in"
  | "yield-low"
  | "not-enough-on-hand"
  | "carbon-out-of-reach"
  | "outside-range";

export interface BalanceOptions {
  readonly lid?: Lid;
  /** The shop's own recovery of charcoal and graphite, 0 to 1, when the log has taught it. */
  readonly recovery?: Range;
  /** Share of the metals' own carbon that arrives, 0 to 1, when the log has taught it. */
  readonly metalRecovery?: Range;
}

interface Part {
  readonly material: Material;
  readonly massG: number;
}

/** Carbon, g, and iron, g, of one part at chosen carbon content and recovery. */
function contribution({ material, massG }: Part, carbonPct: number, recovery: number) {
  const carbonG = (massG * carbonPct) / 100;
  switch (material.kind) {
    case "metal":
      return { carbonG: carbonG * recovery, ironG: massG - carbonG };
    case "carbon":
      return { carbonG: carbonG * recovery, ironG: 0 };
    case "oxide": {
      const share = material.carbonPct.high > 0 ? carbonPct / material.carbonPct.high : 0;
      const iron = material.name === "rust" ? IRON_PER_RUST : IRON_PER_SCALE;
      return { carbonG: -carbonG, ironG: massG * iron * share };
    }
    case "inert":
      return { carbonG: 0, ironG: 0 };
  }
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

/** Stated carbon from which an unknown thing is taken for a carbon source, up to which for a metal, wt%. Common practice. */
const UNKNOWN_KIND = { carbonFrom: 40, metalTo: 6.7 };

function partOf(item: ChargeItem, options: BalanceOptions): Part | undefined {
  mustLie("massG", item.massG, 0, 1_000_000, "g");
  const said = item.carbonPct;
  if (said !== undefined) mustLie("carbonPct", said, 0, 100, "%");
  const known = materialNamed(item.what, options.lid) ?? guessed(item, options.lid);
  if (!known) return undefined;
  const learnt = { metal: options.metalRecovery, carbon: options.recovery }[
    known.kind as "metal" | "carbon"
  ];
  const stated =
    said !== undefined && (known.kind === "metal" || known.kind === "carbon")
      ? { carbonPct: { low: said, likely: said, high: said } }
      : {};
  return {
    massG: item.massG,
    material: { ...known, ...stated, ...(learnt ? { recovery: learnt } : {}) },
  };
}

/** A thing whose name we do not know counts by its stated carbon. */
function guessed({ what, carbonPct }: ChargeItem, lid?: Lid): Material | undefined {
  if (carbonPct === undefined) return undefined;
  if (carbonPct <= UNKNOWN_KIND.metalTo) return renamed(materialNamed("bar iron", lid), what);
  if (carbonPct >= UNKNOWN_KIND.carbonFrom) return renamed(materialNamed("charcoal", lid), what);
  return undefined;
}
const renamed = (material: Material | undefined, name: string): Material | undefined =>
  material && { ...material, name };

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
