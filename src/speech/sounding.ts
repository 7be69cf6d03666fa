/** How long somebody or something sounds in a note. */

const FRAME_S = 0.01;
/** Quieter than the loud parts by this much is a pause, dB. Common practice, no source; 15 to 30. */
const PAUSE_DB = 20;
const LOUD_SHARE = 0.95;
const FLOOR = 1e-10;

/** Seconds of `samples` that are not pauses. */
export function soundingS(samples: Float32Array, rateHz: number): number {
  const size = Math.round(FRAME_S * rateHz);
  const levels: number[] = [];
  for (let at = 0; at + size <= samples.length; at += size) {
    let power = 0;
    for (let i = at; i < at + size; i += 1) power += (samples[i] ?? 0) ** 2;
    levels.push(10 * Math.log10(power / size + FLOOR));
  }
  const loud = [...levels].sort((a, b) => a - b)[Math.floor(LOUD_SHARE * levels.length)] ?? 0;
  return levels.filter((level) => level > loud - PAUSE_DB).length * FRAME_S;
}
