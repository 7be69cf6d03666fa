/**
 * What a truth row's formula name stands for: one function of the product, in the row's unit. Each room has its own
 * `formulas-<room>.ts`, which exports `formulas`; all that lie beside this file are taken.
 */
import { readdirSync } from "node:fs";
import type { Inputs } from "./rows.js";

export type Formula = (inputs: Inputs) => number;
export type Formulas = Readonly<Record<string, Formula>>;

/** A named number of a row; a row that lacks it is wrong. */
export function num(inputs: Inputs, name: string): number {
  const value = inputs[name];
  if (typeof value !== "number") throw new Error(`row needs a number "${name}"`);
  return value;
}

export function word(inputs: Inputs, name: string): string {
  const value = inputs[name];
  if (typeof value !== "string") throw new Error(`row needs a word "${name}"`);
  return value;
}

export async function allFormulas(): Promise<Formulas> {
  const here = new URL(".", import.meta.url);
  const all: Record<string, Formula> = {};
  for (const name of readdirSync(here).sort()) {
    if (!/^formulas-[a-z]+\.ts$/.test(name)) continue;
    const { formulas } = (await import(new URL(name, here).href)) as { formulas: Formulas };
    for (const [formula, run] of Object.entries(formulas)) {
      if (all[formula]) throw new Error(`formula ${formula} stands in two rooms`);
      all[formula] = run;
    }
  }
  return all;
}
