import { describe, expect, it } from "vitest";
import type { Fact } from "../../src/logbook/index.js";
import { cardStages, cardWords, ingotCard, LINE_WIDTH } from "../../src/report/index.js";
import { METRIC } from "../../src/units/index.js";
import { ingotOf } from "./log.js";

const INCH = { length: "inch", temperature: "f" } as const;
const facts: readonly Fact[] = [
  {
    kind: "ingot",
    name: "Wren",
    shape: "bowl",
    diameterMm: 64,
    heightMm: 30,
    massG: 450,
    carbonPct: 1.5,
    melt: 12,
  },
  { kind: "goal", edge: "single", lengthMm: 150, widthMm: 28, thicknessMm: 3.5, tangLengthMm: 80 },
  { kind: "route", route: "spine" },
  { kind: "heat", temperatureC: 900, operation: "flatten", durationMin: 8 },
  { kind: "heat", temperatureC: 985, operation: "flatten", durationMin: 7 },
  { kind: "size", shape: "disc", diameterMm: 70, heightMm: 18 },
  { kind: "heat", temperatureC: 640, operation: "draw" },
  { kind: "crack", place: "spine", severity: "small", depthMm: 2, positionMm: 40 },
  { kind: "removal", method: "grind", place: "spine", massG: 6 },
  { kind: "crack", place: "tip", severity: "hairline" },
  { kind: "heat" },
  { kind: "size", thicknessMm: 12, widthMm: 28, lengthMm: 160, massG: 436 },
  { kind: "note", note: "etched well, the bands stand out best on the left side near the tang" },
  { kind: "finish", lengthMm: 152, widthMm: 28, thicknessMm: 3.5, massG: 180 },
];

describe("the card in words", () => {
  const words = cardWords(ingotCard({ state: ingotOf(facts) }), METRIC);

  it("says heats inside and outside the window, with which and how", () => {
    expect(words).toContain("HEATS 4");
    expect(words).toMatch(/1 inside \d+ to \d+ °C/);
    expect(words).toContain("heat 2: 985 °C, too hot");
    expect(words).toContain("heat 3: 640 °C, too cold");
    expect(words).toContain("1 without a temperature");
  });

  it("says where cracks were and how they were taken out", () => {
    const joined = words.replaceAll(/\n\s+/g, " ");
    expect(joined).toContain(
      "spine, small, 2 mm deep, 40 mm from the tang, heat 3: ground out, 6 g",
    );
    expect(joined).toContain("tip, hairline, heat 3: open");
  });

  it("prints masses that add up to the ingot's", () => {
    const block = words.split("\n\n").find((each) => each.startsWith("WHERE THE STEEL WENT")) ?? "";
    const printed = [...block.matchAll(/^ {2}(-?[\d.]+) g · /gm)].map(([, figure]) =>
      Number(figure),
    );
    expect(printed.length).toBeGreaterThan(2);
    expect(printed.reduce((a, b) => a + b, 0)).toBe(450);
    expect(block).toContain("450 g together");
  });

  it("keeps its lines short in mm and in inches, for long names and notes too", () => {
    const long: readonly Fact[] = [
      { kind: "ingot", name: "the big one from the second crucible run", massG: 1250 },
      { kind: "note", note: "x".repeat(200) },
      ...facts.slice(1),
    ];
    for (const units of [METRIC, INCH]) {
      for (const log of [facts, long]) {
        for (const line of cardWords(ingotCard({ state: ingotOf(log) }), units).split("\n")) {
          expect(line.length, line).toBeLessThanOrEqual(LINE_WIDTH);
        }
      }
    }
    const inch = cardWords(ingotCard({ state: ingotOf(facts) }), INCH);
    expect(inch).not.toMatch(/\bmm\b|\d g\b|°C/);
  });

  it("says little of an ingot of which little is known", () => {
    const words = cardWords(ingotCard({ state: ingotOf([{ kind: "ingot", name: "7" }]) }), METRIC);
    expect(words).toBe("INGOT 7 · in hand\n1.5 % C assumed\n\nNo crack told of.");
  });
});

describe("planned beside measured", () => {
  const planned = [
    {
      name: "flatten",
      cold: { shape: "disc", diameterMm: 72, heightMm: 17 },
      massG: 446,
      heats: 2,
    },
    {
      name: "bar",
      cold: { shape: "bar", thicknessMm: 13, widthMm: 27, lengthMm: 158 },
      massG: 430,
      heats: 5,
    },
    {
      name: "blade",
      cold: { shape: "blade", thicknessMm: 3.5, widthMm: 28, lengthMm: 150 },
      massG: 175,
      heats: 0,
    },
  ] as const;

  it("puts each measured size beside the planned one it is near to", () => {
    const stages = cardStages(ingotOf(facts), planned);
    expect(stages.map(({ name, measured }) => [name, measured?.size.shape])).toEqual([
      ["flatten", "disc"],
      ["bar", "bar"],
      ["blade", "blade"],
    ]);
  });

  it("leaves what is far from every planned size on its own, before what is still to come", () => {
    const stages = cardStages(
      ingotOf([...facts.slice(0, 6), { kind: "size", thicknessMm: 30, widthMm: 40, lengthMm: 45 }]),
      planned,
    );
    expect(stages.map(({ name, measured }) => [name, measured !== undefined])).toEqual([
      ["flatten", true],
      [undefined, true],
      ["bar", false],
      ["blade", false],
    ]);
  });
});
