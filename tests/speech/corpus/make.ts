/** Makes the clips: an utterance in a voice, clean and in noise, as the messenger encodes it. Cached, deterministic. */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { opusNote } from "../../../src/speech/opus-encode.js";
import { resample } from "../../../src/speech/resample.js";
import type { Utterance } from "./corpus.js";
import { NOISES, type Noise, noiseOf } from "./noise.js";
import { between, pick, seeded, seedOf } from "./seeded.js";
import { speak, VOICES, type Voice } from "./voices.js";

export const LEVELS = ["clean", "20", "10", "5"] as const;
export type Level = (typeof LEVELS)[number];
export interface Clip {
  readonly id: string;
  readonly utterance: Utterance;
  readonly voice: Voice;
  readonly level: Level;
  readonly noise: Noise;
  readonly file: string;
}

const RATE = 48_000;
/** A room with a closed door: what `clean` means here. */
const CLEAN_DB = 50;
export const CACHE = join(".cache", "speech-corpus");

const HUMAN = (Object.keys(VOICES) as Voice[]).filter((voice) => VOICES[voice] === "human");
const FORMANT = (Object.keys(VOICES) as Voice[]).filter((voice) => VOICES[voice] === "formant");

/** Three human-derived voices and one of formants an utterance, in turn. */
export function voicesOf(index: number): Voice[] {
  return [0, 2, 4]
    .map((step) => HUMAN[(index + step + (Math.floor(index / 6) % 2)) % HUMAN.length] as Voice)
    .concat(FORMANT[index % FORMANT.length] as Voice);
}

export function clipsOf(
  utterance: Utterance,
  index: number,
  levels: readonly Level[] = LEVELS,
): Clip[] {
  return voicesOf(index).flatMap((voice) => {
    const noise = pick(NOISES, seeded(seedOf(`noise ${utterance.id} ${voice}`)));
    return levels.map((level) => {
      const id = `${utterance.id}_${voice}_${level}`;
      return { id, utterance, voice, level, noise, file: join(CACHE, `${id}.ogg`) };
    });
  });
}

/** Cuts the silence that a voice leaves at both ends. */
export function trimmed(samples: Float32Array): Float32Array {
  const loud = (value: number): boolean => Math.abs(value) >= 0.005;
  let from = 0;
  let to = samples.length;
  while (from < to && !loud(samples[from] ?? 0)) from += 1;
  while (to > from && !loud(samples[to - 1] ?? 0)) to -= 1;
  return samples.subarray(from, to);
}

export const rms = (samples: Float32Array): number =>
  Math.sqrt(samples.reduce((sum, value) => sum + value * value, 0) / Math.max(1, samples.length));

/** Speech at 48 kHz in noise: level, pauses at both ends and the stretch of noise follow from `seed`. */
export function mixed(
  speech: Float32Array,
  noise: Noise,
  level: Level,
  seed: string,
): Float32Array {
  const chance = seeded(seedOf(seed));
  const loudness = 10 ** (between(-32, -20, chance) / 20);
  const before = Math.floor(between(0.25, 0.6, chance) * RATE);
  const after = Math.floor(between(0.25, 0.6, chance) * RATE);
  const length = before + speech.length + after;
  const all = noiseOf(noise);
  const from = Math.floor(chance() * Math.max(1, all.length - length - 1));
  const stretch = all.subarray(from, from + length);
  const heard = stretch.subarray(before, before + speech.length);
  const decibels = level === "clean" ? CLEAN_DB : Number(level);
  const noiseGain = loudness / (rms(heard) * 10 ** (decibels / 20));
  const speechGain = loudness / rms(speech);
  return Float32Array.from({ length }, (_, i) => {
    const inside = i >= before && i < before + speech.length;
    const value =
      (stretch[i] ?? 0) * noiseGain + (inside ? (speech[i - before] ?? 0) * speechGain : 0);
    return Math.max(-0.99, Math.min(0.99, value));
  });
}

/** Makes the clips that are not in the cache yet. */
export async function makeClips(
  clips: readonly Clip[],
  told: (done: number, all: number) => void = () => {},
): Promise<void> {
  mkdirSync(CACHE, { recursive: true });
  const scratch = mkdtempSync(join(tmpdir(), "hearth-corpus-"));
  let spoken: { key: string; speech: Float32Array } | undefined;
  try {
    for (const [index, clip] of clips.entries()) {
      if (existsSync(clip.file)) continue;
      const { utterance, voice } = clip;
      const key = `${utterance.id} ${voice}`;
      if (spoken?.key !== key) {
        const pace = Math.floor(seeded(seedOf(key))() * 3) as 0 | 1 | 2;
        const { samples, rateHz } = speak(utterance.words, voice, pace, scratch);
        spoken = { key, speech: trimmed(await resample(samples, rateHz, RATE)) };
      }
      writeFileSync(clip.file, opusNote(mixed(spoken.speech, clip.noise, clip.level, key), 32_000));
      told(index + 1, clips.length);
    }
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

export const clipBytes = (clip: Clip): Uint8Array => readFileSync(clip.file);
