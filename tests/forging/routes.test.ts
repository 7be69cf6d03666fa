/** Facts of the trade that every plan must show: common practice, no source. And refusals, cracks, cuts. */
import { describe, expect, it } from "vitest";
import {
  crackAdvice,
  cutAdvice,
  forceForBite,
  type Plan,
  type PlanRequest,
  planForging,
  reasonText,
  soakTime,
} from "../../src/forging/index.js";

const INGOT = { shape: "bowl", diameterMm: 76, heightMm: 36, carbonPct: 1.5 } as const;
const BLADE = { edge: "single", lengthMm: 180, widthMm: 30, thicknessMm: 4 } as const;
const SHOP = { hammerKg: 50, welder: true } as const;

function planned(request: Partial<PlanRequest> = {}): Plan {
  const plan = planForging({ ingot: INGOT, blade: BLADE, shop: SHOP, ...request });
  if (plan.refused) throw new Error(plan.what);
  return plan;
}
const of = (plan: Plan, name: string) => {
  const found = plan.routes.find(({ route, split }) => route === name && !split);
  if (!found) throw new Error(`no route ${name}`);
  return found;
};
const codes = (list: readonly { readonly code: string }[]) => list.map(({ code }) => code);

describe("routes, common practice without a source", () => {
  it("spine comes first for a single edge and puts the sound side at the edge", () => {
    const first = planned().routes[0];
    expect(first?.route).toBe("spine");
    expect(codes(first?.why ?? [])).toContain("edge-from-sound-side");
  });
  it("face comes first for a double edge and warns of cracks in the middle of the face", () => {
    const first = planned({ blade: { ...BLADE, edge: "double" } }).routes[0];
    expect(first?.route).toBe("face");
    expect(codes(first?.against ?? [])).toContain("face-cracks-in-middle");
  });
  it("end cuts off 30 to 40 % of the bar", () => {
    const end = of(planned(), "end");
    const bar = end.stages.find(({ name }) => name === "bar");
    const cut = end.stages.find(({ name }) => name === "cut");
    const share = (cut?.losses.pipeG ?? 0) / (bar?.massG ?? 1);
    expect(share).toBeGreaterThanOrEqual(0.3);
    expect(share).toBeLessThanOrEqual(0.4);
  });
  it("end needs a welded handle and a press or power hammer", () => {
    expect(of(planned({ shop: { hammerKg: 50, welder: false } }), "end").feasible).toBe(false);
    expect(of(planned({ shop: { handHammer: true, welder: true } }), "end").feasible).toBe(false);
    expect(of(planned(), "end").feasible).toBe(true);
  });
  it("spine and face begin with a disc held by its rim", () => {
    for (const name of ["spine", "face"]) {
      const first = of(planned(), name).stages[0];
      expect(first?.name).toBe("flatten");
      expect(first?.orient.code).toBe("hold-by-rim");
    }
  });
  it("squeezing across the widest side gives the densest pattern", () => {
    const plan = planned();
    expect(of(plan, "spine").pattern.cellsThickness).toBeGreaterThan(
      of(plan, "face").pattern.cellsThickness * 1.5,
    );
  });
  it("a press too small for the narrowest bite is told so", () => {
    const plan = planned({ shop: { pressKn: 3, welder: true } });
    expect(plan.routes.every(({ feasible }) => !feasible)).toBe(true);
    expect(plan.routes.flatMap(({ against }) => codes(against))).toContain("press-too-small");
  });
  it("never ranks a route that cannot be done before one that can", () => {
    const order = planned({ shop: { hammerKg: 50, welder: false } }).routes;
    const firstNot = order.findIndex(({ feasible }) => !feasible);
    expect(order.slice(firstNot).every(({ feasible }) => !feasible)).toBe(true);
  });
  it("the same request gives the same plan", () => {
    expect(JSON.stringify(planned())).toBe(JSON.stringify(planned()));
  });
});

describe("a piece that went off plan", () => {
  const now = (thicknessMm: number, widthMm: number, lengthMm: number) =>
    of(
      planned({
        route: "spine",
        now: { piece: { shape: "bar", thicknessMm, widthMm, lengthMm }, heatsDone: 9 },
      }),
      "spine",
    );
  it("too thin: no longer fits, and says what does", () => {
    const route = now(3.2, 22, 300);
    expect(route.fits).toBe(false);
    expect(codes(route.against)).toContain("too-thin");
    expect(route.reachable.thicknessMm).toBeLessThan(BLADE.thicknessMm);
  });
  it("too narrow: says so", () => {
    const route = now(5, 11, 400);
    expect(route.fits).toBe(false);
    expect(codes(route.against)).toContain("too-narrow");
    expect(route.reachable.widthMm).toBeLessThan(BLADE.widthMm);
  });
  it("a lost end: a shorter blade", () => {
    const whole = now(8, 20, 300);
    const short = now(8, 20, 60);
    expect(short.largestBladeMm).toBeLessThan(whole.largestBladeMm);
    expect(short.fits).toBe(false);
  });
});

describe("refusals name the field", () => {
  it.each([
    [{ ingot: {} }, "ingot.massG"],
    [{ ingot: { massG: Number.NaN } }, "ingot.massG"],
    [{ ingot: { massG: -5 } }, "ingot.massG"],
    [{ ingot: { ...INGOT, massG: 5000 } }, "ingot.massG"],
    [{ ingot: INGOT, blade: { thicknessMm: 20, widthMm: 10 } }, "blade.thicknessMm"],
    [{ ingot: INGOT, shop: { pressKn: 0 } }, "shop.pressKn"],
  ] as [PlanRequest, string][])("%j", (request, field) => {
    const answer = planForging(request);
    expect(answer.refused && answer.field).toBe(field);
  });
});

describe("questions between heats", () => {
  it("a cut takes its share", () => {
    const cut = cutAdvice({
      piece: { shape: "bar", thicknessMm: 10, widthMm: 30, lengthMm: 200 },
      cutMm: 30,
      massG: 400,
    });
    expect(cut.massG).toBeCloseTo(60, 9);
    expect(cut.leftMm).toBeCloseTo(170, 9);
  });
  it("force grows with the bite and shrinks with heat", () => {
    const bite = { thicknessMm: 22, widthMm: 36, biteMm: 20, tempC: 950, carbonPct: 1.5 };
    const force = forceForBite(bite).likely;
    expect(forceForBite({ ...bite, biteMm: 40 }).likely).toBeGreaterThan(force * 1.5);
    expect(forceForBite({ ...bite, tempC: 850 }).likely).toBeGreaterThan(force);
    expect(forceForBite(bite, force / 2).biteInReachMm).toBeLessThan(20);
    expect(forceForBite(bite, 1).biteInReachMm).toBeUndefined();
  });
  it("thick work soaks longer", () => {
    const soak = (side: number) =>
      soakTime({ thicknessMm: side, widthMm: side, fireC: 1000, carbonPct: 1.5 }).likely;
    expect(soak(40)).toBeGreaterThan(soak(20) * 1.8);
  });
  it("a crack in the middle of the spine of the bar is where the pipe is; one at the edge is not", () => {
    const piece = { shape: "bar", thicknessMm: 10, widthMm: 24, lengthMm: 260 } as const;
    const plan = planned({ route: "spine", now: { piece, heatsDone: 8 } });
    const ask = (place: "spine" | "edge", positionMm: number, depthMm: number) =>
      crackAdvice({
        crack: { place, positionMm, depthMm, lengthMm: 8 },
        plan,
        route: plan.routes[0],
        piece,
      });
    expect(ask("spine", 130, 2)?.inPipeZone).toBe(true);
    const edge = ask("edge", 200, 2);
    expect(edge?.inPipeZone).toBe(false);
    expect(edge?.checkFirst).toBe("bite");
    expect(ask("edge", 200, 20)?.verdict).toBe("stop");
    expect(edge?.grooveG).toBeGreaterThan(0);
  });
  it("every reason of every plan reads as a short sentence in both units", () => {
    for (const route of planned({ shop: { pressKn: 80 } }).routes) {
      for (const reason of [
        ...route.why,
        ...route.against,
        ...route.stages.flatMap(({ watch }) => watch),
      ]) {
        expect(reasonText(reason)).toMatch(/^\S.{5,119}$/);
        expect(reasonText(reason, { length: "inch", temperature: "f" })).not.toMatch(/\d mm|°C/);
      }
    }
  });
});
