/** Ends of the ranges: what is noted, what is refused, what is taken instead. */
import { describe, expect, it } from "vitest";
import {
  a1C,
  acmC,
  COLOUR_NAMES,
  carbonInAusteniteAtPct,
  carbonLeftFraction,
  cellSpacingUm,
  decarbDepthMm,
  densityGPerMm3,
  EUTECTIC_C,
  flowStressMPa,
  forgingWindow,
  heatColour,
  linearExpansion,
  retainedAusteniteFraction,
  scaleLossMm,
  solidusC,
} from "../../src/steel/index.js";

describe("steel, at the edges", () => {
  it("refuses what no steel can be, with value and unit", () => {
    expect(() => densityGPerMm3(7)).toThrow(/carbonPct .* got 7 %/);
    expect(() => densityGPerMm3(Number.NaN)).toThrow(RangeError);
    expect(() => linearExpansion(1.5, 5000)).toThrow(/got 5000 °C/);
    expect(() => scaleLossMm({ tempC: 950, minutes: -1 })).toThrow(/minutes/);
    expect(() => cellSpacingUm(0)).toThrow(/K\/min/);
    expect(() =>
      flowStressMPa({ carbonPct: 1.5, tempC: 950, strain: 0.3, strainRatePerS: 0 }),
    ).toThrow(/\/s/);
  });

  it("says when it left the published range", () => {
    const squeeze = { carbonPct: 1.5, tempC: 950, strain: 0.3, strainRatePerS: 1 };
    expect(flowStressMPa(squeeze).notes).toEqual(["carbon-clamped", "carbides-added"]);
    expect(flowStressMPa({ ...squeeze, carbonPct: 1 }).notes).toEqual([]);
    expect(flowStressMPa({ ...squeeze, strain: 0.9 }).notes).toContain("outside-range");
    expect(flowStressMPa({ ...squeeze, strain: 0 }).likely).toBe(0);
    expect(linearExpansion(1.5, 1250).notes).toContain("outside-range");
    expect(linearExpansion(1.5, 950).notes).toEqual([]);
    expect(scaleLossMm({ tempC: 650, minutes: 10 }).notes).toContain("outside-range");
    expect(decarbDepthMm({ tempC: 700, minutes: 10, carbonPct: 1.5 }).notes).toContain("below-a1");
    expect(cellSpacingUm(0.5).notes).toContain("outside-range");
  });

  it("holds the lines where the diagram ends", () => {
    expect(acmC(0.5)).toBe(a1C());
    expect(acmC(3)).toBe(EUTECTIC_C);
    expect(solidusC(3)).toBe(EUTECTIC_C);
    expect(carbonInAusteniteAtPct(600)).toBeCloseTo(0.761, 3);
    expect(carbonInAusteniteAtPct(1300)).toBeCloseTo(2.05, 2);
    expect(forgingWindow({ carbonPct: 3 }).notes).toContain("cast-iron");
    expect(forgingWindow({ carbonPct: 0.5 }).notes).toContain("carbon-below-eutectoid");
  });

  it("keeps a window for a steel whose Acm is too low, and says the ceiling stands over it", () => {
    const w = forgingWindow({ carbonPct: 0.9, homogenised: true });
    expect(w.ceilingC).toBeGreaterThan(w.acmC);
    expect(w.notes).toContain("ceiling-above-acm");
    expect(forgingWindow({ carbonPct: 1.5, homogenised: true }).notes).not.toContain(
      "ceiling-above-acm",
    );
  });

  it("lets sulphur without manganese lower the ceiling, and manganese lift it again", () => {
    const loose = forgingWindow({ carbonPct: 1.8, sPct: 0.05, homogenised: true });
    expect(loose.ceilingReason).toBe("sulphur");
    const tied = forgingWindow({ carbonPct: 1.8, sPct: 0.05, mnPct: 0.4, homogenised: true });
    expect(tied.ceilingReason).toBe("acm");
    expect(forgingWindow({ carbonPct: 2.05, homogenised: true }).ceilingReason).toBe("solidus");
  });

  it("shifts A1 by the published slopes", () => {
    expect(a1C({ carbonPct: 1.5, siPct: 1 }) - a1C()).toBeCloseTo(29.1, 6);
    expect(a1C({ carbonPct: 1.5, mnPct: 1 }) - a1C()).toBeCloseTo(-10.7, 6);
  });

  it("reads a colour however it is written, and knows what it does not know", () => {
    expect(heatColour("Full-Cherry ")).toEqual(heatColour("cherry"));
    expect(heatColour("dark cherry")).not.toEqual(heatColour("cherry"));
    expect(heatColour("mauve")).toBeUndefined();
    expect(heatColour("constructor")).toBeUndefined();
    for (const name of COLOUR_NAMES) expect(heatColour(name)).toBeDefined();
  });

  it("has all carbon deep inside and none at the face", () => {
    const soak = { tempC: 950, minutes: 10 };
    expect(carbonLeftFraction(0, soak)).toBeCloseTo(0, 6);
    expect(carbonLeftFraction(5, soak)).toBeCloseTo(1, 9);
    expect(carbonLeftFraction(0.2, { tempC: 950, minutes: 0 })).toBe(1);
    const half = decarbDepthMm({ ...soak, carbonPct: 1.5 }).likely;
    expect(carbonLeftFraction(half, soak)).toBeCloseTo(0.5, 4);
    expect(retainedAusteniteFraction(20, 100)).toBe(1);
  });
});
