/**
 * The engine that ships with the bot: a grammar filled for each note, a second look at its figures, and a loop of bare
 * phones that tells whether the grammar fits at all. Runs on one thread and blocks it.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { ReadingContext } from "../language/index.js";
import { type Automaton, automatonOf } from "./automaton.js";
import { confidenceOf, isDoubtful, isForTheLog } from "./certainty.js";
import {
  COMMAND_BEAMS,
  type Decoded,
  dictionaryLines,
  Engine,
  FRAMES_PER_S,
  LOOP_BEAMS,
  modelFolder,
  SPEECH_HZ,
} from "./engine.js";
import { spokenWords } from "./figure-words.js";
import { grammarText, type Sounds } from "./grammar-text.js";
import { parseGrammar } from "./jsgf.js";
import { NEW_WORDS } from "./pronunciations.js";
import { type Filled, putIn } from "./put-in.js";
import type { HeardWord, Recognised, Recogniser, Unrecognised } from "./recogniser.js";
import { lookAgain, sentencesAutomaton } from "./second-look.js";
import { soundingS } from "./sounding.js";
import { traceFigures } from "./trace-figures.js";

const PHONES =
  "AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH".split(
    " ",
  );
const phoneWord = (phone: string): string => `ph_${phone.toLowerCase()}`;
const PHONE_LOOP = `#JSGF V1.0;\ngrammar loop;\npublic <loop> = (${PHONES.map(phoneWord).join(" | ")})+ ;\n`;

/** What is assumed of a shop that nothing is known of. */
export const UNKNOWN_SHOP: ReadingContext = {
  now: "2000-01-01T00:00:00Z",
  timezone: "UTC",
  units: "mm",
};

interface Parts {
  readonly command: Engine;
  readonly second: Engine;
  readonly loop: Engine;
  readonly grammarFor: (context: ReadingContext) => Automaton;
  readonly phones: (word: string) => readonly string[];
}

export async function createListener(): Promise<Recogniser> {
  const full = readFileSync(join(modelFolder(), "en-us", "dict.txt"), "utf8");
  const known = new Map<string, string>();
  for (const line of full.split("\n")) {
    const space = line.indexOf(" ");
    if (space > 0) known.set(line.slice(0, space), line.slice(space + 1).trim());
  }
  const sounds: Sounds = (word) => known.get(word) ?? NEW_WORDS[word];
  const grammar = automatonOf(parseGrammar(grammarText(sounds)));
  const words = new Set([...grammar.arcs.map(({ word }) => word), ...spokenWords()]);
  const folder = mkdtempSync(join(tmpdir(), "hearth-speech-"));
  try {
    const dictionary = join(folder, "words.dict");
    writeFileSync(dictionary, `${dictionaryLines(full, words).join("\n")}\n`);
    const [command, second, loop] = await Promise.all([
      Engine.create(COMMAND_BEAMS, dictionary),
      Engine.create(COMMAND_BEAMS, dictionary),
      Engine.create(LOOP_BEAMS, dictionary),
    ]);
    loop.addWords(PHONES.map((phone) => [phoneWord(phone), phone] as const));
    loop.setJsgf(PHONE_LOOP);
    const spoken = new Map([...words].map((word) => [word, sounds(word)?.split(" ") ?? []]));
    const phones = (word: string): readonly string[] => spoken.get(word) ?? [];
    const answers = automatonOf(parseGrammar(grammarText(sounds, true)));
    const grammarFor = ({ expects }: ReadingContext): Automaton =>
      expects === undefined ? grammar : answers;
    const parts: Parts = { command, second, loop, grammarFor, phones };
    return { recognise: (samples, context) => recognise(parts, samples, context ?? UNKNOWN_SHOP) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function recognise(
  parts: Parts,
  samples: Float32Array,
  context: ReadingContext,
): Recognised | Unrecognised {
  const filled = putIn(parts.grammarFor(context), context);
  parts.command.setAutomaton(filled);
  const first = parts.command.decode(samples);
  if (first.text === "") return { kind: "trouble", trouble: "not-for-the-log" };
  const frames = (samples.length / SPEECH_HZ) * FRAMES_PER_S;
  // Bare phones that find no way through are talk or noise too: no fit at all.
  const bare = parts.loop.decode(samples).score;
  const fit = Number.isFinite(bare) ? (first.score - bare) / frames : Number.NEGATIVE_INFINITY;
  const words = parts.command.words();
  const { text, other, margin } = chosen(parts, filled, first, samples, context);
  const covered =
    words.reduce((sum, { lengthS }) => sum + lengthS, 0) / soundingS(samples, SPEECH_HZ);
  if (!isForTheLog({ fit, covered, words: words.length }))
    return { kind: "trouble", trouble: "not-for-the-log" };
  const confidence = confidenceOf({ fit, margin });
  return {
    kind: "words",
    text,
    confidence,
    words: wordsWith(text, words),
    others: other === undefined ? [] : [other],
    doubtful: other !== undefined && isDoubtful({ fit, margin }),
  };
}

/** The sentence that remains when the figures were looked at again, the next best, and how far apart they are. */
function chosen(
  parts: Parts,
  filled: Filled,
  first: Decoded,
  samples: Float32Array,
  context: ReadingContext,
): { text: string; other?: string; margin: number } {
  const alone = { text: first.text, margin: Number.POSITIVE_INFINITY };
  const words = first.text.split(" ");
  const figures = traceFigures(filled, words);
  if (figures === undefined || figures.length === 0) return alone;
  const sentences = lookAgain(context, parts.phones)(words, figures);
  const among = (list: typeof sentences): Decoded => {
    parts.second.setAutomaton(sentencesAutomaton(list));
    return parts.second.decode(samples);
  };
  if (sentences.length === 0) return alone;
  const best = among(sentences);
  const values = sentences.find((one) => one.words.join(" ") === best.text)?.values.join(" ");
  if (values === undefined) return alone;
  const rest = sentences.filter((one) => one.values.join(" ") !== values);
  if (rest.length === 0) return { text: best.text, margin: Number.POSITIVE_INFINITY };
  const next = among(rest);
  if (next.text === "") return { text: best.text, margin: Number.POSITIVE_INFINITY };
  return { text: best.text, other: next.text, margin: best.score - next.score };
}

/** Words that were only found in the second look take the chance of the word in their place, or the least. */
function wordsWith(text: string, heard: readonly { word: string; chance: number }[]): HeardWord[] {
  const least = Math.min(1, ...heard.map(({ chance }) => chance));
  return text.split(" ").map((word, i) => {
    const same = heard[i]?.word === word ? heard[i] : heard.find((one) => one.word === word);
    return { word, confidence: Math.round((same?.chance ?? least) * 1000) / 1000 };
  });
}
