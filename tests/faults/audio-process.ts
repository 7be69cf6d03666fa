/**
 * Random and mutated OGG and WAV bytes through the decoder of `speech`, in a process of its own. COUNT
 * inputs from SEED; a line of JSON every so often and at the end.
 */
import { NOTE_LIMIT_S, NOTE_TROUBLES, troubleLine } from "../../src/speech/note-trouble.js";
import { oggOpusFile } from "../../src/speech/ogg-pages.js";
import { NOTE_HZ, openNote } from "../../src/speech/open-note.js";
import { brokenNote, goodNotes } from "./broken-notes.js";
import { chanceFrom } from "./chance.js";

const COUNT = Number(process.env.COUNT);
const chance = chanceFrom(Number(process.env.SEED));
const notes = goodNotes();
const outcomes: Record<string, number> = {};
let longestMs = 0;
// The decoder's library says there what it trips over, a line a packet.
let complaints = 0;
console.error = () => {
  complaints += 1;
};

process.on("unhandledRejection", (reason) => {
  process.stderr.write(`UNHANDLED ${reason instanceof Error ? reason.stack : String(reason)}\n`);
  process.exit(70);
});
const tell = (done: number): void => {
  const rss = process.memoryUsage().rss;
  process.stdout.write(
    `${JSON.stringify({ done, outcomes, complaints, longestMs: Math.round(longestMs), rss })}\n`,
  );
};
for (let index = 0; index < COUNT; index += 1) {
  const bytes = brokenNote(notes, oggOpusFile, chance);
  const from = performance.now();
  const note = await openNote(bytes);
  longestMs = Math.max(longestMs, performance.now() - from);
  if ("trouble" in note) {
    const line = troubleLine(note.trouble);
    if (!NOTE_TROUBLES.includes(note.trouble) || line === "" || line.includes("\n")) {
      throw new RangeError(`no clear line for ${note.trouble}`);
    }
  } else {
    const { samples } = note;
    // What reaches the recogniser is sound: numbers, and not endless. A stream may hold a little more than its pages say.
    if (samples.length > NOTE_HZ * (NOTE_LIMIT_S + 1)) throw new RangeError("endless samples");
    if (!samples.every((value) => Number.isFinite(value))) throw new RangeError("not a number");
  }
  const outcome = "trouble" in note ? note.trouble : "sound";
  outcomes[outcome] = (outcomes[outcome] ?? 0) + 1;
  if (index % Math.ceil(COUNT / 40) === 0) tell(index + 1);
}
tell(COUNT);
