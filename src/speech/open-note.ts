/** A voice note's bytes to samples at 48 kHz. What it is follows from its bytes, never from its name. */
import { OggOpusDecoder } from "ogg-opus-decoder";
import { NOTE_LIMIT_BYTES, NOTE_LIMIT_S, type NoteTrouble } from "./note-trouble.js";
import { oggSummary, startsWith } from "./ogg-pages.js";
import { resample } from "./resample.js";
import { wavSamples, wavSummary } from "./wav.js";

export const NOTE_HZ = 48_000;
/** Shorter than a word. Common practice, no source; 0.1 to 0.3 s. */
const SHORTEST_S = 0.2;
/** Root mean square below which there is nothing to hear, of full scale. Common practice, no source; 1e-4 to 1e-3. */
const SILENCE = 2e-4;

export type OpenNote =
  | { readonly samples: Float32Array; readonly durationS: number }
  | { readonly trouble: NoteTrouble; readonly durationS?: number };

/** Length is checked from headers before anything is decoded. Never throws for what is in the bytes. */
export async function openNote(bytes: Uint8Array): Promise<OpenNote> {
  if (bytes.length === 0) return { trouble: "empty" };
  if (bytes.length > NOTE_LIMIT_BYTES) return { trouble: "too-big" };
  if (startsWith(bytes, 0, "OggS")) return opened(oggSummary(bytes), () => opusSamples(bytes));
  if (startsWith(bytes, 0, "RIFF")) {
    const wav = wavSummary(bytes);
    return opened(wav, async () =>
      wav === undefined ? undefined : resample(wavSamples(bytes, wav), wav.rateHz, NOTE_HZ),
    );
  }
  return { trouble: "not-audio" };
}

async function opened(
  summary: { readonly durationS: number } | undefined,
  decode: () => Promise<Float32Array | undefined>,
): Promise<OpenNote> {
  if (summary === undefined) return { trouble: "broken" };
  const { durationS } = summary;
  if (durationS > NOTE_LIMIT_S) return { trouble: "too-long", durationS };
  if (durationS < SHORTEST_S) return { trouble: "empty", durationS };
  const samples = await decode();
  if (samples === undefined || samples.length / NOTE_HZ < durationS / 2) {
    return { trouble: "broken", durationS };
  }
  const power = samples.reduce((sum, value) => sum + value * value, 0) / samples.length;
  return Math.sqrt(power) < SILENCE ? { trouble: "silent", durationS } : { samples, durationS };
}

async function opusSamples(bytes: Uint8Array): Promise<Float32Array | undefined> {
  const decoder = new OggOpusDecoder();
  await decoder.ready;
  try {
    const { channelData } = await decoder.decodeFile(bytes);
    const [left, right] = channelData;
    if (left === undefined) return undefined;
    return right === undefined ? left : left.map((value, i) => (value + (right[i] ?? 0)) / 2);
  } catch {
    return undefined;
  } finally {
    decoder.free();
  }
}
