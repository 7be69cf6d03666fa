/** What goes into a crucible, with how much of its carbon arrives in the steel. */
import type { Range } from "../steel/index.js";

export type MaterialKind = "metal" | "carbon" | "oxide" | "inert";

export interface Material {
  readonly name: string;
  readonly kind: MaterialKind;
  /** Carbon in the metal, or fixed carbon of a carbon source, wt%; for an oxide the carbon that it burns, g per 100 g. */
  readonly carbonPct: Range;
  /** Share of that carbon that ends in the melt, 0 to 1. */
  readonly recovery: Range;
}

/** How well the crucible is shut; carbon that lies on top burns through a bad lid. */
export type Lid = "sealed" | "loose";

const range = (low: number, likely: number, high: number): Range => ({ low, likely, high });
const whole = range(1, 1, 1);
/** Recovery of charcoal and graphite by lid. Common practice [S52], memory, low; a foundry reports 85 to 95 % under a charge [S60]. */
export const CARBON_RECOVERY: Readonly<Record<Lid, Range>> = {
  sealed: range(0.7, 0.8, 0.9),
  loose: range(0.4, 0.5, 0.6),
};
/** Recovery of carbon that the metal brings itself. Common practice [S52], memory, low. */
const METAL_RECOVERY = range(0.95, 0.98, 1);

/** Carbon burnt by an oxide, g per g: Fe2O3 + 3 C → 2 Fe + 3 CO. Exact stoichiometry. [S51] */
export const CARBON_PER_RUST = (3 * 12.011) / 159.688;
/** Iron won from it, g per g. Exact stoichiometry. [S51] */
export const IRON_PER_RUST = (2 * 55.845) / 159.688;
/** The same for hammer scale taken as FeO: FeO + C → Fe + CO. [S51] */
export const CARBON_PER_SCALE = 12.011 / 71.844;
export const IRON_PER_SCALE = 55.845 / 71.844;

/** Usual stuff of a shop. Carbon contents are the ranges of the kind, common practice [S52]; an analysis always goes before. */
export const MATERIALS = {
  "bar iron": { kind: "metal", carbonPct: range(0.02, 0.05, 0.15), recovery: METAL_RECOVERY },
  "mild steel": { kind: "metal", carbonPct: range(0.08, 0.15, 0.25), recovery: METAL_RECOVERY },
  "tool steel": { kind: "metal", carbonPct: range(0.8, 1, 1.2), recovery: METAL_RECOVERY },
  "bloom iron": { kind: "metal", carbonPct: range(0.05, 0.3, 0.8), recovery: METAL_RECOVERY },
  "cast iron": { kind: "metal", carbonPct: range(3, 3.6, 4.2), recovery: METAL_RECOVERY },
  charcoal: { kind: "carbon", carbonPct: range(70, 75, 85), recovery: CARBON_RECOVERY.sealed },
  graphite: { kind: "carbon", carbonPct: range(95, 98, 99.5), recovery: CARBON_RECOVERY.sealed },
  rust: {
    kind: "oxide",
    carbonPct: range(0, 100 * CARBON_PER_RUST, 100 * CARBON_PER_RUST),
    recovery: whole,
  },
  "hammer scale": {
    kind: "oxide",
    carbonPct: range(0, 100 * CARBON_PER_SCALE, 100 * CARBON_PER_SCALE),
    recovery: whole,
  },
  flux: { kind: "inert", carbonPct: range(0, 0, 0), recovery: whole },
} as const satisfies Record<string, Omit<Material, "name">>;

export type MaterialName = keyof typeof MATERIALS;

const ALSO: Readonly<Record<string, MaterialName>> = {
  iron: "bar iron",
  "wrought iron": "bar iron",
  "soft iron": "bar iron",
  "pure iron": "bar iron",
  nails: "mild steel",
  steel: "mild steel",
  scrap: "mild steel",
  "crucible steel": "tool steel",
  bloom: "bloom iron",
  hearth: "bloom iron",
  "pig iron": "cast iron",
  pig: "cast iron",
  coal: "charcoal",
  "char coal": "charcoal",
  carbon: "graphite",
  "rusty iron": "rust",
  ore: "rust",
  scale: "hammer scale",
  glass: "flux",
  sand: "flux",
  borax: "flux",
  shells: "flux",
};

/** The material that a word means, with its usual figures; nothing if we do not know it. */
export function materialNamed(said: string, lid: Lid = "sealed"): Material | undefined {
  const word = said
    .toLowerCase()
    .replace(/[\s-]+/g, " ")
    .trim();
  const name = Object.hasOwn(MATERIALS, word)
    ? (word as MaterialName)
    : Object.hasOwn(ALSO, word)
      ? ALSO[word]
      : undefined;
  if (!name) return undefined;
  const material = MATERIALS[name];
  return {
    name,
    ...material,
    recovery: material.kind === "carbon" ? CARBON_RECOVERY[lid] : material.recovery,
  };
}
