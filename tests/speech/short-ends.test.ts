/** Pauses at the ends go, what is said stays. */
import { expect, test } from "vitest";
import { shortEnds } from "../../src/speech/short-ends.js";
import { seeded } from "./corpus/seeded.js";

const HZ = 16_000;
const chance = seeded(5);
const noise = (seconds: number, height: number): number[] =>
  Array.from({ length: seconds * HZ }, () => (chance() * 2 - 1) * height);

test("a second of pause at each end becomes 0.15 s, the pause between stays", () => {
  const said = [...noise(0.5, 0.3), ...noise(0.4, 1e-4), ...noise(0.5, 0.3)];
  const whole = Float32Array.from([...noise(1, 1e-4), ...said, ...noise(1, 1e-4)]);
  const kept = shortEnds(whole, HZ);
  // Frames of 0.01 s.
  expect(kept.length / HZ).toBeGreaterThan(1.7 - 0.025);
  expect(kept.length / HZ).toBeLessThan(1.7 + 0.025);
  const at = Math.round(HZ - 0.15 * HZ);
  expect(Math.abs((kept[0] ?? 0) - (whole[at] ?? 1))).toBeLessThan(1e-6);
});

test("a soft ending 25 dB below the rest is no pause", () => {
  const soft = Float32Array.from([...noise(0.5, 0.3), ...noise(0.3, 0.3 * 10 ** (-25 / 20))]);
  expect(shortEnds(soft, HZ)).toHaveLength(soft.length);
});

test.each([0, 100, 16_000])("%i samples of nothing stay as they are", (length) => {
  expect(shortEnds(new Float32Array(length), HZ).length).toBeLessThanOrEqual(length);
});
