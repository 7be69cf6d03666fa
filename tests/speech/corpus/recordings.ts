/** Real people: digits joined to figures, and talk. Folders are given by hand; nothing of them is in the project. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { opusNote } from "../../../src/speech/opus-encode.js";
import { resample } from "../../../src/speech/resample.js";
import { wavSamples, wavSummary } from "../../../src/speech/wav.js";
import { type Level, mixed, trimmed } from "./make.js";
import { NOISES } from "./noise.js";
import { pick, seeded, seedOf } from "./seeded.js";

const RATE = 48_000;
const DIGITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
const PAUSE_S = 0.08;
const TRIPLES = 8;

export interface Recording {
  readonly id: string;
  readonly speaker: string;
  readonly words: string;
  readonly speech: Float32Array;
}

async function samplesOf(file: string): Promise<Float32Array> {
  const bytes = readFileSync(file);
  if (file.endsWith(".raw")) {
    const samples = Float32Array.from(
      { length: bytes.length >> 1 },
      (_, i) => bytes.readInt16LE(2 * i) / 32_768,
    );
    return resample(samples, 16_000, RATE);
  }
  const wav = wavSummary(bytes);
  if (wav === undefined) throw new RangeError(`${file} is no WAV`);
  return resample(wavSamples(bytes, wav), wav.rateHz, RATE);
}

/** `digit_speaker_take.wav`: figures of three digits, a speaker each. */
export async function digitFigures(folder: string): Promise<Recording[]> {
  const speakers = new Map<string, Map<number, Float32Array>>();
  for (const name of readdirSync(folder).sort()) {
    const match = /^(\d)_(\w+)_\d+\.wav$/.exec(name);
    if (match?.[1] === undefined || match[2] === undefined) continue;
    const digits = speakers.get(match[2]) ?? new Map<number, Float32Array>();
    digits.set(Number(match[1]), trimmed(await samplesOf(join(folder, name))));
    speakers.set(match[2], digits);
  }
  const pause = new Float32Array(Math.floor(PAUSE_S * RATE));
  return [...speakers].flatMap(([speaker, digits]) =>
    Array.from({ length: TRIPLES }, (_, index) => {
      const chance = seeded(seedOf(`${speaker} ${index}`));
      const triple = [
        1 + Math.floor(chance() * 9),
        Math.floor(chance() * 10),
        Math.floor(chance() * 10),
      ];
      const parts = triple.flatMap((digit) => [digits.get(digit) ?? pause, pause]);
      const speech = new Float32Array(parts.reduce((sum, { length }) => sum + length, 0));
      let at = 0;
      for (const part of parts) {
        speech.set(part, at);
        at += part.length;
      }
      return {
        id: `${speaker}-${index}`,
        speaker,
        words: triple.map((digit) => DIGITS[digit]).join(" "),
        speech,
      };
    }),
  );
}

/** Sentences and single words of people that are not for a forge log (Debian's pocketsphinx-testdata). */
export async function realTalk(folder: string): Promise<Recording[]> {
  const files = ["cards", "librivox"].flatMap((name) => {
    const inside = join(folder, name);
    return existsSync(inside)
      ? readdirSync(inside)
          .filter((file) => file.endsWith(".wav"))
          .map((file) => join(inside, file))
      : [];
  });
  for (const name of ["goforward.raw", "something.raw"])
    if (existsSync(join(folder, name))) files.push(join(folder, name));
  return Promise.all(
    files.sort().map(async (file) => ({
      id: file.slice(-24),
      speaker: "talk",
      words: "",
      speech: trimmed(await samplesOf(file)),
    })),
  );
}

export function noteOf({ id, speech }: Recording, level: Level): Uint8Array {
  return opusNote(mixed(speech, pick(NOISES, seeded(seedOf(id))), level, id));
}
