/**
 * Measures hearing on the corpus and prints tables. `tsx tests/speech/report.ts [--part aside|tune] [--every N]
 * [--family human|formant] [--levels clean,20,10,5] [--recordings FOLDER] [--talk FOLDER]`: every N-th utterance-and-voice, none
 * for 0; folders of real recordings, half of each a part. Needs Debian's espeak-ng, flite, festival with festvox-us-slt-hts and festvox-kallpc16k. Clips are kept in `.cache`.
 */
import { parseArgs } from "node:util";
import { createEars, type NoteHeard } from "../../src/speech/index.js";
import { CORPUS } from "./corpus/corpus.js";
import { type Clip, clipBytes, clipsOf, LEVELS, makeClips } from "./corpus/make.js";
import { NOISES } from "./corpus/noise.js";
import { digitFigures, noteOf, realTalk } from "./corpus/recordings.js";
import { digitsIn, figuresIn, rightFigures, sameFigures } from "./corpus/score.js";
import { seedOf } from "./corpus/seeded.js";
import { NOW } from "./corpus/states.js";
import { VOICES } from "./corpus/voices.js";

const { values } = parseArgs({
  options: {
    part: { type: "string", default: "aside" },
    every: { type: "string", default: "1" },
    family: { type: "string" },
    levels: { type: "string", default: LEVELS.join(",") },
    recordings: { type: "string" },
    talk: { type: "string" },
    show: { type: "boolean", default: false },
  },
});

class Count {
  notes = 0;
  figures = 0;
  right = 0;
  whole = 0;
  wrongKept = 0;
  asked = 0;
  askedHasRight = 0;
  refused = 0;
  talk = 0;
  talkRefused = 0;
}
const counts = new Map<string, Count>();
let workS = 0;
let speechS = 0;

function add(keys: readonly string[], use: (count: Count) => void): void {
  for (const key of keys) {
    const count = counts.get(key) ?? new Count();
    counts.set(key, count);
    use(count);
  }
}

function score(
  keys: readonly string[],
  words: string,
  talk: boolean,
  heard: NoteHeard,
  figuresOf = figuresIn,
): void {
  workS += heard.tookS;
  speechS += heard.durationS ?? 0;
  const refused = heard.kind === "trouble";
  if (refused && (heard.trouble === "failed" || heard.trouble === "busy")) {
    throw new RangeError(`hearing broke down: ${heard.trouble}`);
  }
  if (talk) {
    add(keys, (count) => {
      count.talk += 1;
      if (refused) count.talkRefused += 1;
    });
    return;
  }
  const said = figuresOf(words);
  const got = refused ? [] : figuresOf(heard.text);
  const whole = !refused && sameFigures(said, got);
  const asked = !refused && heard.doubtful;
  add(keys, (count) => {
    count.notes += 1;
    count.figures += said.length;
    count.right += rightFigures(said, got);
    if (whole) count.whole += 1;
    if (refused) count.refused += 1;
    if (asked) {
      count.asked += 1;
      if (whole || heard.others.slice(0, 1).some((other) => sameFigures(said, figuresOf(other))))
        count.askedHasRight += 1;
    }
    if (!refused && !asked && !whole) count.wrongKept += 1;
  });
}

const share = (part: number, of: number): string =>
  of === 0 ? "–" : ((100 * part) / of).toFixed(1);
function table(title: string, keys: readonly string[]): void {
  console.log(`\n### ${title}\n`);
  console.log(
    "| | notes | figures right % | notes all right % | wrong kept unasked % | asked % | right one among two % | true notes refused % | talk refused % |",
  );
  console.log("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
  for (const key of keys) {
    const c = counts.get(key);
    if (c === undefined) continue;
    const cells = [
      c.notes,
      share(c.right, c.figures),
      share(c.whole, c.notes),
      share(c.wrongKept, c.notes),
      share(c.asked, c.notes),
      share(c.askedHasRight, c.asked),
      share(c.refused, c.notes),
      `${share(c.talkRefused, c.talk)} (n ${c.talk})`,
    ];
    console.log(`| ${key} | ${cells.join(" | ")} |`);
  }
}

const every = Number(values.every);
const levels = LEVELS.filter((level) => values.levels.split(",").includes(level));
const wanted = ({ utterance, voice, level }: Clip): boolean =>
  seedOf(`${utterance.id}${voice}`) % every === 0 &&
  (values.family === undefined || VOICES[voice] === values.family) &&
  levels.includes(level);
const clips = (every < 1 ? [] : CORPUS)
  .flatMap((utterance, index) => (utterance.part === values.part ? clipsOf(utterance, index) : []))
  .filter(wanted);
await makeClips(clips);
const ears = createEars();
for (const clip of clips) {
  const { utterance, voice, level, noise } = clip;
  const heard = await ears.hearBytes(clipBytes(clip), utterance.context);
  const family = VOICES[voice];
  score(
    [`${family}, ${level}`, `${voice}, ${level}`, `${family}, ${noise}, ${level}`],
    utterance.words,
    utterance.talk,
    heard,
  );
  if (values.show) {
    const got = heard.kind === "words" ? heard.text : heard.trouble;
    console.error(
      `${clip.id}\t${utterance.words}\t${got}\t${heard.kind === "words" ? `${heard.doubtful ? "ask" : ""}\t${heard.confidence}` : ""}`,
    );
  }
}
const part = values.part === "tune" ? "tune" : "aside";
const triples = values.recordings === undefined ? [] : await digitFigures(values.recordings, part);
for (const recording of triples) {
  const { speaker, words, weighing } = recording;
  for (const level of levels) {
    const bytes = noteOf(recording, level);
    const keys = [`recordings, ${level}`, `${speaker}, ${level}`];
    score(keys, words, false, await ears.hearBytes(bytes, weighing), digitsIn);
    const blind = { ...weighing, ingot: undefined };
    score(
      [`recordings, weight unknown, ${level}`],
      words,
      false,
      await ears.hearBytes(bytes, blind),
      digitsIn,
    );
  }
}
for (const recording of values.talk === undefined ? [] : await realTalk(values.talk, part)) {
  for (const level of ["clean", "10"] as const) {
    const heard = await ears.hearBytes(noteOf(recording, level), {
      now: NOW,
      timezone: "UTC",
      units: "mm",
    });
    score([`recordings, ${level}`, "recordings, talk"], "", true, heard);
  }
}
await ears.close();

const speakers = [...new Set(triples.map(({ speaker }) => speaker))];
const each = (names: readonly string[]): string[] =>
  names.flatMap((name) => LEVELS.map((level) => `${name}, ${level}`));
table("By family of voices", [
  ...each(["human", "formant", "recordings", "recordings, weight unknown"]),
  "recordings, talk",
]);
table("By voice", each([...Object.keys(VOICES), ...speakers]));
table(
  "By noise, human-derived voices",
  NOISES.flatMap((noise) => LEVELS.map((level) => `human, ${noise}, ${level}`)),
);
console.log(
  `\n${(workS / speechS).toFixed(2)} s of work a second of speech, ${speechS.toFixed(0)} s of speech.`,
);
