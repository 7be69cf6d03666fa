/** A third of the rate: what is heard stays, what would fold back goes. */
import { expect, test } from "vitest";
import { third } from "../../src/speech/third.js";

const HZ = 48_000;

const tones = (hz: number, rateHz: number, length: number): Float32Array =>
  Float32Array.from({ length }, (_, i) => Math.sin((2 * Math.PI * hz * i) / rateHz));
const inside = (samples: Float32Array): Float32Array => samples.subarray(100, -100);

test.each([100, 1000, 3700])("%i Hz stays as it is, in time", (hz) => {
  const low = inside(third(tones(hz, HZ, HZ)));
  const plain = inside(tones(hz, HZ / 3, HZ / 3));
  expect(low).toHaveLength(plain.length);
  expect(Math.max(...low.map((value, i) => Math.abs(value - (plain[i] ?? 9))))).toBeLessThan(0.01);
});

test("13 kHz, which would be heard as 3 kHz, is gone", () => {
  expect(Math.max(...inside(third(tones(13_000, HZ, HZ))).map(Math.abs))).toBeLessThan(1e-3);
});

test.each([0, 1, 2, 3, 100])("%i samples", (length) => {
  expect(third(new Float32Array(length).fill(0.5))).toHaveLength(Math.ceil(length / 3));
});
