import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Fact } from "../../src/logbook/index.js";
import { ingotCard, massBar, roundedParts } from "../../src/report/index.js";
import { G_PER_OUNCE } from "../../src/units/index.js";
import { ingotOf } from "./log.js";

const part = (kind: string, facts: readonly Fact[]): number | undefined =>
  massBar(ingotOf(facts), 1.5)?.parts.find((each) => each.kind === kind)?.massG;
const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

describe("where the steel went", () => {
  const worked: readonly Fact[] = [
    { kind: "ingot", name: "Wren", massG: 450 },
    { kind: "route", route: "spine" },
    { kind: "heat", number: 4 },
    { kind: "size", massG: 441 },
    { kind: "removal", method: "chisel", place: "spine", massG: 12 },
    { kind: "crack", place: "edge", depthMm: 2 },
    { kind: "removal", method: "grind", place: "edge", massG: 5 },
    { kind: "heat", number: 8 },
    { kind: "size", massG: 416 },
    { kind: "finish", massG: 230 },
  ];

  it("tells pipe, grinding, scale, blade and what nobody weighed apart", () => {
    // By hand: 450 − 441 = 9 and 441 − 12 − 5 − 416 = 8 to scale; 416 − 230 = 186 gone on the way to the blade.
    expect(part("pipe", worked)).toBe(12);
    expect(part("ground", worked)).toBe(5);
    expect(part("scale", worked)).toBe(17);
    expect(part("unweighed", worked)).toBe(186);
    expect(part("blade", worked)).toBe(230);
    expect(part("left", worked)).toBeUndefined();
  });

  it("takes 17 g in 8 heats as 0.48 % of its mass a heat", () => {
    // By hand: (441/450 · (416 + 17)/441)^(1/8) = (433/450)^(1/8).
    const { loss } = ingotCard({ state: ingotOf(worked) });
    expect(loss?.heats).toBe(8);
    expect(loss?.fraction).toBeCloseTo(1 - (433 / 450) ** (1 / 8), 12);
  });

  it("does not call scale what a removal without a mass is part of", () => {
    const facts: readonly Fact[] = [
      { kind: "ingot", massG: 450 },
      { kind: "heat", number: 1 },
      { kind: "removal", method: "grind" },
      { kind: "size", massG: 440 },
    ];
    expect(part("scale", facts)).toBeUndefined();
    expect(part("unweighed", facts)).toBe(10);
    expect(part("left", facts)).toBe(440);
    expect(ingotCard({ state: ingotOf(facts) }).loss).toBeUndefined();
  });

  it("works out a cut from the bar's sizes and says about", () => {
    const facts: readonly Fact[] = [
      { kind: "ingot", massG: 450 },
      { kind: "route", route: "end" },
      { kind: "size", thicknessMm: 20, widthMm: 20, lengthMm: 140 },
      { kind: "removal", method: "cut", lengthMm: 45, place: "end" },
    ];
    const bar = massBar(ingotOf(facts), 1.5);
    const pipe = bar?.parts.find(({ kind }) => kind === "pipe");
    // 20 · 20 · 45 mm³ at 7.83 mg/mm³ is 141 g.
    expect(pipe?.massG).toBeCloseTo(140.9, 0);
    expect(pipe?.approx).toBe(true);
  });

  it("shows a contradiction instead of hiding it", () => {
    const facts: readonly Fact[] = [
      { kind: "ingot", massG: 450 },
      { kind: "heat", number: 1 },
      { kind: "removal", method: "cut", massG: 100 },
      { kind: "size", massG: 400 },
    ];
    expect(part("surplus", facts)).toBe(-50);
  });

  it("uses the shape's mass when nothing was weighed, and nothing when nothing is known", () => {
    const { mass } = ingotCard({
      state: ingotOf([{ kind: "ingot", shape: "puck", diameterMm: 60, heightMm: 20 }]),
    });
    // π/4 · 60² · 20 mm³ at 7.83 mg/mm³.
    expect(mass?.totalG).toBeCloseTo((Math.PI / 4) * 3600 * 20 * 7.83e-3, 0);
    expect(mass?.basis).toBe("sizes");
    expect(massBar(ingotOf([{ kind: "heat" }]), 1.5)).toBeUndefined();
  });
});

const massG = fc.double({ min: 0.1, max: 900, noNaN: true });
const fact: fc.Arbitrary<Fact> = fc.oneof(
  fc.record({
    kind: fc.constant("heat" as const),
    temperatureC: fc.integer({ min: 700, max: 1100 }),
  }),
  fc.record({ kind: fc.constant("size" as const), massG }),
  fc.record({
    kind: fc.constant("size" as const),
    thicknessMm: fc.double({ min: 3, max: 30, noNaN: true }),
    widthMm: fc.double({ min: 3, max: 60, noNaN: true }),
  }),
  fc.record(
    {
      kind: fc.constant("removal" as const),
      method: fc.constantFrom("grind", "chisel", "cut", "punch", "file"),
      place: fc.constantFrom("top", "end", "spine", "face", "edge"),
      massG,
      lengthMm: fc.double({ min: 1, max: 60, noNaN: true }),
      diameterMm: fc.double({ min: 1, max: 20, noNaN: true }),
    },
    { requiredKeys: ["kind"] },
  ),
  fc.record({
    kind: fc.constant("crack" as const),
    place: fc.constantFrom("spine", "edge", "end"),
  }),
  fc.record({
    kind: fc.constant("route" as const),
    route: fc.constantFrom("spine", "end", "ring"),
  }),
  fc.record({ kind: fc.constant("finish" as const), massG }, { requiredKeys: ["kind"] }),
);
const log = fc
  .tuple(fc.option(massG, { nil: undefined }), fc.array(fact, { maxLength: 25 }))
  .map(([ingotG, facts]): readonly Fact[] => [
    ingotG === undefined ? { kind: "ingot" } : { kind: "ingot", massG: ingotG },
    ...facts,
  ]);

describe("the bar of 1,000 random logs", () => {
  it("adds up to the ingot's mass, exactly and as printed, with only a contradiction below zero", () => {
    fc.assert(
      fc.property(log, (facts) => {
        const bar = massBar(ingotOf(facts), 1.5);
        if (bar === undefined) return;
        expect(Math.abs(sum(bar.parts.map((each) => each.massG)) - bar.totalG)).toBeLessThan(1e-6);
        for (const each of bar.parts) {
          if (each.kind !== "surplus") expect(each.massG).toBeGreaterThanOrEqual(0);
        }
        for (const step of [1, G_PER_OUNCE / 10]) {
          const rounded = roundedParts(bar, step);
          expect(sum(rounded.partsG)).toBeCloseTo(rounded.totalG, 6);
          for (const [index, each] of rounded.partsG.entries()) {
            expect(Math.abs(each - (bar.parts[index]?.massG ?? 0))).toBeLessThan(step);
          }
        }
      }),
      { numRuns: 1000, seed: 20260512 },
    );
  });
});
