/** What came out of what went in. */
import { mustLie } from "../steel/index.js";
import { carbonOfMelt } from "./carbon-balance.js";
import { MELT_YIELD } from "./charge.js";
import type { BalanceOptions, ChargeItem } from "./charge-part.js";
import type { MeltNote } from "./melt-note.js";

export interface Yield {
  /** Ingot over the metal of the charge, 0 to 1 and a little more if a scale is off. */
  readonly fraction: number;
  readonly metalG: number;
  readonly lostG: number;
  readonly notes: readonly MeltNote[];
}

/** Share that a melt may come out over its charge before something must be wrong: the last digit of two scales. Common practice. */
const SCALE_SLACK = 0.01;

/**
 * Metallic yield of a melt. `ingotG` is the ingot without its slag and glass.
 * Usual 0.93 to 0.98 (common practice [S52], low): under that steel is in the slag or the wall; over 1 a weight or the charge is wrong.
 */
export function meltYield(
  charge: readonly ChargeItem[],
  ingotG: number,
  options: BalanceOptions = {},
): Yield | undefined {
  mustLie("ingotG", ingotG, 0, 1_000_000, "g");
  const { metalG } = carbonOfMelt(charge, options);
  if (metalG <= 0) return undefined;
  const fraction = ingotG / metalG;
  const notes: MeltNote[] = [];
  if (fraction > 1 + SCALE_SLACK) notes.push("more-out-than-in");
  if (fraction < MELT_YIELD.low) notes.push("yield-low");
  return { fraction, metalG, lostG: metalG - ingotG, notes };
}
