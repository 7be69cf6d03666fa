import { describe, expect, it } from "vitest";
import type { Fact } from "../../src/logbook/index.js";
import {
  cardPicture,
  cardWords,
  dayPicture,
  daySheet,
  dayWords,
  ingotCard,
  type PlannedRoute,
  toSvg,
} from "../../src/report/index.js";
import { METRIC } from "../../src/units/index.js";
import { ingotOf, rows } from "../report/log.js";

// Guards the look, not the figures: those are tested elsewhere. To change it on purpose: vitest run tests/golden -u
const INCH = { length: "inch", temperature: "f" } as const;
const facts: readonly Fact[] = [
  {
    kind: "ingot",
    name: "Alder",
    shape: "bowl",
    diameterMm: 66,
    heightMm: 32,
    massG: 548,
    carbonPct: 1.5,
    pipeDepthMm: 13,
    pipeDiameterMm: 9,
    melt: 31,
  },
  { kind: "goal", edge: "single", lengthMm: 200, widthMm: 34, thicknessMm: 4.5, tangLengthMm: 100 },
  { kind: "route", route: "spine" },
  { kind: "heat", number: 1, temperatureC: 900, operation: "flatten", durationMin: 9 },
  { kind: "heat", number: 2, temperatureC: 970, operation: "flatten" },
  { kind: "size", shape: "disc", diameterMm: 74, heightMm: 16, massG: 538 },
  { kind: "heat", number: 3, temperatureC: 925, operation: "edge" },
  { kind: "crack", place: "edge", severity: "hairline", positionMm: 60 },
  { kind: "removal", method: "grind", place: "edge", massG: 4 },
  { kind: "removal", method: "chisel", place: "spine", massG: 22 },
  { kind: "heat", number: 4, temperatureC: 740 },
  { kind: "size", thicknessMm: 14, widthMm: 34, lengthMm: 130, massG: 485 },
  { kind: "crack", place: "spine", severity: "small", depthMm: 2 },
  { kind: "heat", number: 5 },
  { kind: "removal", method: "cut", place: "end", lengthMm: 11 },
  { kind: "size", thicknessMm: 7, widthMm: 33, lengthMm: 222, massG: 402 },
  { kind: "finish", lengthMm: 201, widthMm: 33.5, thicknessMm: 4.3, tangLengthMm: 98, massG: 176 },
  { kind: "note", note: "quenched in warm oil" },
];
const planned: PlannedRoute = {
  route: "spine",
  split: false,
  heats: { low: 20, likely: 30, high: 44 },
  pattern: { cellsThickness: 136, cellsWidth: 400, bandThicknessUm: 33, bandWidthUm: 80 },
  stages: [
    {
      name: "flatten",
      cold: { shape: "disc", diameterMm: 70, heightMm: 18 },
      massG: 545,
      heats: 2,
      pipeLies: { place: "top", fromMm: 30, toMm: 40, depthMm: 8 },
    },
    {
      name: "bar",
      cold: { shape: "bar", thicknessMm: 13, widthMm: 33, lengthMm: 145 },
      massG: 490,
      heats: 6,
      pipeLies: { place: "spine", fromMm: 50, toMm: 90, depthMm: 9 },
    },
    {
      name: "preform",
      cold: { shape: "bar", thicknessMm: 6, widthMm: 33, lengthMm: 250 },
      massG: 400,
      heats: 6,
    },
    {
      name: "blade",
      cold: { shape: "blade", thicknessMm: 4.5, widthMm: 34, lengthMm: 200 },
      massG: 170,
      heats: 2,
    },
  ],
};
const window = { floorC: 752, ceilingC: 935 };

const START = "2026-06-02T06:30:00Z";
const STEP_MIN = 13;
const state = ingotOf(facts, START, STEP_MIN);
const entries = rows([
  {
    at: "2026-06-02T06:00:00Z",
    fact: {
      kind: "melt",
      number: 33,
      massG: 787,
      temperatureC: 1525,
      durationMin: 40,
      ingotG: 741,
    },
  },
  ...facts.map((fact, index) => ({
    at: new Date(Date.parse(START) + index * STEP_MIN * 60_000).toISOString(),
    ingotId: "i1",
    fact,
  })),
]);
const sheet = daySheet({
  date: "2026-06-02",
  timezone: "Europe/Ljubljana",
  entries,
  states: new Map([["i1", state]]),
  windows: new Map([["i1", window]]),
});
const file = (name: string): string => `files/${name}`;

describe("golden", () => {
  const card = ingotCard({ state, planned, window });
  it("card in words and picture, mm and inch", async () => {
    await expect(`${cardWords(card, METRIC)}\n`).toMatchFileSnapshot(file("card.mm.txt"));
    await expect(`${cardWords(card, INCH)}\n`).toMatchFileSnapshot(file("card.inch.txt"));
    await expect(toSvg(cardPicture(card, METRIC))).toMatchFileSnapshot(file("card.mm.svg"));
    await expect(toSvg(cardPicture(card, INCH))).toMatchFileSnapshot(file("card.inch.svg"));
  });
  it("an ingot of which little is known", async () => {
    const little = ingotCard({ state: ingotOf([{ kind: "ingot", name: "7", massG: 450 }]) });
    await expect(toSvg(cardPicture(little, METRIC))).toMatchFileSnapshot(file("card.little.svg"));
  });
  it("day in words and picture", async () => {
    await expect(`${dayWords(sheet, METRIC)}\n`).toMatchFileSnapshot(file("day.txt"));
    await expect(toSvg(dayPicture(sheet, METRIC))).toMatchFileSnapshot(file("day.svg"));
  });
});
