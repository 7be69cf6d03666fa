/** The cooling against a general-purpose ODE library (odex), which integrates the same balance of heat in time. */
import { Solver } from "odex";
import { describe, expect, it } from "vitest";
import { radiationOnlyS, volumeOverSurfaceMm, workingTime } from "../../src/forging/index.js";
import { densityGPerMm3, EMISSIVITY, heatCapacityJPerKgK } from "../../src/steel/index.js";

const SIGMA = 5.670374419e-8;

/** Seconds until a body falls to a temperature: dT/dt = −q(T)/(ρ c(T) V/A), found by halving on the end time. */
function secondsByOde(
  startC: number,
  floorC: number,
  volumeOverSurface: number,
  kgPerM3: number,
  heat: (tempC: number) => number,
  flow: (tempC: number) => number,
): number {
  const tempAt = (seconds: number): number => {
    const solver = new Solver(1);
    solver.absoluteTolerance = 1e-8;
    solver.relativeTolerance = 1e-8;
    const fall = (_t: number, y: number[]): number[] => {
      const tempC = y[0] ?? startC;
      return [-flow(tempC) / (kgPerM3 * heat(tempC) * (volumeOverSurface / 1000))];
    };
    return solver.solve(fall, 0, [startC], seconds).y[0] ?? Number.NaN;
  };
  let [low, high] = [1, 400];
  for (let step = 0; step < 30; step++) {
    const middle = (low + high) / 2;
    if (tempAt(middle) > floorC) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
const radiation = (emissivity: number, air: number) => (tempC: number) =>
  emissivity * SIGMA * ((tempC + 273.15) ** 4 - 293.15 ** 4) + air * (tempC - 20);

describe("seconds to the floor", () => {
  it.each([
    [12, 30, 950, 760],
    [20, 20, 1000, 800],
    [6, 20, 930, 755],
    [40, 60, 1050, 850],
  ])("%d by %d mm, %d to %d °C", (thicknessMm, widthMm, startC, floorC) => {
    const ours = workingTime({
      thicknessMm,
      widthMm,
      startC,
      floorC,
      carbonPct: 1.5,
      dieContact: false,
    }).likely;
    const kgPerM3 = densityGPerMm3(1.5, (startC + floorC) / 2) * 1e6;
    const ode = secondsByOde(
      startC,
      floorC,
      volumeOverSurfaceMm({ thicknessMm, widthMm }),
      kgPerM3,
      heatCapacityJPerKgK,
      radiation(EMISSIVITY.likely, 10),
    );
    // Trapezoids of 5 K against steps chosen by the solver, across the kink at 900 °C.
    expect(Math.abs(ours / ode - 1)).toBeLessThan(0.005);
  });

  it("meets the closed form when only radiation and constant heat are given", () => {
    const given = {
      volumeOverSurfaceMm: 5,
      densityKgPerM3: 7600,
      heatJPerKgK: 650,
      emissivity: 0.8,
      startC: 1050,
      endC: 800,
      surroundingsC: 20,
    };
    const ode = secondsByOde(1050, 800, 5, 7600, () => 650, radiation(0.8, 0));
    expect(radiationOnlyS(given)).toBeCloseTo(ode, 3);
  });
});
