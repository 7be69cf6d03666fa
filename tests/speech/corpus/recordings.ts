/** Real people: digits joined to figures, and talk. Folders are given by hand; nothing of them is in the project. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { ReadingContext } from "../../../src/language/index.js";
import { opusNote } from "../../../src/speech/opus-encode.js";
import { resample } from "../../../src/speech/resample.js";
import { wavSamples, wavSummary } from "../../../src/speech/wav.js";
import { type Level, mixed, rms, trimmed } from "./make.js";
import { NOISES } from "./noise.js";
import { between, type Chance, pick, seeded, seedOf } from "./seeded.js";
import { NOW } from "./states.js";

const RATE = 48_000;
const DIGITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
const PAUSE_S = 0.08;
const FLOOR_S = 0.03;
const TRIPLES = 8;

export interface Recording {
  readonly id: string;
  readonly speaker: string;
  readonly words: string;
  readonly speech: Float32Array;
  /** What the bot knows when the note comes. */
  readonly weighing: ReadingContext;
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

/**
 * `digit_speaker_take.wav`: figures of three digits, a speaker each, every second speaker a part. Digits are joined
 * whole, quiet beginnings and ends too, and the pauses between them carry the speaker's own floor: a microphone does not
 * go dead between two words.
 */
export async function digitFigures(folder: string, part: "tune" | "aside"): Promise<Recording[]> {
  const speakers = new Map<string, Map<number, Float32Array>>();
  for (const name of readdirSync(folder).sort()) {
    const match = /^(\d)_(\w+)_\d+\.wav$/.exec(name);
    if (match?.[1] === undefined || match[2] === undefined) continue;
    const digits = speakers.get(match[2]) ?? new Map<number, Float32Array>();
    digits.set(Number(match[1]), await samplesOf(join(folder, name)));
    speakers.set(match[2], digits);
  }
  return [...speakers]
    .map(([name, digits], index) => ({ name, digits, number: index + 1 }))
    .filter(({ number }) => (number % 2 === 1) === (part === "tune"))
    .flatMap(({ name, digits, number }) =>
      Array.from({ length: TRIPLES }, (_, index) => {
        const chance = seeded(seedOf(`${name} ${index}`));
        const triple = [
          1 + Math.floor(chance() * 9),
          Math.floor(chance() * 10),
          Math.floor(chance() * 10),
        ];
        return {
          id: `${name}-${index}`,
          speaker: `speaker ${number}`,
          words: triple.map((digit) => DIGITS[digit]).join(" "),
          speech: joined(
            triple.map((digit) => digits.get(digit) ?? new Float32Array()),
            pauseOf([...digits.values()], chance),
          ),
          weighing: weighing(Number(triple.join("")), chance),
        };
      }),
    );
}

/** The bot asked for the weight of a bar whose weight before some grinding it knows, as in `states.ts`. */
const weighing = (massG: number, chance: Chance): ReadingContext => ({
  now: NOW,
  timezone: "UTC",
  units: "mm",
  expects: "mass",
  ingot: { massG: Math.round(massG / between(0.94, 0.995, chance)) },
});

function joined(parts: readonly Float32Array[], pause: Float32Array): Float32Array {
  const rows = parts.flatMap((part, index) => (index === 0 ? [part] : [pause, part]));
  const speech = new Float32Array(rows.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const row of rows) {
    speech.set(row, at);
    at += row.length;
  }
  return speech;
}

/** Noise as loud as the quietest moment of a speaker. */
function pauseOf(digits: readonly Float32Array[], chance: Chance): Float32Array {
  const size = Math.floor(FLOOR_S * RATE);
  let quiet = Number.POSITIVE_INFINITY;
  for (const digit of digits)
    for (let at = 0; at + size <= digit.length; at += size)
      quiet = Math.min(quiet, rms(digit.subarray(at, at + size)));
  return Float32Array.from(
    { length: Math.floor(PAUSE_S * RATE) },
    () => (chance() * 2 - 1) * Math.sqrt(3) * quiet,
  );
}

/** Sentences and single words of people that are not for a forge log (Debian's pocketsphinx-testdata), every second one a part. */
export async function realTalk(
  folder: string,
  part: "tune" | "aside",
): Promise<Omit<Recording, "weighing">[]> {
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
    files
      .sort()
      .filter((_, index) => (index % 2 === 0) === (part === "tune"))
      .map(async (file) => ({
        id: file.slice(-24),
        speaker: "talk",
        words: "",
        speech: trimmed(await samplesOf(file)),
      })),
  );
}

export function noteOf({ id, speech }: Pick<Recording, "id" | "speech">, level: Level): Uint8Array {
  return opusNote(mixed(speech, pick(NOISES, seeded(seedOf(id))), level, id));
}
