/** The line that matters, for the ear. Expected sentences are written by hand. */
import { expect, test } from "vitest";
import { spokenLine } from "../../src/conversation/spoken.js";

test.each([
  ["» Next: bar 22 × 36 × 180 mm", "Next. bar 22, by 36, by 180, millimetres"],
  ["» Next: disc Ø 56 × 23 mm", "Next. disc, diameter, 56, by 23, millimetres"],
  [
    "» Next: bar 7/8 × 1 7/16 × 7 1/4 in",
    "Next. bar 7 eighths, by 1 and 7 sixteenths, by 7 and a quarter, inches",
  ],
  ["» Next: bar 1 1/8 × 1/2 × 3 in", "Next. bar 1 and one eighth, by a half, by 3, inches"],
])("%s", (line, spoken) => {
  expect(spokenLine(line)).toBe(spoken);
});

test("what is said is never longer than the voice takes", () => {
  expect(spokenLine("22 × ".repeat(300)).length).toBeLessThanOrEqual(400);
});
