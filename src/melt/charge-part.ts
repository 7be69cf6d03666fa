/** One thing in a charge, as its iron and its carbon. */
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

export interface BalanceOptions {
  readonly lid?: Lid;
  /** The shop's own recovery of charcoal and graphite, 0 to 1, when the log has taught it. */
  readonly recovery?: Range;
  /** Share of the metals' own carbon that arrives, 0 to 1, when the log has taught it. */
  readonly metalRecovery?: Range;
}

export interface Part {
  readonly material: Material;
  readonly massG: number;
}

/** Carbon, g, and iron, g, of one part at chosen carbon content and recovery. */
export function contribution({ material, massG }: Part, carbonPct: number, recovery: number) {
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

/** Stated carbon from which an unknown thing is taken for a carbon source, up to which for a metal, wt%. Common practice. */
const UNKNOWN_KIND = { carbonFrom: 40, metalTo: 6.7 };

export function partOf(item: ChargeItem, options: BalanceOptions): Part | undefined {
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
