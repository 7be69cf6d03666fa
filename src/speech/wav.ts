/** RIFF/WAVE: reads PCM of 8, 16, 24, 32 bit and 32-bit float; writes 16 bit. */
import { startsWith } from "./ogg-pages.js";

export interface WavSummary {
  readonly rateHz: number;
  readonly channels: number;
  readonly bits: number;
  readonly float: boolean;
  readonly from: number;
  readonly frames: number;
  readonly durationS: number;
}
const PCM = 1;
const FLOAT = 3;
const EXTENSIBLE = 0xfffe;

/** Reads chunk headers only. Undefined if the bytes are no WAV of a kind read here. */
export function wavSummary(bytes: Uint8Array): WavSummary | undefined {
  if (!startsWith(bytes, 0, "RIFF") || !startsWith(bytes, 8, "WAVE")) return undefined;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 12;
  let format: { code: number; channels: number; rateHz: number; bits: number } | undefined;
  while (at + 8 <= bytes.length) {
    const size = view.getUint32(at + 4, true);
    const body = at + 8;
    if (startsWith(bytes, at, "fmt ") && size >= 16 && body + 16 <= bytes.length) {
      const code = view.getUint16(body, true);
      format = {
        code: code === EXTENSIBLE && size >= 26 ? view.getUint16(body + 24, true) : code,
        channels: view.getUint16(body + 2, true),
        rateHz: view.getUint32(body + 4, true),
        bits: view.getUint16(body + 14, true),
      };
    }
    if (startsWith(bytes, at, "data"))
      return summary(format, body, Math.min(size, bytes.length - body));
    at = body + size + (size % 2);
  }
  return undefined;
}

function summary(
  format: { code: number; channels: number; rateHz: number; bits: number } | undefined,
  from: number,
  size: number,
): WavSummary | undefined {
  if (format === undefined) return undefined;
  const { code, channels, rateHz, bits } = format;
  const known = (code === PCM && [8, 16, 24, 32].includes(bits)) || (code === FLOAT && bits === 32);
  if (!known || channels < 1 || channels > 8 || rateHz < 4000 || rateHz > 192_000) return undefined;
  const frames = Math.floor(size / (channels * (bits / 8)));
  return {
    rateHz,
    channels,
    bits,
    float: code === FLOAT,
    from,
    frames,
    durationS: frames / rateHz,
  };
}

/** Samples, channels averaged, -1 to 1. */
export function wavSamples(bytes: Uint8Array, wav: WavSummary): Float32Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const step = wav.bits / 8;
  const out = new Float32Array(wav.frames);
  for (let frame = 0; frame < wav.frames; frame += 1) {
    let sum = 0;
    for (let channel = 0; channel < wav.channels; channel += 1) {
      sum += sample(view, wav.from + (frame * wav.channels + channel) * step, wav);
    }
    out[frame] = sum / wav.channels;
  }
  return out;
}

function sample(view: DataView, at: number, { bits, float }: WavSummary): number {
  if (float) {
    const value = view.getFloat32(at, true);
    return Number.isFinite(value) ? Math.max(-1, Math.min(1, value)) : 0;
  }
  if (bits === 8) return (view.getUint8(at) - 128) / 128;
  if (bits === 16) return view.getInt16(at, true) / 32_768;
  if (bits === 24) return ((view.getInt8(at + 2) << 16) | view.getUint16(at, true)) / 8_388_608;
  return view.getInt32(at, true) / 2_147_483_648;
}

/** A 16-bit WAV of one channel. */
export function wavFile(samples: Float32Array, rateHz: number): Uint8Array {
  const out = new Uint8Array(44 + samples.length * 2);
  const view = new DataView(out.buffer);
  const put = (at: number, letters: string): void => {
    for (let i = 0; i < letters.length; i += 1) out[at + i] = letters.charCodeAt(i);
  };
  put(0, "RIFF");
  view.setUint32(4, 36 + samples.length * 2, true);
  put(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, PCM, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rateHz, true);
  view.setUint32(28, rateHz * 2, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  put(36, "data");
  view.setUint32(40, samples.length * 2, true);
  samples.forEach((value, i) => {
    view.setInt16(
      44 + 2 * i,
      Math.max(-32_768, Math.min(32_767, Math.round(value * 32_768))),
      true,
    );
  });
  return out;
}
