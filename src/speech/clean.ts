/**
 * Takes shop noise out of a voice (RNNoise compiled to WebAssembly, 48 kHz). A fifth of the untouched voice stays in:
 * measured better for recognising than the cleaned voice alone.
 */
import createRnnoise from "@echogarden/rnnoise-wasm";

interface Rnnoise {
  readonly HEAPF32: Float32Array;
  _malloc(bytes: number): number;
  _rnnoise_create(model: number): number;
  _rnnoise_destroy(state: number): void;
  _rnnoise_process_frame(state: number, to: number, from: number): number;
}
const FRAME = 480;
const FULL_SCALE = 32_768;
export const UNTOUCHED_SHARE = 0.2;

export type Clean = (samples: Float32Array) => Float32Array;

/** A cleaner for samples at 48 kHz, -1 to 1. */
export async function createCleaner(share = UNTOUCHED_SHARE): Promise<Clean> {
  const rnnoise = (await createRnnoise()) as Rnnoise;
  const input = rnnoise._malloc(FRAME * 4) >> 2;
  const output = rnnoise._malloc(FRAME * 4) >> 2;
  return (samples) => {
    const state = rnnoise._rnnoise_create(0);
    const cleaned = new Float32Array(samples.length + FRAME);
    for (let at = 0; at < samples.length; at += FRAME) {
      for (let i = 0; i < FRAME; i += 1) {
        rnnoise.HEAPF32[input + i] = (samples[at + i] ?? 0) * FULL_SCALE;
      }
      rnnoise._rnnoise_process_frame(state, output << 2, input << 2);
      cleaned.set(
        rnnoise.HEAPF32.subarray(output, output + Math.min(FRAME, cleaned.length - at)),
        at,
      );
    }
    rnnoise._rnnoise_destroy(state);
    // What comes out is one frame late.
    return samples.map(
      (value, i) => ((cleaned[i + FRAME] ?? 0) / FULL_SCALE) * (1 - share) + value * share,
    );
  };
}
