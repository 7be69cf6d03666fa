/** Pauses at both ends of a note, cut short: they say nothing, take work, and tilt the engine's mean of the sound. */
import { levelsDb, loudDb } from "./sounding.js";

/** What lies this far below the loud parts, dB, is pause at the ends. Common practice, no source; 25 to 40. */
const QUIET_DB = 30;
/** Pause that stays at each end, s. Common practice, no source; 0.1 to 0.3. */
const PAUSE_S = 0.15;

/** A part of `samples`, all of them if nothing sounds. */
export function shortEnds(samples: Float32Array, rateHz: number): Float32Array {
  const { levels, frame } = levelsDb(samples, rateHz);
  const least = loudDb(levels) - QUIET_DB;
  const first = levels.findIndex((level) => level > least);
  if (first < 0) return samples;
  const last = levels.findLastIndex((level) => level > least);
  const pause = Math.round(PAUSE_S * rateHz);
  return samples.subarray(Math.max(0, first * frame - pause), (last + 1) * frame + pause);
}
