import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  CARBON_RECOVERY,
  type ChargeItem,
  COOLING_RATES,
  COOLING_WAYS,
  carbonOfMelt,
  cellsOfMelt,
  chargePlans,
  coolingKPerMin,
  coolingWay,
  crucibleNeededCm3,
  liquidDensityGPerCm3,
  MATERIALS,
  MELT_YIELD,
  materialNamed,
  meltHeat,
  meltYield,
  OVER_LIQUIDUS_K,
  ownCoolingKPerMin,
  rateFromFreezingTime,
  recoveryFrom,
} from "../../src/melt/index.js";

const stock = [
  { what: "bar iron" },
  { what: "cast iron", carbonPct: 3.8 },
  { what: "charcoal" },
  { what: "graphite" },
];

describe("carbon balance", () => {
  it("counts carbon and iron once: the parts add up to the melt", () => {
    const mass = fc.double({ min: 1, max: 2000, noNaN: true });
    fc.assert(
      fc.property(mass, mass, fc.double({ min: 0, max: 30, noNaN: true }), (iron, cast, coal) => {
        const charge: readonly ChargeItem[] = [
          { what: "bar iron", massG: iron, carbonPct: 0.05 },
          { what: "cast iron", massG: cast, carbonPct: 4 },
          { what: "charcoal", massG: coal, carbonPct: 75 },
        ];
        const balance = carbonOfMelt(charge);
        const arrived = (iron * 0.0005 + cast * 0.04) * 0.98 + coal * 0.75 * 0.8;
        const metal = iron * 0.9995 + cast * 0.96;
        expect(balance.metalG).toBeCloseTo(metal + arrived, 6);
        expect(balance.carbonPct.likely).toBeCloseTo((100 * arrived) / (metal + arrived), 9);
        expect(balance.carbonPct.low).toBeLessThanOrEqual(balance.carbonPct.likely);
        expect(balance.carbonPct.high).toBeGreaterThanOrEqual(balance.carbonPct.likely);
      }),
    );
  });

  it("is surer of cast iron than of charcoal, and of a shut lid than of a loose one", () => {
    const iron = { what: "bar iron", massG: 1000, carbonPct: 0.05 };
    const width = (item: ChargeItem, lid: "sealed" | "loose" = "sealed") => {
      const { low, high } = carbonOfMelt([iron, item], { lid }).carbonPct;
      return high - low;
    };
    const cast = { what: "cast iron", massG: 580, carbonPct: 4 };
    const coal = { what: "charcoal", massG: 24.5, carbonPct: 75 };
    expect(width(cast)).toBeLessThan(width(coal) / 2);
    expect(carbonOfMelt([iron, coal], { lid: "loose" }).carbonPct.likely).toBeLessThan(
      carbonOfMelt([iron, coal], { lid: "sealed" }).carbonPct.likely - 0.4,
    );
  });

  it("lets rust burn carbon and give iron, and is unsure of it", () => {
    const clean = [
      { what: "bar iron", massG: 1000, carbonPct: 0.05 },
      { what: "graphite", massG: 20, carbonPct: 98 },
    ];
    const rusty = carbonOfMelt([...clean, { what: "rust", massG: 20 }]);
    expect(carbonOfMelt(clean).carbonPct.likely - rusty.carbonPct.likely).toBeGreaterThan(0.4);
    expect(rusty.metalG).toBeGreaterThan(carbonOfMelt(clean).metalG);
    expect(rusty.notes).toContain("oxide-unsure");
    expect(rusty.carbonPct.high).toBeGreaterThanOrEqual(
      carbonOfMelt(clean).carbonPct.likely - 0.02,
    );
  });

  it("takes an unknown thing by its stated carbon, else says so and leaves it out", () => {
    const saw = carbonOfMelt([{ what: "old saw", massG: 500, carbonPct: 0.8 }]);
    expect(saw.unknown).toEqual([]);
    expect(saw.carbonPct.likely).toBeCloseTo(0.784, 2);
    const lost = carbonOfMelt([
      { what: "moon dust", massG: 500 },
      { what: "iron", massG: 500 },
    ]);
    expect(lost.unknown).toEqual(["moon dust"]);
    expect(lost.notes).toContain("material-unknown");
    expect(lost.metalG).toBeLessThan(501);
    expect(carbonOfMelt([]).notes).toContain("no-metal");
    expect(carbonOfMelt([{ what: "cast iron", massG: 1 }]).notes).toContain("cast-iron");
    expect(() => carbonOfMelt([{ what: "iron", massG: -1 }])).toThrow(/massG/);
  });

  it("learns the recovery that an assay shows", () => {
    const charge = [
      { what: "bar iron", massG: 1000, carbonPct: 0.05 },
      { what: "charcoal", massG: 24.5, carbonPct: 75 },
    ];
    for (const share of [0.4, 0.65, 0.9]) {
      const range = { low: share, likely: share, high: share };
      const pct = carbonOfMelt(charge, { recovery: range }).carbonPct.likely;
      expect(recoveryFrom(charge, pct)).toBeCloseTo(share, 6);
    }
    expect(recoveryFrom(charge, 5)).toBeUndefined();
    expect(recoveryFrom([{ what: "bar iron", massG: 1000 }], 1)).toBeUndefined();
  });

  it("knows the shop's words", () => {
    expect(materialNamed("Pig-iron")?.name).toBe("cast iron");
    expect(materialNamed("constructor")).toBeUndefined();
    expect(materialNamed("charcoal", "loose")?.recovery.likely).toBe(0.5);
  });
});

describe("charge for a wanted ingot", () => {
  it("its own balance gives back the wanted carbon and mass, for every carbon bringer", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.8, max: 2, noNaN: true }),
        fc.double({ min: 100, max: 3000, noNaN: true }),
        fc.constantFrom("sealed" as const, "loose" as const),
        (targetCarbonPct, ingotG, lid) => {
          const plans = chargePlans({ ingotG, targetCarbonPct, onHand: stock, lid });
          expect(plans.map((plan) => plan.carburiser).sort()).toEqual([
            "cast iron",
            "charcoal",
            "graphite",
          ]);
          for (const plan of plans) {
            expect(plan.carbonPct.likely).toBeCloseTo(targetCarbonPct, 9);
            expect(plan.ingotG.likely).toBeCloseTo(ingotG, 6);
            expect(plan.holdC.low).toBeGreaterThan(plan.liquidusC);
          }
          expect(plans[0]?.carburiser).toBe("cast iron");
        },
      ),
    );
  });

  it("says when the shop has too little, and gives nothing when it cannot be done", () => {
    const little = chargePlans({
      ingotG: 600,
      targetCarbonPct: 1.5,
      onHand: [{ what: "bar iron" }, { what: "charcoal", availableG: 5 }],
    });
    expect(little[0]?.notes).toContain("not-enough-on-hand");
    expect(
      chargePlans({ ingotG: 600, targetCarbonPct: 1.5, onHand: [{ what: "bar iron" }] }),
    ).toEqual([]);
    expect(
      chargePlans({ ingotG: 600, targetCarbonPct: 1.5, onHand: [{ what: "charcoal" }] }),
    ).toEqual([]);
    const tooRich = [{ what: "cast iron" }, { what: "charcoal" }];
    expect(chargePlans({ ingotG: 600, targetCarbonPct: 1.5, onHand: tooRich })).toEqual([]);
  });

  it("uses the shop's own recovery", () => {
    const wish = {
      ingotG: 600,
      targetCarbonPct: 1.5,
      onHand: [{ what: "bar iron" }, { what: "charcoal" }],
    };
    const coal = (recovery?: number) =>
      chargePlans(
        recovery === undefined
          ? wish
          : { ...wish, recovery: { low: recovery, likely: recovery, high: recovery } },
      )[0]?.items[1]?.massG ?? 0;
    expect(coal(0.4) / coal()).toBeCloseTo(2, 9);
  });
});

describe("what stands on the page", () => {
  const page = readFileSync(new URL("../../docs/melt.md", import.meta.url), "utf8");

  it("the cooling table is the code's", () => {
    const mm = (um: number) => (um / 1000).toFixed(2);
    for (const way of COOLING_WAYS) {
      const { low, likely, high } = COOLING_RATES[way];
      const cells = cellsOfMelt(COOLING_RATES[way]);
      expect(page).toContain(
        `| ${way} | ${low} – ${likely} – ${high} | ${mm(cells.low)} – ${mm(cells.likely)} – ${mm(cells.high)} |`,
      );
    }
  });

  it("so are the usual figures of materials, recovery and yield", () => {
    const three = (
      { low, likely, high }: { low: number; likely: number; high: number },
      times = 1,
    ) => [low, likely, high].map((x) => Number((x * times).toFixed(2))).join(" – ");
    expect(page).toContain(`Charcoal is ${three(MATERIALS.charcoal.carbonPct)} % carbon`);
    expect(page.replace(/\s+/g, " ")).toContain(
      `cast iron ${three(MATERIALS["cast iron"].carbonPct)} %`,
    );
    expect(page).toContain(`bar iron ${three(MATERIALS["bar iron"].carbonPct)} %`);
    expect(page).toContain(`${three(MATERIALS["bar iron"].recovery, 100)} % of its carbon`);
    expect(page).toContain(`${three(CARBON_RECOVERY.sealed, 100)} % under a sealed lid`);
    expect(page).toContain(`${three(CARBON_RECOVERY.loose, 100)} % under a loose one`);
    expect(page).toContain(`usually ${three(MELT_YIELD)} (common practice`);
    expect(page).toContain(`${three(OVER_LIQUIDUS_K)} K over it`);
  });
});

describe("heat, room, freezing, yield", () => {
  it("holds over the liquidus, lower for more carbon", () => {
    expect(meltHeat(1.5).holdC.likely).toBeCloseTo(1485, 0);
    expect(meltHeat(1.8).liquidusC).toBeLessThan(meltHeat(1.2).liquidusC);
    expect(liquidDensityGPerCm3(1.5, 1500)).toBeLessThan(liquidDensityGPerCm3(1.5, 1450));
  });

  it("a melt needs its own volume and its heap more", () => {
    const room = crucibleNeededCm3(
      [
        { what: "bar iron", massG: 1000 },
        { what: "charcoal", massG: 25 },
      ],
      1.5,
    );
    expect(room.melt).toBeCloseTo(1000 / liquidDensityGPerCm3(1.5, 1484.7), 1);
    expect(room.charge).toBeGreaterThan(room.melt * 2);
  });

  it("reads a rate from two readings or from the freezing time", () => {
    expect(coolingKPerMin(1450, 1250, 40)).toBe(5);
    expect(rateFromFreezingTime(1.5, 30)).toBeCloseTo(167.9 / 30, 2);
    expect(() => coolingKPerMin(1450, 1250, 0)).toThrow(/min/);
  });

  it.each([
    ["left in the furnace overnight", "furnace-shut"],
    ["buried in ash", "furnace-shut"],
    ["lid off", "furnace-open"],
    ["in air on the floor", "air"],
    ["poured into a mould", "mould"],
    ["who knows", undefined],
  ])("understands how it cooled: %s", (said, way) => {
    expect(coolingWay(said)).toBe(way);
  });

  it("a pot in the open freezes at the rate that its way of cooling says, thicker walls slower", () => {
    const pot = { carbonPct: 1.5, steelG: 600, crucibleG: 800, surfaceMm2: 25_000, wallMm: 8 };
    const rate = ownCoolingKPerMin(pot);
    expect(rate).toBeGreaterThan(COOLING_RATES.air.low);
    expect(rate).toBeLessThan(COOLING_RATES.air.high);
    expect(ownCoolingKPerMin({ ...pot, wallMm: 16 })).toBeLessThan(rate);
    expect(ownCoolingKPerMin({ ...pot, steelG: 1200 })).toBeLessThan(rate);
  });

  it("slower freezing gives wider cells; the shut furnace lies about the published 0.3 to 0.6 mm", () => {
    const likely = COOLING_WAYS.map((way) => cellsOfMelt(COOLING_RATES[way]).likely);
    expect([...likely].sort((a, b) => b - a)).toEqual(likely);
    const shut = cellsOfMelt(COOLING_RATES["furnace-shut"]);
    expect(shut.likely).toBeGreaterThan(300);
    expect(shut.likely).toBeLessThan(600);
    expect(shut.low).toBeLessThan(shut.likely);
    expect(shut.high).toBeGreaterThan(shut.likely);
  });

  it("yield is ingot over metal, and odd ones are noted", () => {
    const charge = [{ what: "bar iron", massG: 1000, carbonPct: 0 }];
    expect(meltYield(charge, 960)).toMatchObject({ fraction: 0.96, lostG: 40, notes: [] });
    expect(meltYield(charge, 800)?.notes).toEqual(["yield-low"]);
    expect(meltYield(charge, 1030)?.notes).toEqual(["more-out-than-in"]);
    expect(meltYield([], 500)).toBeUndefined();
  });
});
