/** Samples to an OGG/Opus voice note, one channel. */
import OpusScript from "opusscript";
import { oggOpusFile } from "./ogg-pages.js";

const RATE = 48_000;
const FRAME = 960;
const CTL_LOOKAHEAD_SAMPLES = 312;

/** `samples` at 48 kHz, -1 to 1. */
export function opusNote(samples: Float32Array, bitsPerSecond = 32_000): Uint8Array {
  const encoder = new OpusScript(RATE, 1, OpusScript.Application.VOIP);
  try {
    encoder.setBitrate(bitsPerSecond);
    const packets: Uint8Array[] = [];
    const frames = Math.ceil((samples.length + CTL_LOOKAHEAD_SAMPLES) / FRAME);
    for (let index = 0; index < frames; index += 1) {
      const pcm = Buffer.alloc(FRAME * 2);
      for (let i = 0; i < FRAME; i += 1) {
        const value = samples[index * FRAME + i] ?? 0;
        pcm.writeInt16LE(Math.max(-32_768, Math.min(32_767, Math.round(value * 32_767))), i * 2);
      }
      packets.push(Uint8Array.from(encoder.encode(pcm, FRAME)));
    }
    return oggOpusFile(packets, FRAME, CTL_LOOKAHEAD_SAMPLES);
  } finally {
    encoder.delete();
  }
}
