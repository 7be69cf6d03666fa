/** Units against js-quantities, an independent library (its own definitions, not ours). */
import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { read } from "../../src/language/index.js";

const Qty = createRequire(import.meta.url)("js-quantities");
const context = {
  now: "2026-05-12T14:30:00+02:00",
  timezone: "Europe/Berlin",
  units: "mm",
} as const;
const field = (text: string, name: string): number => {
  const body: Record<string, unknown> = { ...read(text, context).drafts[0]?.body };
  return Number(body[name]);
};

describe("said in one unit, read in ours, as js-quantities converts", () => {
  it.each([
    ["7.25 in long", "lengthMm", "7.25 in", "mm"],
    ["18 cm long", "lengthMm", "18 cm", "mm"],
    ["0.18 m long", "lengthMm", "0.18 m", "mm"],
    ["1 foot long", "lengthMm", "1 ft", "mm"],
    ["weighs 25 oz", "massG", "25 oz", "g"],
    ["weighs 1.6 lb", "massG", "1.6 lb", "g"],
    ["weighs 0.78 kg", "massG", "0.78 kg", "g"],
    ["heat 4 at 1750F", "temperatureC", "1750 tempF", "tempC"],
    ["heat 4 at 1223 K", "temperatureC", "1223 tempK", "tempC"],
    ["heat 4 took 90 s", "durationMin", "90 s", "min"],
    ["melt 3 held 2 hours", "durationMin", "2 h", "min"],
    ["press 200 kN", "pressKn", "200 kN", "kN"],
  ])("%s", (text, name, quantity, unit) => {
    // Relative 1e-8: the library's ounce is rounded in the ninth figure, ours is exact by definition.
    const other = Qty(quantity).to(unit).scalar;
    expect(Math.abs(field(text, name) - other) / other).toBeLessThan(1e-8);
  });
});
