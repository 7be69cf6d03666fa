/**
 * From the rate of a note, 48 kHz, to that of the engine, 16 kHz: every third sample behind a low pass. The engine listens
 * up to 3.7 kHz, so that what a short filter lets through above 8 kHz falls back far above that.
 */

/** Samples of the note to one of the result. */
const RATIO = 3;
/** Half of the filter, in samples of the result. Longer is steeper; 6 to 32. */
const HALF_LENGTH = 12;
/** Middle of the slope, as a share of the highest frequency of the result. 0.8 to 1. */
const CUTOFF = 0.9;

/** A windowed sinc (Hann), its taps adding up to one. */
const TAPS: Float32Array = (() => {
  const half = HALF_LENGTH * RATIO;
  const taps = Float32Array.from({ length: 2 * half + 1 }, (_, i) => {
    const at = ((i - half) / RATIO) * CUTOFF * Math.PI;
    const sinc = at === 0 ? 1 : Math.sin(at) / at;
    return sinc * Math.cos((Math.PI * (i - half)) / (2 * half + 2)) ** 2;
  });
  const sum = taps.reduce((total, tap) => total + tap, 0);
  return taps.map((tap) => tap / sum);
})();

/** One channel at a third of its rate, in time with `samples`. */
export function third(samples: Float32Array): Float32Array {
  const half = (TAPS.length - 1) / 2;
  const out = new Float32Array(Math.ceil(samples.length / RATIO));
  for (let i = 0; i < out.length; i += 1) {
    const middle = i * RATIO;
    const from = Math.max(0, half - middle);
    const to = Math.min(TAPS.length, samples.length - middle + half);
    let sum = 0;
    for (let k = from; k < to; k += 1) sum += (TAPS[k] ?? 0) * (samples[middle - half + k] ?? 0);
    out[i] = sum;
  }
  return out;
}
