/**
 * Seconds of work per second of speech on one thread, start and memory of hearing, beside the plain use of the same
 * engine with the grammar as JSGF, and beside Debian's pocketsphinx with its own language model, on the same notes.
 * The notes are said by the room's own voice: no other package is needed; pocketsphinx is measured where it is there.
 */
import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { speakNote } from "../../src/speech/index.js";
import { openNote } from "../../src/speech/open-note.js";
import { resample } from "../../src/speech/resample.js";
import { wavFile } from "../../src/speech/wav.js";

const SAID = [
  "heat four nine fifty, drew it to twenty two by thirty six by one eighty",
  "now sixteen by twenty nine by one hundred and ninety nine",
  "crack four deep seventeen long on the spine",
  "new ingot sixty four across thirty high four hundred and fifty grams",
  "ground off thirty grams",
  "heat twelve at nine hundred and sixty degrees",
];

interface Measured {
  readonly readyMs: number;
  readonly work: number;
  /** The same in time of the processor, all threads: what other work on the machine does not stretch much. */
  readonly cpuWork: number;
  readonly peakMb: number;
  readonly heard: readonly string[];
}

/** Each way in a process of its own: memory and start are those of that way alone. */
function measure(way: "ours" | "jsgf", folder: string, files: readonly string[]): Measured {
  const child = fileURLToPath(new URL("./speech-child.ts", import.meta.url));
  const out = execFileSync("npx", ["tsx", child, way, folder, ...files], {
    encoding: "utf8",
    stdio: ["ignore", "pipe", "ignore"],
    timeout: 600_000,
  });
  return JSON.parse(out.trim().split("\n").at(-1) ?? "{}") as Measured;
}

function pocketsphinx(files: readonly string[], speechS: number): string {
  const name = "pocketsphinx_continuous";
  if (spawnSync("which", [name]).status !== 0)
    return "not installed here (Debian: pocketsphinx, pocketsphinx-en-us)";
  const heard: string[] = [];
  const from = performance.now();
  for (const file of files) {
    const run = spawnSync(name, ["-infile", file, "-logfn", "/dev/null"], {
      encoding: "utf8",
      timeout: 120_000,
    });
    heard.push(run.stdout.trim().split("\n").join(" "));
  }
  const work = (performance.now() - from) / 1000 / speechS;
  return `${work.toFixed(2)} s a second of speech (start of the program in it); heard: ${JSON.stringify(heard)}`;
}

export async function benchSpeech(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "hearth-bench-"));
  try {
    const notes: string[] = [];
    const waves: string[] = [];
    let speechS = 0;
    for (const [index, words] of SAID.entries()) {
      const note = await speakNote(words, { slowness: 1 });
      const open = await openNote(note);
      if (!("samples" in open)) throw new RangeError(`own note is ${open.trouble}`);
      speechS += open.durationS;
      notes.push(join(folder, `${index}.ogg`));
      waves.push(join(folder, `${index}.wav`));
      writeFileSync(notes[index] ?? "", note);
      writeFileSync(
        waves[index] ?? "",
        wavFile(await resample(open.samples, 48_000, 16_000), 16_000),
      );
    }
    console.log(
      `${SAID.length} notes, ${speechS.toFixed(1)} s of speech, said: ${JSON.stringify(SAID)}`,
    );
    for (const way of ["ours", "jsgf"] as const) {
      const { readyMs, work, cpuWork, peakMb, heard } = measure(way, folder, notes);
      const title =
        way === "ours" ? "hearing, all stages" : "same engine, grammar as JSGF, no stages";
      console.log(
        `${title}: ${work.toFixed(2)} s a second of speech (${cpuWork.toFixed(2)} s of the processor); ready in ${(readyMs / 1000).toFixed(2)} s; peak ${peakMb.toFixed(0)} MB; heard: ${JSON.stringify(heard)}`,
      );
    }
    console.log(`pocketsphinx, its own model: ${pocketsphinx(waves, speechS)}`);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
