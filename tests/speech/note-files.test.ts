/** Files as they come: right ones, broken, empty, huge, wrongly named, lying about their length. */
import { describe, expect, test } from "vitest";
import { NOTE_LIMIT_BYTES } from "../../src/speech/note-trouble.js";
import { oggSummary } from "../../src/speech/ogg-pages.js";
import { openNote } from "../../src/speech/open-note.js";
import { opusNote } from "../../src/speech/opus-encode.js";
import { wavFile, wavSamples, wavSummary } from "../../src/speech/wav.js";

const tone = (seconds: number, rateHz = 48_000, hz = 440): Float32Array =>
  Float32Array.from(
    { length: Math.round(seconds * rateHz) },
    (_, i) => 0.3 * Math.sin((2 * Math.PI * hz * i) / rateHz),
  );

/** Share of the power that lies at `hz`. */
function shareAt(samples: Float32Array, hz: number, rateHz: number): number {
  let re = 0;
  let im = 0;
  let all = 0;
  samples.forEach((value, i) => {
    re += value * Math.cos((2 * Math.PI * hz * i) / rateHz);
    im += value * Math.sin((2 * Math.PI * hz * i) / rateHz);
    all += value * value;
  });
  return (2 * (re * re + im * im)) / (samples.length * all);
}
const lengthOf = (note: Awaited<ReturnType<typeof openNote>>): number =>
  "samples" in note ? note.samples.length / 48_000 : 0;

describe("OGG/Opus", () => {
  test("a tone survives encoding and decoding", async () => {
    const note = await openNote(opusNote(tone(2)));
    expect(lengthOf(note)).toBeCloseTo(2, 1);
    expect("samples" in note && shareAt(note.samples, 440, 48_000)).toBeGreaterThan(0.9);
  });
  test("length is read from the pages, and a page's claim is not believed against its packets", () => {
    const bytes = opusNote(tone(3));
    expect(oggSummary(bytes)?.durationS).toBeCloseTo(3, 1);
    const lying = bytes.slice();
    for (let at = 0; at < lying.length - 14; at += 1) {
      if (String.fromCharCode(...lying.slice(at, at + 4)) === "OggS")
        lying.fill(0, at + 6, at + 14);
    }
    expect(oggSummary(lying)?.durationS).toBeCloseTo(3, 1);
  });
  test("three hours claimed are refused before anything is decoded", async () => {
    const bytes = opusNote(tone(1));
    const last = bytes.lastIndexOf(0x4f, bytes.length - 4);
    for (let at = last; at > 0; at -= 1) {
      if (String.fromCharCode(...bytes.slice(at, at + 4)) === "OggS") {
        new DataView(bytes.buffer).setBigInt64(at + 6, 3n * 3600n * 48_000n, true);
        break;
      }
    }
    const before = process.memoryUsage().rss;
    expect(await openNote(bytes)).toMatchObject({ trouble: "too-long" });
    expect(process.memoryUsage().rss - before).toBeLessThan(50_000_000);
  });
  test.each([
    ["cut in the head", (b: Uint8Array) => b.slice(0, 30)],
    ["cut after the head", (b: Uint8Array) => b.slice(0, 90)],
    ["of another kind inside", (b: Uint8Array) => b.map((v, i) => (i > 27 && i < 36 ? 0x41 : v))],
  ])("%s is broken", async (_, spoil) => {
    expect(await openNote(spoil(opusNote(tone(1))))).toMatchObject({ trouble: "broken" });
  });
  test("garbled packets never throw", async () => {
    const bytes = opusNote(tone(1));
    for (let at = 200; at < bytes.length; at += 7) bytes[at] = (at * 31) & 255;
    await expect(openNote(bytes)).resolves.toBeDefined();
  });
});

describe("WAV", () => {
  test.each([8000, 16_000, 44_100, 48_000])(
    "%i Hz comes out at 48 kHz, as long as it was",
    async (rateHz) => {
      const note = await openNote(wavFile(tone(1, rateHz), rateHz));
      expect(lengthOf(note)).toBeCloseTo(1, 1);
      expect("samples" in note && shareAt(note.samples, 440, 48_000)).toBeGreaterThan(0.95);
    },
  );
  /** A file made by hand: format code, bits, and one frame of two channels. */
  const handMade = (code: number, bits: number, frame: readonly number[]): Uint8Array => {
    const size = frame.length;
    const bytes = new Uint8Array(44 + size);
    const view = new DataView(bytes.buffer);
    bytes.set(new TextEncoder().encode("RIFF"), 0);
    bytes.set(new TextEncoder().encode("WAVEfmt "), 8);
    view.setUint32(16, 16, true);
    view.setUint16(20, code, true);
    view.setUint16(22, 2, true);
    view.setUint32(24, 8000, true);
    view.setUint16(34, bits, true);
    bytes.set(new TextEncoder().encode("data"), 36);
    view.setUint32(40, size, true);
    bytes.set(frame, 44);
    return bytes;
  };
  test.each([
    [1, 8, [192, 64], (0.5 - 0.5) / 2],
    [1, 16, [0, 64, 0, 0], 0.25],
    [1, 24, [0, 0, 64, 0, 0, 192], 0],
    [1, 32, [0, 0, 0, 64, 0, 0, 0, 64], 0.5],
    [3, 32, [0, 0, 0, 63, 0, 0, 0, 0], 0.25],
  ])("format %i with %i bit", (code, bits, frame, mean) => {
    const bytes = handMade(code, bits, frame);
    const wav = wavSummary(bytes);
    expect(wav).toMatchObject({ channels: 2, bits, frames: 1 });
    expect(wav && wavSamples(bytes, wav)[0]).toBeCloseTo(mean, 6);
  });
  test("a data chunk that claims more than there is ends with the file", () => {
    const bytes = wavFile(tone(1, 8000), 8000);
    new DataView(bytes.buffer).setUint32(40, 0xffff_fff0, true);
    expect(wavSummary(bytes)?.durationS).toBeCloseTo(1, 3);
  });
});

test.each([
  ["nothing", new Uint8Array(0), "empty"],
  ["a picture", Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 1, 2, 3, 4]), "not-audio"],
  ["words", new TextEncoder().encode("heat 4 at 950"), "not-audio"],
  ["too many bytes", new Uint8Array(NOTE_LIMIT_BYTES + 1), "too-big"],
  ["a tenth of a second", wavFile(tone(0.1), 48_000), "empty"],
  ["sixty-one seconds", wavFile(tone(61, 8000), 8000), "too-long"],
  ["silence", wavFile(new Float32Array(48_000), 48_000), "silent"],
])("%s is one trouble", async (_, bytes, trouble) => {
  expect(await openNote(bytes)).toMatchObject({ trouble });
});
