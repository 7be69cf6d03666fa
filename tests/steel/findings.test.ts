/** What the literature says against the easy assumption. Each holds in the code, or the code is wrong. */
import { describe, expect, it } from "vitest";
import {
  acmC,
  armSpacingUm,
  carbonInAusteniteAtPct,
  carbonInSolutionPct,
  cellSpacingUm,
  colourRows,
  flowStressMPa,
  forgingWindow,
  heatColour,
  lastLiquidFraction,
  linearExpansion,
  martensiteStartAfterC,
  PHOSPHIDE_EUTECTIC_C,
  scaleLossMm,
  scaleLossOfHeatsMm,
  sectionLossFraction,
  shidaMPa,
  solidusC,
} from "../../src/steel/index.js";

const chord = (c: number) => 727 + ((1148 - 727) * (c - 0.77)) / (2.11 - 0.77);

describe("findings", () => {
  it("Acm bulges up: it stands over its chord by 33 K at 1.5 % and rises all the way", () => {
    expect(acmC(1.5) - chord(1.5)).toBeGreaterThan(28);
    expect(acmC(1.5) - chord(1.5)).toBeLessThan(38);
    for (let c = 0.85; c < 2; c += 0.05) {
      expect(acmC(c)).toBeGreaterThan(chord(c) - 1);
      expect(acmC(c + 0.05)).toBeGreaterThan(acmC(c));
    }
  });

  it("phosphorus, not the clean solidus, sets the first heats' ceiling", () => {
    const cast = forgingWindow({ carbonPct: 1.5, pPct: 0.1 });
    expect(cast.ceilingReason).toBe("phosphorus");
    expect(cast.ceilingC).toBeLessThan(PHOSPHIDE_EUTECTIC_C);
    expect(cast.ceilingC).toBeLessThan(solidusC(1.5) - 300);
    expect(lastLiquidFraction(0.1)).toBeCloseTo(0.0077, 3);
    const unknown = forgingWindow({ carbonPct: 1.5 });
    expect(unknown.ceilingReason).toBe("phosphorus");
    expect(unknown.notes).toContain("phosphorus-unknown");
    const spread = forgingWindow({ carbonPct: 1.5, pPct: 0.1, homogenised: true });
    expect(spread.ceilingReason).toBe("acm");
    expect(spread.ceilingC).toBeGreaterThan(cast.ceilingC + 40);
    expect(forgingWindow({ carbonPct: 1.5, pPct: 0.02 }).ceilingReason).toBe("acm");
  });

  it("carbon in solution is not the bulk carbon", () => {
    for (const bulk of [1.2, 1.5, 1.8]) {
      expect(carbonInSolutionPct(bulk, 850)).toBeCloseTo(1.084, 2);
      expect(martensiteStartAfterC({ carbonPct: bulk }, 800)).toBeCloseTo(210, 0);
    }
    expect(carbonInSolutionPct(0.8, 850)).toBe(0.8);
    expect(carbonInAusteniteAtPct(acmC(1.5))).toBeCloseTo(1.5, 6);
  });

  it("hot austenite is barely harder with carbon; heat and speed rule", () => {
    const at = (carbonPct: number, tempC: number, strainRatePerS: number) =>
      shidaMPa({ carbonPct, tempC, strain: 0.3, strainRatePerS });
    for (const tempC of [1000, 1050, 1100, 1150]) {
      expect(at(1.2, tempC, 1) / at(0.4, tempC, 1)).toBeLessThan(1.1);
      const hot = (c: number) =>
        flowStressMPa({ carbonPct: c, tempC, strain: 0.3, strainRatePerS: 1 }).likely;
      expect(hot(1.5) / hot(1.2)).toBeLessThan(1.03);
    }
    expect(at(1.2, 900, 1) / at(1.2, 1000, 1)).toBeCloseTo(138 / 96, 1);
    expect(at(1.2, 1000, 10) / at(1.2, 1000, 1)).toBeGreaterThan(1.45);
    expect(at(1.2, 1000, 10) / at(1.2, 1000, 1)).toBeLessThan(1.5);
  });

  it("the shrink from forging heat is a band: 1.5 % ± 0.3 at 950 °C, and it holds the published curves", () => {
    const { low, likely, high } = linearExpansion(1.5, 950);
    expect(likely).toBeCloseTo(0.015, 3);
    expect(low).toBeLessThanOrEqual(0.012);
    expect(high).toBeCloseTo(0.018, 3);
    for (const published of [0.0114, 0.0128, 0.0169]) {
      expect(published).toBeGreaterThan(low);
      expect(published).toBeLessThan(high);
    }
  });

  it("scale goes with heats times the root of time, and with surface over volume", () => {
    const tenMinutes = { tempC: 950, minutes: 10 };
    const ten = scaleLossOfHeatsMm(Array.from({ length: 10 }, () => tenMinutes));
    const one = scaleLossMm({ tempC: 950, minutes: 100 });
    expect(ten.likely / one.likely).toBeCloseTo(Math.sqrt(10), 6);
    const thin = sectionLossFraction(0.082, 30, 5);
    const square = sectionLossFraction(0.082, 20, 20);
    expect(thin / square).toBeCloseTo(2.3, 1);
  });

  it("the arm-spacing law is not extrapolated in carbon", () => {
    expect(armSpacingUm(0.05, 1.5)).toBe(armSpacingUm(0.05, 1));
    for (const kPerMin of [1, 3, 10, 60]) {
      const { low, high } = cellSpacingUm(kPerMin);
      expect(armSpacingUm(kPerMin / 60, 1.5)).toBeGreaterThan(low);
      expect(armSpacingUm(kPerMin / 60, 1.5)).toBeLessThan(high);
    }
  });

  it("a colour is a wide interval that holds every table's figure", () => {
    expect(heatColour("full cherry")).toEqual({ lowC: 745, highC: 905 });
    for (const name of ["cherry", "orange", "yellow", "dull red", "bright cherry"] as const) {
      const interval = heatColour(name);
      if (!interval) throw new Error(name);
      expect(interval.highC - interval.lowC).toBeGreaterThan(150);
      for (const row of colourRows(name)) {
        expect(row.lowC).toBeGreaterThanOrEqual(interval.lowC);
        expect(row.highC).toBeLessThanOrEqual(interval.highC);
      }
    }
  });
});
