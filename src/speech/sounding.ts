/** How loud a note is from moment to moment, and how long somebody or something sounds in it. */

const FRAME_S = 0.01;
/** Quieter than the loud parts by this much is a pause, dB. Common practice, no source; 15 to 30. */
const PAUSE_DB = 20;
/** The loud parts: louder than this share of a note. */
const LOUD_SHARE = 0.95;
const FLOOR = 1e-10;

/** Level of every whole frame below full scale, dB, and the frame's length in samples. */
export function levelsDb(
  samples: Float32Array,
  rateHz: number,
): { readonly levels: readonly number[]; readonly frame: number } {
  const frame = Math.round(FRAME_S * rateHz);
  const levels: number[] = [];
  for (let at = 0; at + frame <= samples.length; at += frame) {
    let power = 0;
    for (let i = at; i < at + frame; i += 1) power += (samples[i] ?? 0) ** 2;
    levels.push(10 * Math.log10(power / frame + FLOOR));
  }
  return { levels, frame };
}

/** Level of the loud parts, dB. */
export const loudDb = (levels: readonly number[]): number =>
  [...levels].sort((a, b) => a - b)[Math.floor(LOUD_SHARE * levels.length)] ?? 0;

/** Seconds of `samples` that are not pauses. */
export function soundingS(samples: Float32Array, rateHz: number): number {
  const { levels } = levelsDb(samples, rateHz);
  const loud = loudDb(levels);
  return levels.filter((level) => level > loud - PAUSE_DB).length * FRAME_S;
}
