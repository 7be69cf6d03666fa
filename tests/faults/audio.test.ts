/**
 * Random and mutated voice notes, a tenth of FAULTS_UPDATES, through the decoder in a process whose heap is
 * capped, and a few through the whole of hearing: no crash, one clear line each, memory flat.
 */
import { afterAll, expect, test, vi } from "vitest";
import { createEars } from "../../src/speech/index.js";
import { NOTE_TROUBLES } from "../../src/speech/note-trouble.js";
import { oggOpusFile } from "../../src/speech/ogg-pages.js";
import { brokenNote, goodNotes } from "./broken-notes.js";
import { bundle } from "./bundle.js";
import { chanceFrom } from "./chance.js";
import { type Running, run } from "./running.js";

const COUNT = Math.max(100, Math.round(Number(process.env.FAULTS_UPDATES ?? 100_000) / 10));
const SEED = Number(process.env.FAULTS_SEED ?? 31);
const HEAP_MIB = 100;
/** Program, heap, and the decoders' memory beside it. A bound of ours. */
const MOST_MIB = 300;
/** Longest that one broken note may keep the decoder busy, ms, on a machine shared with other work. */
const LONGEST_MS = 5000;
/** Heard in full: seconds each. */
const HEARD = Math.min(60, Math.max(12, COUNT / 100));

const left: Running[] = [];
afterAll(async () => {
  for (const each of left) await each.kill("SIGKILL");
});

test(`${COUNT} random and mutated voice notes: no crash, one clear line each, memory flat`, async () => {
  const begun = performance.now();
  const decoder = run(await bundle("tests/faults/audio-process.ts"), [], {
    COUNT: String(COUNT),
    SEED: String(SEED),
    NODE_OPTIONS: `--max-old-space-size=${HEAP_MIB}`,
  });
  left.push(decoder);
  expect(await decoder.ended, decoder.output().slice(-2000)).toEqual({ code: 0, signal: null });
  const told = decoder
    .output()
    .split("\n")
    .filter((line) => line.startsWith("{"))
    .map(
      (line) =>
        JSON.parse(line) as {
          done: number;
          outcomes: Record<string, number>;
          complaints: number;
          longestMs: number;
          rss: number;
        },
    );
  const last = told.at(-1);
  const memory = told.map(({ rss }) => Math.round(rss / 1_048_576));
  console.log(
    `${last?.done} notes in ${Math.round((performance.now() - begun) / 1000)} s, longest ${last?.longestMs} ms, ` +
      `${JSON.stringify(last?.outcomes)}, ${last?.complaints} packets refused by the decoder; memory ${memory.join(" ")} MiB`,
  );
  expect(last?.done).toBe(COUNT);
  // Broken on purpose, but not so that the decoder is never reached.
  for (const outcome of ["sound", "broken", "not-audio"]) {
    expect(last?.outcomes[outcome] ?? 0, outcome).toBeGreaterThan(COUNT / 100);
  }
  expect(last?.complaints).toBeGreaterThan(COUNT / 100);
  expect(last?.longestMs).toBeLessThan(LONGEST_MS);
  const quarter = Math.floor(memory.length / 4);
  // It rises and falls by a note's samples, so the middle of each quarter is compared; the peak has a cap of its own.
  const middle = (from: number): number =>
    memory.slice(from, from + quarter).sort((one, other) => one - other)[quarter >> 1] ?? 0;
  expect(middle(memory.length - quarter)).toBeLessThan(middle(quarter) * 1.25 + 16);
  expect(Math.max(...memory)).toBeLessThan(MOST_MIB);
});

test(`${HEARD} broken notes through the whole of hearing: words or one known trouble, and a good one after`, async () => {
  const chance = chanceFrom(SEED + 1);
  const notes = goodNotes();
  // The decoder's library says there what it trips over, a line a packet.
  const { write } = process.stderr;
  const quiet = vi
    .spyOn(process.stderr, "write")
    .mockImplementation(
      ((...said: Parameters<typeof write>) =>
        String(said[0]).startsWith("libopus") || write.apply(process.stderr, said)) as typeof write,
    );
  const ears = createEars();
  try {
    for (let index = 0; index < HEARD; index += 1) {
      const heard = await ears.hearBytes(brokenNote(notes, oggOpusFile, chance));
      if (heard.kind === "trouble") {
        // "failed" would mean that something threw.
        expect(NOTE_TROUBLES.filter((each) => each !== "failed")).toContain(heard.trouble);
      } else expect(heard.text).not.toBe("");
    }
    const tone = await ears.hearBytes(notes[1] ?? new Uint8Array());
    expect(tone).not.toMatchObject({ trouble: "failed" });
  } finally {
    await ears.close();
    quiet.mockRestore();
  }
});
