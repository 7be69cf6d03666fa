/** What was not said but follows from a rule, and how sure an entry is by the weakest rule that it leans on. */
import { describe, expect, it } from "vitest";
import { reading } from "./reading-context.js";

const implied = (text: string, more = {}): string[] =>
  [...(reading(text, more).drafts[0]?.implied ?? [])].sort();
const sure = (text: string, more = {}): number => reading(text, more).drafts[0]?.confidence ?? 0;

describe("implied", () => {
  it.each([
    ["22x36x180", ["lengthMm", "thicknessMm", "units", "widthMm"]],
    ["22 x 36 x 180 mm", ["lengthMm", "thicknessMm", "widthMm"]],
    ["22 mm thick", []],
    ["22 thick", ["units"]],
    ["heat 4 at 950", ["temperatureC", "temperatureUnits"]],
    ["heat 4 at 950 degrees", ["temperatureUnits"]],
    ["heat 4 at 950 °C", []],
    ["712 g", []],
  ])("%s", (text, want) => expect(implied(text)).toEqual(want));
});

describe("sureness", () => {
  it("falls with what was guessed", () => {
    const plain = sure("heat 4 at 950 °C");
    const slip = sure("hairlne crack on the spine");
    const unread = sure("heat 4 at 950, blimfel the qwortz");
    const asked = sure("heat 4 at 950, 45");
    expect([plain, slip, unread, asked].sort((a, b) => b - a)).toEqual([
      plain,
      slip,
      unread,
      asked,
    ]);
    expect(new Set([plain, slip, unread, asked]).size).toBe(4);
    expect(plain).toBeLessThan(1);
  });
});
