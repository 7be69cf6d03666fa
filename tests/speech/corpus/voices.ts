/** Voices of Debian's speech packages: espeak-ng (formants), flite and festival (made from people's recordings). */
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { wavSamples, wavSummary } from "../../../src/speech/wav.js";

export const VOICES = {
  "flite-kal": "human",
  "flite-awb": "human",
  "flite-rms": "human",
  "flite-slt": "human",
  "festival-slt": "human",
  "festival-kal": "human",
  "espeak-us": "formant",
  "espeak-us-low": "formant",
  "espeak-gb": "formant",
  "espeak-gb-high": "formant",
} as const;
export type Voice = keyof typeof VOICES;

const ESPEAK: Readonly<Record<string, string>> = {
  "espeak-us": "en-us",
  "espeak-us-low": "en-us+m3",
  "espeak-gb": "en-gb",
  "espeak-gb-high": "en-gb+f2",
};
const FLITE: Readonly<Record<string, string>> = {
  "flite-kal": "kal16",
  "flite-awb": "awb",
  "flite-rms": "rms",
  "flite-slt": "slt",
};
const FESTIVAL: Readonly<Record<string, string>> = {
  "festival-slt": "voice_cmu_us_slt_arctic_hts",
  "festival-kal": "voice_kal_diphone",
};

/** `pace` 0 slow, 1 plain, 2 quick. `folder` is for scratch files. */
export function speak(
  words: string,
  voice: Voice,
  pace: 0 | 1 | 2,
  folder: string,
): { samples: Float32Array; rateHz: number } {
  const out = join(folder, "voice.wav");
  const stretch = [1.15, 1, 0.88][pace];
  if (voice.startsWith("espeak")) {
    execFileSync("espeak-ng", [
      "-v",
      ESPEAK[voice] ?? "",
      "-s",
      String([140, 160, 185][pace]),
      "-w",
      out,
      words,
    ]);
  } else if (voice.startsWith("flite")) {
    execFileSync("flite", [
      "-voice",
      FLITE[voice] ?? "",
      "--setf",
      `duration_stretch=${stretch}`,
      "-t",
      words,
      "-o",
      out,
    ]);
  } else {
    const text = join(folder, "words.txt");
    writeFileSync(text, words);
    execFileSync("text2wave", [
      "-o",
      out,
      "-eval",
      `(${FESTIVAL[voice]})`,
      "-eval",
      `(Parameter.set 'Duration_Stretch ${stretch})`,
      text,
    ]);
  }
  const bytes = readFileSync(out);
  const wav = wavSummary(bytes);
  if (wav === undefined) throw new RangeError(`${voice} gave no WAV`);
  return { samples: wavSamples(bytes, wav), rateHz: wav.rateHz };
}
