/** What must hold of every plan, on ten thousand random ones. */
import { describe, expect, it } from "vitest";
import { type Plan, planForging, planToContract, type Stage } from "../../src/forging/index.js";
import { type Piece, pieceVolumeMm3 } from "../../src/shape/index.js";
import { densityGPerMm3 } from "../../src/steel/index.js";
import { randomRequest, seeded } from "./random-request.js";

const PLANS = 10_000;

function notFinite(value: unknown, path: string): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${path} is ${value}`];
  if (value === null) return [`${path} is null`];
  if (typeof value !== "object") return [];
  return Object.entries(value).flatMap(([key, each]) => notFinite(each, `${path}.${key}`));
}

const lossOf = ({ losses }: Stage): number =>
  losses.pipeG + losses.scaleG + losses.trimG + losses.grindG + losses.keptG;

function faults(plan: Plan): string[] {
  const density = densityGPerMm3(plan.ingot.carbonPct);
  return plan.routes.flatMap((route) => {
    const found: string[] = [];
    const name = `${route.route}${route.split ? "+split" : ""}`;
    let massG = plan.ingot.massG;
    for (const stage of route.stages) {
      const gap = massG - lossOf(stage) - stage.massG;
      if (Math.abs(gap) > 1e-6 * massG) found.push(`${name} ${stage.name}: mass off by ${gap} g`);
      if (Object.values(stage.losses).some((each) => each < -1e-9)) {
        found.push(`${name} ${stage.name}: a loss below zero`);
      }
      if (stage.cold.shape !== "blade") {
        const volume = pieceVolumeMm3(stage.cold as Piece);
        if (Math.abs(volume * density - stage.massG) > 1e-6 * stage.massG + 1e-9) {
          found.push(`${name} ${stage.name}: ${volume * density} g of volume, ${stage.massG} g`);
        }
      }
      const { pipeLies } = stage;
      if (pipeLies.fromMm > pipeLies.toMm + 1e-9)
        found.push(`${name} ${stage.name}: pipe runs back`);
      massG = stage.massG;
    }
    const { pipeG, scaleG, trimG, grindG } = route.loss;
    const balance = plan.ingot.massG - pipeG - scaleG - trimG - grindG - route.usableG.likely;
    if (Math.abs(balance) > 1e-6 * plan.ingot.massG)
      found.push(`${name}: budget off by ${balance} g`);
    const spare = route.usableG.likely - route.neededG.likely - route.spareG.likely;
    if (Math.abs(spare) > 1e-6) found.push(`${name}: spare off by ${spare} g`);
    for (const range of [route.usableG, route.neededG, route.spareG, route.heats]) {
      if (!(range.low <= range.likely && range.likely <= range.high)) found.push(`${name}: range`);
    }
    if (route.fits && route.spareG.likely < -0.005 * plan.ingot.massG) {
      found.push(`${name}: fits with ${route.spareG.likely} g to spare`);
    }
    return found;
  });
}

describe("ten thousand random plans", () => {
  it("conserve mass and volume at every stage, with no figure that is not a number", () => {
    const next = seeded(20_260_101);
    const found: string[] = [];
    let planned = 0;
    for (let index = 0; index < PLANS && found.length < 10; index++) {
      const request = randomRequest(next);
      const plan = planForging(request);
      if (plan.refused) continue;
      planned++;
      const bad = [...notFinite(plan, "plan"), ...faults(plan)];
      if (bad.length > 0) found.push(`${bad[0]} in ${JSON.stringify(request)}`);
      if (index % 50 === 0) found.push(...notFinite(planToContract(plan), "json"));
    }
    expect(found).toEqual([]);
    expect(planned).toBeGreaterThan(PLANS * 0.7);
  });

  it("show hot sizes that are the cold ones grown by one and the same factor", () => {
    const next = seeded(77);
    for (let index = 0; index < 300; index++) {
      const plan = planForging(randomRequest(next));
      if (plan.refused) continue;
      for (const stage of plan.routes.flatMap(({ stages }) => stages)) {
        const cold = stage.cold as unknown as Record<string, number | string>;
        const hot = stage.hot as unknown as Record<string, number | string>;
        const ratios = Object.keys(cold)
          .filter((key) => typeof cold[key] === "number")
          .map((key) => (hot[key] as number) / (cold[key] as number));
        expect(Math.max(...ratios) - Math.min(...ratios)).toBeLessThan(1e-9);
        // 0.8 to 2.1 %: the widest of the published growth curves between 750 and 1150 °C. [S03], [S04], [S05]
        expect(ratios[0]).toBeGreaterThan(1.008);
        expect(ratios[0]).toBeLessThan(1.021);
      }
    }
  });
});

describe("more ingot never gives less blade", () => {
  const next = seeded(4242);
  const grow = (request: ReturnType<typeof randomRequest>, factor: number) => {
    const { ingot } = request;
    if (ingot.massG !== undefined) {
      return { ...request, ingot: { ...ingot, massG: ingot.massG * factor } };
    }
    const cube = Math.cbrt(factor);
    const scaled = Object.fromEntries(
      Object.entries(ingot).map(([key, value]) => [
        key,
        typeof value === "number" && key.endsWith("Mm") ? value * cube : value,
      ]),
    );
    return { ...request, ingot: scaled as typeof ingot };
  };
  it("by any route, in 1,500 random pairs", () => {
    const found: string[] = [];
    for (let index = 0; index < 1500; index++) {
      const request = { ...randomRequest(next), split: false };
      const factor = 1 + next() * (next() < 0.5 ? 0.02 : 1);
      const less = planForging(request);
      const more = planForging(grow(request, factor));
      if (less.refused || more.refused) continue;
      for (const route of less.routes) {
        const same = more.routes.find((each) => each.route === route.route);
        // A piece too narrow for the goal gives a narrower blade, which is longer: only like is compared.
        const like =
          route.reachable.widthMm === same?.reachable.widthMm &&
          route.reachable.thicknessMm === same.reachable.thicknessMm;
        if (same && like && same.largestBladeMm < route.largestBladeMm - 0.02) {
          found.push(
            `${route.route} ×${factor}: ${route.largestBladeMm} → ${same.largestBladeMm} ${JSON.stringify(request)}`,
          );
        }
      }
    }
    expect(found.slice(0, 3)).toEqual([]);
  });
});

describe("a plan redrawn from its own predicted sizes", () => {
  it("is the same plan, stage by stage", () => {
    const next = seeded(99);
    const found: string[] = [];
    let checked = 0;
    for (let index = 0; index < 400; index++) {
      const request = randomRequest(next);
      const plan = planForging(request);
      if (plan.refused) continue;
      for (const route of plan.routes) {
        if (!route.fits) continue;
        for (const [at, stage] of route.stages.entries()) {
          if (stage.cold.shape === "blade") continue;
          const again = planForging({
            ...request,
            route: route.route,
            split: route.split,
            now: { piece: stage.cold, massG: stage.massG, heatsDone: at, stage: stage.name },
          });
          if (again.refused) {
            found.push(`refused ${again.field} ${JSON.stringify(request)}`);
            continue;
          }
          const redrawn = again.routes.find(({ split }) => split === route.split);
          const rest = route.stages.slice(at + 1);
          checked++;
          for (const [index2, expected] of rest.entries()) {
            const got = redrawn?.stages[index2];
            const off = got === undefined ? 1 : Math.abs(got.massG / expected.massG - 1);
            if (got?.name !== expected.name || off > 0.004) {
              found.push(
                `${route.route}${route.split ? "+split" : ""} after ${stage.name}: ${expected.name} ${expected.massG} g, got ${got?.name} ${got?.massG} g`,
              );
              break;
            }
          }
        }
      }
    }
    expect(found.slice(0, 5)).toEqual([]);
    expect(checked).toBeGreaterThan(500);
  });

  it("finds its place from the sizes alone", () => {
    const request = {
      ingot: { shape: "bowl", diameterMm: 76, heightMm: 36, carbonPct: 1.5 },
      blade: { lengthMm: 180, widthMm: 30, thicknessMm: 4 },
      shop: { hammerKg: 40, welder: true },
    } as const;
    for (const route of ["spine", "face", "end", "ring"] as const) {
      const plan = planForging({ ...request, route, split: false });
      if (plan.refused) throw new Error(plan.what);
      const stages = plan.routes[0]?.stages ?? [];
      for (const [at, stage] of stages.entries()) {
        if (stage.cold.shape === "blade") continue;
        const again = planForging({
          ...request,
          route,
          split: false,
          now: { piece: stage.cold, massG: stage.massG, heatsDone: 1 },
        });
        if (again.refused) throw new Error(again.what);
        expect(
          again.routes[0]?.stages.map(({ name }) => name),
          `${route} after ${stage.name}`,
        ).toEqual(stages.slice(at + 1).map(({ name }) => name));
      }
    }
  });
});

describe("a cube-like puck", () => {
  const sideMm = 60;
  const plan = planForging({
    ingot: {
      shape: "puck",
      diameterMm: (2 * sideMm) / Math.sqrt(Math.PI),
      heightMm: sideMm,
      carbonPct: 1.5,
    },
    blade: { lengthMm: 200, widthMm: 30, thicknessMm: 4 },
    shop: { hammerKg: 50, welder: true },
    split: false,
  });
  if (plan.refused) throw new Error(plan.what);
  const of = (name: string) => plan.routes.find(({ route }) => route === name);

  it("gives the same block and bar whether the pipe goes to the spine or to a face", () => {
    for (const name of ["block", "bar", "preform"]) {
      const spine = of("spine")?.stages.find((stage) => stage.name === name);
      const face = of("face")?.stages.find((stage) => stage.name === name);
      if (spine === undefined || face === undefined) throw new Error("no stage");
      // The first heat's scale comes off the height alone: a hundredth of a mm between the two.
      expect(spine.massG / face.massG).toBeCloseTo(1, 4);
      for (const [key, value] of Object.entries(spine.cold)) {
        if (typeof value !== "number") continue;
        const other = (face.cold as unknown as Record<string, number>)[key] ?? 0;
        expect(value / other).toBeCloseTo(1, 3);
      }
    }
  });
  it("has the same block on its way to the end route, before anything is cut", () => {
    const end = of("end")?.stages.find(({ name }) => name === "block")?.cold;
    const spine = of("spine")?.stages.find(({ name }) => name === "block")?.cold;
    if (end?.shape !== "block" || spine?.shape !== "block") throw new Error("no block");
    expect(end.thicknessMm).toBeCloseTo(spine.thicknessMm, 6);
    expect(end.widthMm).toBeCloseTo(spine.widthMm, 6);
  });
  it("has as many growth cells through the blade by each of the three", () => {
    const cells = ["spine", "face", "end"].map((name) => of(name)?.pattern.cellsThickness ?? 0);
    expect(Math.max(...cells) - Math.min(...cells)).toBeLessThan(1e-6);
  });
});
