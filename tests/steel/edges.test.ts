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
  segregationLeft,
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

  it("turns at the stated limits of phosphorus and sulphur, not beside them", () => {
    const ceiling = (pPct: number) => forgingWindow({ carbonPct: 1.5, pPct }).ceilingReason;
    expect(ceiling(0.049)).toBe("acm");
    expect(ceiling(0.05)).toBe("phosphorus");
    const loose = (sPct: number, mnPct: number) =>
      forgingWindow({ carbonPct: 1.8, sPct, mnPct, homogenised: true }).ceilingReason;
    expect(loose(0.0099, 0)).toBe("acm");
    expect(loose(0.0101, 0)).toBe("sulphur");
    expect(loose(0.02, 0.099)).toBe("sulphur");
    expect(loose(0.02, 0.101)).toBe("acm");
  });

  it("has the margins that the page states", () => {
    const plain = forgingWindow({ carbonPct: 1.5, homogenised: true });
    expect(plain.floorC).toBe(752);
    expect(plain.workToC).toBeCloseTo(plain.acmC - 30, 9);
    expect(forgingWindow({ carbonPct: 1.8, homogenised: true }).workFromC).toBeCloseTo(
      acmC(1.8) - 250,
      9,
    );
    expect(forgingWindow({ carbonPct: 1.5 }).ceilingC).toBe(935);
    expect(forgingWindow({ carbonPct: 2.05, homogenised: true }).ceilingC).toBeCloseTo(
      solidusC(2.05) - 100,
      9,
    );
    expect(forgingWindow({ carbonPct: 0.9, homogenised: true }).ceilingC).toBe(852);
    const { low, likely, high } = cellSpacingUm(5);
    expect(low / likely).toBeCloseTo(0.7, 9);
    expect(high / likely).toBeCloseTo(1.3, 9);
    const free = scaleLossMm({ tempC: 950, minutes: 10 });
    const clean = scaleLossMm({ tempC: 950, minutes: 10, atmosphereFactor: 1 });
    expect(free.low / clean.likely).toBeCloseTo(0.3, 9);
    expect(free.likely / clean.likely).toBeCloseTo(0.6, 9);
    expect(free.high / clean.likely).toBeCloseTo(1, 9);
    expect(clean.low / clean.likely).toBeCloseTo(0.75, 9);
  });

  it("marks the ends of each published range from both sides", () => {
    const outside = (notes: readonly string[]) => notes.includes("outside-range");
    const skin = (tempC: number) => decarbDepthMm({ tempC, minutes: 10, carbonPct: 1.5 }).notes;
    expect([799, 801, 1099, 1101].map((t) => outside(skin(t)))).toEqual([true, false, false, true]);
    const scale = (tempC: number) => scaleLossMm({ tempC, minutes: 10 }).notes;
    expect([699, 701, 1249, 1251].map((t) => outside(scale(t)))).toEqual([
      true,
      false,
      false,
      true,
    ]);
    const cells = (rate: number) => cellSpacingUm(rate).notes;
    expect([0.9, 1.1, 499, 501].map((r) => outside(cells(r)))).toEqual([true, false, false, true]);
    const growth = (c: number, t: number) => linearExpansion(c, t).notes;
    expect(
      [growth(0.49, 900), growth(0.51, 900), growth(2.04, 900), growth(2.06, 900)].map(outside),
    ).toEqual([true, false, false, true]);
    expect([growth(1, 19), growth(1, 21), growth(1, 1199), growth(1, 1201)].map(outside)).toEqual([
      true,
      false,
      false,
      true,
    ]);
    const stress = (tempC: number, strain = 0.3, strainRatePerS = 1, carbonPct = 1) =>
      flowStressMPa({ carbonPct, tempC, strain, strainRatePerS }).notes;
    expect([stress(699), stress(701), stress(1199), stress(1201)].map(outside)).toEqual([
      true,
      false,
      false,
      true,
    ]);
    expect([stress(900, 0.69), stress(900, 0.71)].map(outside)).toEqual([false, true]);
    expect(
      [
        stress(900, 0.3, 0.09),
        stress(900, 0.3, 0.11),
        stress(900, 0.3, 99),
        stress(900, 0.3, 101),
      ].map(outside),
    ).toEqual([true, false, false, true]);
    expect([stress(900, 0.3, 1, 0.06), stress(900, 0.3, 1, 0.08)].map(outside)).toEqual([
      true,
      false,
    ]);
    const fade = (tempC: number) => segregationLeft([{ tempC, minutes: 1, spacingUm: 300 }]).notes;
    expect([899, 901, 1249, 1251].map((t) => outside(fade(t)))).toEqual([true, false, false, true]);
  });

  it("holds the stress past a strain of 0.7, where the law turns over", () => {
    const at = (strain: number) =>
      flowStressMPa({ carbonPct: 1, tempC: 950, strain, strainRatePerS: 1 }).likely;
    expect(at(0.9)).toBe(at(0.7));
    expect(at(0.9)).not.toBe(at(0.65));
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
