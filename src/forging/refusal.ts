/** When a request cannot be planned: which field, and what to do. */
import type { PlanRefusal } from "./types.js";

export interface Limit {
  readonly field: string;
  readonly value: number | undefined;
  readonly low: number;
  readonly high: number;
  readonly unit: string;
}

/** The first figure that is not a number or lies outside what can be on an anvil. */
export function refusalOf(limits: readonly Limit[]): PlanRefusal | undefined {
  for (const { field, value, low, high, unit } of limits) {
    if (value === undefined) continue;
    if (!Number.isFinite(value)) {
      return { refused: true, code: "not-a-number", field, what: `Give ${field} as a number.` };
    }
    if (value < low || value > high) {
      return {
        refused: true,
        code: value < low ? "too-small" : "too-large",
        field,
        got: value,
        atLeast: low,
        atMost: high,
        what: `Check ${field}: ${value} ${unit} is not between ${low} and ${high} ${unit}.`,
      };
    }
  }
  return undefined;
}

export const isRefusal = (answer: { readonly refused?: boolean }): answer is PlanRefusal =>
  answer.refused === true;
