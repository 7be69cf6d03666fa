import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  formatDuration,
  formatForce,
  formatLength,
  formatMass,
  formatSize,
  formatTemperature,
  roundedMm,
} from "../../src/units/index.js";

const mm = { length: "mm", temperature: "c" } as const;
const inch = { length: "inch", temperature: "f" } as const;

describe("lengths as a rule shows them", () => {
  it.each([
    [22.4, mm, "22 mm"],
    [9.76, mm, "10 mm"],
    [9.7, mm, "9.5 mm"],
    [3.24, mm, "3 mm"],
    [3.26, mm, "3.5 mm"],
    [0.1, mm, "0 mm"],
    [25.4, inch, "1 in"],
    [38.1, inch, "1 1/2 in"],
    [12.7, inch, "1/2 in"],
    [3.175, inch, "1/8 in"],
    [2.38, inch, "3/32 in"],
    [36.5, inch, "1 7/16 in"],
    [180, inch, "7 1/16 in"],
  ] as const)("%s mm in %o is %s", (value, units, text) => {
    expect(formatLength(value, units)).toBe(text);
  });

  it("is never off by more than half of the finest mark", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 2000, noNaN: true }), (value) => {
        const marks = value < 9.75 ? 0.25 : 0.5;
        expect(Math.abs(roundedMm(value, mm) - value)).toBeLessThanOrEqual(marks + 1e-9);
        const part = value < 12.3 ? 25.4 / 64 : 25.4 / 32;
        expect(Math.abs(roundedMm(value, inch) - value)).toBeLessThanOrEqual(part + 1e-9);
      }),
    );
  });

  it("prints a size in one unit", () => {
    expect(formatSize([22, 36, 180], mm)).toBe("22 × 36 × 180 mm");
    expect(formatSize([22.225, 36.5125, 180], inch)).toBe("7/8 × 1 7/16 × 7 1/16 in");
  });
});

describe("masses, temperatures, forces, times", () => {
  it.each([
    [450, mm, "450 g"],
    [3.4, mm, "3.5 g"],
    [450, inch, "15.9 oz"],
    [780, inch, "1 lb 11.5 oz"],
    [453.59237, inch, "1 lb"],
  ] as const)("%s g in %o is %s", (value, units, text) => {
    expect(formatMass(value, units)).toBe(text);
  });
  it("prints the others", () => {
    expect(formatTemperature(950, mm)).toBe("950 °C");
    expect(formatTemperature(950, inch)).toBe("1742 °F");
    expect(formatForce(200, mm)).toBe("200 kN");
    expect(formatForce(200, inch)).toBe("22.5 short tons");
    expect([formatDuration(41), formatDuration(125), formatDuration(4800)]).toEqual([
      "41 s",
      "2 min",
      "1 h 20 min",
    ]);
  });
});
