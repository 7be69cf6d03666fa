/** Voice notes that are broken on purpose: headers, pages and packets, with and without right checksums. */
import { opusNote } from "../../src/speech/opus-encode.js";
import { wavFile } from "../../src/speech/wav.js";
import type { Chance } from "./chance.js";

type Packed = (packets: readonly Uint8Array[], frame: number, preSkip: number) => Uint8Array;

/** Tones, as OGG/Opus and as WAV, of half a second to three. */
export function goodNotes(): readonly Uint8Array[] {
  const tone = (seconds: number, rateHz: number): Float32Array =>
    Float32Array.from(
      { length: Math.round(seconds * rateHz) },
      (_, i) => 0.3 * Math.sin((2 * Math.PI * 300 * i) / rateHz) + 0.1 * Math.sin(i * i * 1e-5),
    );
  return [
    opusNote(tone(0.5, 48_000)),
    opusNote(tone(3, 48_000), 12_000),
    wavFile(tone(0.5, 8000), 8000),
    wavFile(tone(1, 16_000), 16_000),
  ];
}

const EXTREMES = [0, 1, 0x7f, 0x80, 0xfe, 0xff];

export function brokenNote(notes: readonly Uint8Array[], pack: Packed, chance: Chance): Uint8Array {
  const way = chance.next();
  if (way < 0.1) return marked(chance.pick(["OggS", "RIFF", "", "OggS\u0000\u0002"]), chance);
  if (way < 0.25) return packedNoise(pack, chance);
  let bytes: Uint8Array = chance.pick(notes).slice();
  for (let times = 1 + chance.below(6); times > 0; times -= 1)
    bytes = change(bytes, notes, pack, chance);
  return bytes;
}

/** Noise behind the first letters of a known kind. */
function marked(letters: string, chance: Chance): Uint8Array {
  const bytes = Uint8Array.from({ length: chance.below(4000) }, () => chance.below(256));
  for (let i = 0; i < Math.min(letters.length, bytes.length); i += 1)
    bytes[i] = letters.charCodeAt(i);
  return bytes;
}

/** Noise as packets in pages that are sound and add up, so that it reaches the decoder itself. */
function packedNoise(pack: Packed, chance: Chance): Uint8Array {
  // At most 40 packets share a page of 255 segments.
  const packets = Array.from({ length: 1 + chance.below(80) }, () =>
    Uint8Array.from({ length: chance.below(chance.hits(0.1) ? 1500 : 200) }, () =>
      chance.below(256),
    ),
  );
  return pack(packets, chance.pick([120, 480, 960, 2880, 0, 1e6]), chance.pick([0, 312, 65_535]));
}

function change(
  bytes: Uint8Array,
  notes: readonly Uint8Array[],
  pack: Packed,
  chance: Chance,
): Uint8Array {
  const size = bytes.length;
  const at = chance.below(size + 1);
  const head = Math.min(size, 120);
  const some = 1 + chance.below(chance.hits(0.3) ? 2000 : 16);
  const parts = (...list: readonly Uint8Array[]): Uint8Array =>
    Uint8Array.from(Buffer.concat(list));
  switch (chance.below(9)) {
    case 0:
      for (let i = 0; i < some && i < 64 && size > 0; i += 1) {
        const where = chance.below(size);
        bytes[where] = (bytes[where] ?? 0) ^ (1 << chance.below(8));
      }
      return bytes;
    case 1:
      bytes[chance.below(head)] = chance.pick(EXTREMES);
      return bytes;
    case 2:
      return bytes.slice(0, at);
    case 3:
      return parts(bytes.subarray(0, at), bytes.subarray(at + some));
    case 4:
      return parts(bytes.subarray(0, at), bytes.subarray(Math.max(0, at - some)));
    case 5: {
      const noise = Uint8Array.from({ length: some }, () => chance.below(256));
      return parts(bytes.subarray(0, at), noise, bytes.subarray(at));
    }
    case 6: {
      const other = chance.pick(notes);
      return parts(bytes.subarray(0, at), other.subarray(chance.below(other.length)));
    }
    case 7: {
      // A whole field of a header: sizes, rates, lengths, lacing.
      const to = chance.below(head);
      bytes.fill(chance.pick(EXTREMES), to, to + chance.pick([2, 4, 8]));
      return bytes;
    }
    default:
      return rechecked(bytes, pack, chance);
  }
}

/** The packets of an OGG file, some of them changed, in pages with right checksums again. */
function rechecked(bytes: Uint8Array, pack: Packed, chance: Chance): Uint8Array {
  const packets: Uint8Array[] = [];
  for (let at = 0; at + 27 <= bytes.length && bytes[at] === 0x4f; ) {
    const segments = bytes[at + 26] ?? 0;
    let from = at + 27 + segments;
    let length = 0;
    for (let i = 0; i < segments; i += 1) {
      const lacing = bytes[at + 27 + i] ?? 0;
      length += lacing;
      if (lacing === 255) continue;
      packets.push(bytes.slice(from, from + length));
      from += length;
      length = 0;
    }
    at = from + length;
  }
  const sound = packets.slice(2).filter((packet) => packet.length < 1500);
  if (sound.length === 0) return bytes;
  for (const packet of sound) {
    if (packet.length > 0 && chance.hits(0.3)) {
      packet[chance.below(chance.hits(0.5) ? 2 : packet.length)] = chance.below(256);
    }
  }
  return pack(sound.slice(0, 200), 960, 312);
}
