/**
 * Faint noise under a voice. The engine's model has heard rooms, never the silence that noise reduction leaves: soft sounds
 * at the ends of words come out of a floor better, and some vowels worse (docs/voice.md). So it is for a second hearing.
 */
import { levelsDb, loudDb } from "./sounding.js";

/** How far the floor lies below the loud parts, dB. 35 to 45; at 30 real voices suffer. */
const FLOOR_DB = 40;
/** Root mean square of even noise between -1 and 1. */
const EVEN_RMS = 1 / Math.sqrt(3);
/** Any constant: the same note always gets the same floor. */
const SEED = 7;

/** `samples` (-1 to 1, at `rateHz`) with a floor. The same samples give the same result. */
export function overFloor(samples: Float32Array, rateHz: number): Float32Array {
  const height = 10 ** ((loudDb(levelsDb(samples, rateHz).levels) - FLOOR_DB) / 20) / EVEN_RMS;
  const noise = evenNoise(SEED);
  return samples.map((value) => value + noise() * height);
}

/** Values between -1 and 1 (a 32-bit xorshift generator, shifts of Marsaglia 2003). */
function evenNoise(seed: number): () => number {
  let state = seed;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state / 2 ** 31;
  };
}
