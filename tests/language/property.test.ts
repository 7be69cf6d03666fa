import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { read } from "../../src/language/index.js";
import {
  formatLength,
  formatMass,
  formatTemperature,
  METRIC,
  roundedMm,
} from "../../src/units/index.js";

const context = {
  now: "2026-05-12T14:30:00+02:00",
  timezone: "Europe/Berlin",
  units: "mm",
} as const;
const inch = { length: "inch", temperature: "f" } as const;
const first = (text: string, units: "mm" | "inch"): Record<string, unknown> => ({
  ...read(text, { ...context, units }).drafts[0]?.body,
});

describe("what the bot prints reads back to itself", () => {
  it("lengths in mm", () => {
    fc.assert(
      fc.property(fc.double({ min: 14, max: 900, noNaN: true }), (mm) => {
        const text = `${formatLength(mm, METRIC)} long`;
        expect(first(text, "mm").lengthMm).toBeCloseTo(roundedMm(mm, METRIC), 6);
      }),
    );
  });
  it("lengths in inches and sixteenths", () => {
    fc.assert(
      fc.property(fc.double({ min: 3, max: 900, noNaN: true }), (mm) => {
        const text = `${formatLength(mm, inch)} long`;
        expect(first(text, "inch").lengthMm).toBeCloseTo(roundedMm(mm, inch), 6);
      }),
    );
  });
  it("weights in grams, pounds and ounces", () => {
    fc.assert(
      fc.property(fc.integer({ min: 30, max: 9000 }), (massG) => {
        expect(first(formatMass(massG, METRIC), "mm").massG).toBe(massG);
        const said = first(formatMass(massG, inch), "inch").massG;
        expect(Math.abs(Number(said) - massG)).toBeLessThanOrEqual(0.05 * 28.35 + 1e-6);
      }),
    );
  });
  it("temperatures in °C and °F", () => {
    fc.assert(
      fc.property(fc.integer({ min: 500, max: 1300 }), (tempC) => {
        expect(first(formatTemperature(tempC, METRIC), "mm").temperatureC).toBe(tempC);
        const back = Number(first(formatTemperature(tempC, inch), "inch").temperatureC);
        if (back >= 500) expect(Math.abs(back - tempC)).toBeLessThanOrEqual(0.28);
      }),
    );
  });
});

const KILOBYTE = 1024;
const MS_PER_KILOBYTE = 50;
describe("any input at all", () => {
  it("never throws", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 400 }), (text) => {
        read(text, context);
      }),
    );
    const words = [
      "heat",
      "4",
      "at",
      "950",
      "x",
      "22",
      "1/2",
      "crack",
      "no",
      "not",
      '"',
      "'",
      "and",
      "a",
      "half",
      ",",
      ".",
      "?",
      "note",
      "ingot",
      "lb",
      "oz",
      "ago",
      "to",
      "-",
      "undo",
    ];
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...words), { maxLength: 40 }), (list) => {
        read(list.join(" "), context);
        read(list.join(""), context);
      }),
    );
  });
  it("a figure that begins with its point ends, whatever follows", () => {
    for (const text of [".950.22", ".5.5", ".950,22", "at .25.5 thick", "..5..5.", ".1.2.3.4"])
      expect(read(text, context).text).toBe(text);
  });
  it.each([
    ["digits", "1"],
    ["words", "heat 4 at 950 drew it to 22x36x180, "],
    ["unknown words", "qwortz blimfel "],
    ["lists", "22x"],
    ["number words", "nine "],
    ["stops", ".,;"],
    ["control characters", "\u0000\u0007\u001b"],
  ])("100 kB of %s stay below 50 ms a kilobyte", (_, piece) => {
    const text = piece.repeat(Math.ceil((100 * KILOBYTE) / piece.length));
    const start = performance.now();
    read(text, context);
    expect(performance.now() - start).toBeLessThan((MS_PER_KILOBYTE * text.length) / KILOBYTE);
  });
});
