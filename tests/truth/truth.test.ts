import { describe, expect, it } from "vitest";
import { allFormulas } from "./formulas.js";
import { sourceIds, truthRows } from "./rows.js";

const rows = truthRows();
const formulas = await allFormulas();
const sources = sourceIds();

describe("truth rows", () => {
  it("are many, and enough of them print their number", () => {
    expect(rows.length).toBeGreaterThanOrEqual(70);
    expect(rows.filter((row) => row.valueKind === "published").length).toBeGreaterThanOrEqual(30);
  });

  it("use every formula that is offered", () => {
    const used = new Set(rows.map((row) => row.formula));
    expect(Object.keys(formulas).filter((name) => !used.has(name))).toEqual([]);
  });

  it.each(rows.map((row) => [row.id, row.formula, row] as const))("%s %s", (_id, _name, row) => {
    expect(sources.has(row.source), `${row.source} is not in docs/sources.md`).toBe(true);
    const formula = formulas[row.formula];
    if (!formula) throw new Error(`no formula "${row.formula}"`);
    const got = formula(row.inputs);
    expect(
      Math.abs(got - row.expected),
      `got ${got} ${row.unit}, the source says ${row.expected} ± ${row.tolerance}`,
    ).toBeLessThanOrEqual(row.tolerance + Number.EPSILON * Math.abs(row.expected));
  });
});
