import { describe, expect, it } from "vitest";
import { type Fact, learnedFigures } from "../../src/logbook/index.js";
import { LINE_WIDTH, learnedWords } from "../../src/report/index.js";
import { ingotOf } from "./log.js";

const ingot = (route: "spine" | "end", bladeG: number) =>
  ingotOf([
    { kind: "ingot", massG: 500 },
    { kind: "route", route },
    ...Array.from({ length: 10 }, (): Fact => ({ kind: "heat" })),
    { kind: "size", massG: 450 },
    { kind: "finish", massG: bladeG },
  ]);
const flat = (words: string): string => words.replaceAll(/\n {2}/g, " ");

describe("what the log teaches, in words", () => {
  it("says whose figure it is, its range and how many ingots stand behind it", () => {
    expect(flat(learnedWords(learnedFigures([])))).toContain(
      "common loss: 1 % a heat, 0.4 to 2.5, none of yours yet",
    );
    const one = flat(learnedWords(learnedFigures([ingot("spine", 200)])));
    expect(one).toMatch(/your loss: 1 % a heat, 0\.\d to 1\.\d, from 1 ingot\n/);
    expect(one).toContain("pipe to the spine: 1 ingot, 1 done");
    expect(one).toContain("most blade from an ingot: too early to say");
  });

  it("names the better route once the numbers say so, in short lines", () => {
    const words = learnedWords(
      learnedFigures([
        ...[230, 225, 240, 228].map((bladeG) => ingot("spine", bladeG)),
        ...[120, 130, 118, 125].map((bladeG) => ingot("end", bladeG)),
      ]),
    );
    expect(flat(words)).toMatch(
      /most blade from an ingot: pipe to the spine, before pipe to one end, \d\d % sure/,
    );
    for (const line of words.split("\n")) expect(line.length).toBeLessThanOrEqual(LINE_WIDTH);
  });
});
