import { describe, expect, it } from "vitest";
import { bladesMassG, type Fact } from "../../src/logbook/index.js";
import { ingotOf } from "../report/log.js";

const blades = (...facts: readonly Fact[]) =>
  ingotOf([{ kind: "ingot", massG: 741 }, ...facts]).finishes.map(({ value }) => value);

describe("finished blades of an ingot", () => {
  const first: Fact = { kind: "finish", lengthMm: 171, widthMm: 28, massG: 111 };

  it("adds a further word to the blade it is about", () => {
    expect(blades({ kind: "finish", lengthMm: 171 }, { kind: "finish", massG: 111 })).toEqual([
      { lengthMm: 171, massG: 111 },
    ]);
  });

  it("puts a blade told again in the place of the first when one was wanted", () => {
    expect(blades(first, { kind: "finish", lengthMm: 169, massG: 108 })).toEqual([
      { lengthMm: 169, massG: 108 },
    ]);
  });

  it("counts two when two were wanted, even when they measure the same, and their masses together", () => {
    for (const wanted of [
      { kind: "goal", count: 2 },
      { kind: "route", split: true },
    ] as const) {
      expect(blades(wanted, first, { ...first, massG: 109 })).toHaveLength(2);
      expect(blades(wanted, first, first)).toHaveLength(2);
      const state = ingotOf([wanted, first, { ...first, massG: 109 }]);
      expect(bladesMassG(state)).toBe(220);
    }
  });

  it("knows no mass while one blade is not weighed", () => {
    const state = ingotOf([
      { kind: "goal", count: 2 },
      first,
      { kind: "finish", lengthMm: 168, widthMm: 27 },
    ]);
    expect(state.finishes).toHaveLength(2);
    expect(bladesMassG(state)).toBeUndefined();
  });
});
