/** Laws that hold over the whole range, not at one point. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  a1C,
  acmC,
  carbonInAusteniteAtPct,
  cellSpacingUm,
  cementiteFraction,
  coldFromHotMm,
  conductivityWPerMK,
  coolingForSpacingKPerMin,
  decarbDepthMm,
  decarbLeftMm,
  densityGPerMm3,
  flowStressMPa,
  forgingWindow,
  HOMOGENISED_BELOW,
  heatCapacityJPerKgK,
  heatContentJPerKg,
  homogenisingMinutes,
  hotFromColdMm,
  linearExpansion,
  liquidusC,
  type Range,
  scaleLossMm,
  segregationLeft,
  solidusC,
} from "../../src/steel/index.js";

const carbon = fc.double({ min: 0.8, max: 2.05, noNaN: true });
const heat = fc.double({ min: 20, max: 1200, noNaN: true });
const forge = fc.double({ min: 750, max: 1150, noNaN: true });
const minutes = fc.double({ min: 0, max: 600, noNaN: true });
const ordered = ({ low, likely, high }: Range) => {
  expect(low).toBeLessThanOrEqual(likely + 1e-15);
  expect(likely).toBeLessThanOrEqual(high + 1e-15);
};

describe("steel, over the range", () => {
  it("hot and cold lengths are each other's inverse", () => {
    fc.assert(
      fc.property(carbon, heat, fc.double({ min: 0.1, max: 2000, noNaN: true }), (c, t, mm) => {
        expect(coldFromHotMm(hotFromColdMm(mm, c, t), c, t)).toBeCloseTo(mm, 9);
      }),
    );
  });

  it("hot volume times hot density is the cold mass", () => {
    fc.assert(
      fc.property(carbon, heat, (c, t) => {
        const cold = densityGPerMm3(c) * 10 * 20 * 30;
        const hot = [10, 20, 30].map((mm) => hotFromColdMm(mm, c, t)).reduce((a, b) => a * b, 1);
        expect(hot * densityGPerMm3(c, t)).toBeCloseTo(cold, 9);
      }),
    );
  });

  it("growth is a band, zero at 20 °C, unbroken, never far from 2 % at most", () => {
    expect(Math.abs(linearExpansion(1.5, 20).likely)).toBeLessThan(1e-12);
    fc.assert(
      fc.property(carbon, heat, (c, t) => {
        const at = linearExpansion(c, t);
        ordered(at);
        expect(at.likely).toBeLessThan(0.023);
        const next = linearExpansion(c, t + 0.01);
        expect(Math.abs(next.likely - at.likely)).toBeLessThan(3e-6);
      }),
    );
  });

  it("more carbon is lighter, by less than 0.5 % from 0.8 to 1.8 %", () => {
    fc.assert(
      fc.property(carbon, (c) => {
        expect(densityGPerMm3(c)).toBeGreaterThan(densityGPerMm3(c + 0.05));
      }),
    );
    expect(densityGPerMm3(0.8) / densityGPerMm3(1.8)).toBeLessThan(1.005);
  });

  it("the lines stand in order and dissolved carbon is Acm turned round", () => {
    fc.assert(
      fc.property(carbon, (c) => {
        expect(a1C()).toBeLessThanOrEqual(acmC(c));
        expect(acmC(c)).toBeLessThanOrEqual(solidusC(c) + 1);
        expect(solidusC(c)).toBeLessThan(liquidusC(c));
        expect(carbonInAusteniteAtPct(acmC(c))).toBeCloseTo(c, 2);
        expect(cementiteFraction(c, acmC(c) + 1)).toBeLessThan(1e-3);
        expect(cementiteFraction(c, 700)).toBeCloseTo((c - 0.02) / (6.69 - 0.02), 9);
      }),
    );
  });

  it("carbon is conserved between austenite and cementite", () => {
    fc.assert(
      fc.property(carbon, forge, (c, t) => {
        const f = cementiteFraction(c, t);
        const matrix = f > 0 ? carbonInAusteniteAtPct(t) : c;
        expect(f * 6.69 + (1 - f) * matrix).toBeCloseTo(c, 9);
      }),
    );
  });

  it("a window always has room, its band lies inside, and caution only lowers it", () => {
    const pct = fc.option(fc.double({ min: 0, max: 0.3, noNaN: true }), { nil: undefined });
    fc.assert(
      fc.property(carbon, pct, pct, (c, p, s) => {
        const steel = {
          carbonPct: c,
          ...(p === undefined ? {} : { pPct: p }),
          ...(s === undefined ? {} : { sPct: s }),
        };
        const cast = forgingWindow(steel);
        const spread = forgingWindow({ ...steel, homogenised: true });
        for (const w of [cast, spread]) {
          expect(w.ceilingC - w.floorC).toBeGreaterThan(30);
          expect(w.workFromC).toBeGreaterThanOrEqual(w.floorC);
          expect(w.workToC).toBeLessThanOrEqual(w.ceilingC);
          expect(w.workFromC).toBeLessThanOrEqual(w.workToC);
        }
        expect(cast.ceilingC).toBeLessThanOrEqual(spread.ceilingC);
      }),
    );
  });

  it("hotter is softer, faster is harder", () => {
    fc.assert(
      fc.property(carbon, forge, (c, t) => {
        const at = (tempC: number, strainRatePerS: number) =>
          flowStressMPa({ carbonPct: c, tempC, strain: 0.3, strainRatePerS });
        ordered(at(t, 1));
        expect(at(t + 20, 1).likely).toBeLessThan(at(t, 1).likely);
        expect(at(t, 10).likely).toBeGreaterThan(at(t, 1).likely);
      }),
    );
  });

  it("heat content is the integral of specific heat", () => {
    for (const [from, to] of [
      [20, 590],
      [600, 700],
      [700, 734],
      [735, 760],
      [760, 899],
      [900, 950],
      [900, 1200],
      [20, 1200],
    ] as const) {
      const steps = 200_000;
      let sum = 0;
      for (let i = 0; i < steps; i += 1) {
        sum += heatCapacityJPerKgK(from + ((to - from) * (i + 0.5)) / steps);
      }
      const integral = (sum * (to - from)) / steps;
      expect(heatContentJPerKg(to) - heatContentJPerKg(from)).toBeCloseTo(integral, -1);
    }
    expect(conductivityWPerMK(1000)).toBe(27.3);
  });

  it("scale and soft skin grow with time and heat, and both are bands", () => {
    fc.assert(
      fc.property(carbon, forge, minutes, (c, t, m) => {
        const soak = { tempC: t, minutes: m, carbonPct: c };
        ordered(scaleLossMm(soak));
        ordered(decarbDepthMm(soak));
        expect(scaleLossMm({ ...soak, minutes: m + 1 }).likely).toBeGreaterThan(
          scaleLossMm(soak).likely,
        );
        ordered(decarbLeftMm([soak, soak], scaleLossMm(soak)));
        const once = decarbLeftMm([{ ...soak, minutes: 2 * m }], { low: 0, likely: 0, high: 0 });
        const twice = decarbLeftMm([soak, soak], { low: 0, likely: 0, high: 0 });
        expect(twice.likely).toBeCloseTo(once.likely, 9);
      }),
    );
    expect(scaleLossMm({ tempC: 950, minutes: 10, atmosphereFactor: 0.5 }).likely).toBeCloseTo(
      0.041,
      3,
    );
  });

  it("spacing and cooling rate turn into each other", () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 500, noNaN: true }), (rate) => {
        expect(coolingForSpacingKPerMin(cellSpacingUm(rate).likely) / rate).toBeCloseTo(1, 9);
        ordered(cellSpacingUm(rate));
      }),
    );
  });

  it("segregation only fades, sooner when hotter and when forged thinner", () => {
    const micron = fc.double({ min: 20, max: 800, noNaN: true });
    fc.assert(
      fc.property(micron, fc.double({ min: 900, max: 1150, noNaN: true }), (spacingUm, tempC) => {
        const soak = { tempC, minutes: 10, spacingUm };
        const once = segregationLeft([soak]);
        ordered(once);
        expect(segregationLeft([soak, soak]).likely).toBeCloseTo(once.likely ** 2, 12);
        const time = homogenisingMinutes(spacingUm, tempC);
        ordered(time);
        expect(homogenisingMinutes(spacingUm / 4, tempC).likely / time.likely).toBeCloseTo(
          1 / 16,
          6,
        );
        expect(homogenisingMinutes(spacingUm, tempC + 50).likely).toBeLessThan(time.likely);
        const done = segregationLeft([
          { tempC, spacingUm, minutes: Math.min(time.likely, 100_000) },
        ]);
        expect(done.likely).toBeGreaterThanOrEqual(HOMOGENISED_BELOW - 1e-9);
      }),
    );
    expect(homogenisingMinutes(380, 1100).likely / 60).toBeCloseTo(15, 0);
  });
});
