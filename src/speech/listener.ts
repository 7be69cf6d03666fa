/**
 * The engine that ships with the bot: a grammar filled for each note, a second look at its figures, and a loop of bare
 * phones that tells whether the grammar fits at all. Runs on one thread and blocks it.
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { ReadingContext } from "../language/index.js";
import { type Automaton, automatonOf } from "./automaton.js";
import { confidenceOf, isForTheLog, isOpen } from "./certainty.js";
import { dictionaryLines, waysToSay } from "./dictionary.js";
import {
  type Decoded,
  Engine,
  FRAMES_PER_S,
  featuresFile,
  LOOP_BEAMS,
  SPEECH_HZ,
  TALK_BEAMS,
} from "./engine.js";
import { FIGURES_ASKED } from "./figure-kinds.js";
import { spokenWords } from "./figure-words.js";
import { overFloor } from "./floor.js";
import { grammarText, type Sounds } from "./grammar-text.js";
import { parseGrammar } from "./jsgf.js";
import { plainWords, talkLoop } from "./plain-talk.js";
import { type Filled, putIn } from "./put-in.js";
import type { HeardWord, Recognised, Recogniser, Unrecognised } from "./recogniser.js";
import { lookAgain, sentencesAutomaton } from "./second-look.js";
import { shortEnds } from "./short-ends.js";
import { soundingS } from "./sounding.js";
import { type TracedFigure, traceFigures } from "./trace-figures.js";
import { type Hearing, ofOne, ofTwo, wantsAnother } from "./two-hearings.js";

const PHONES =
  "AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH".split(
    " ",
  );
const phoneWord = (phone: string): string => `ph_${phone.toLowerCase()}`;
/** Chance that one phone more follows. Common practice, no source; 0.3 to 0.9. */
const MORE = 0.5;
const PHONE_LOOP: Automaton = {
  states: 2,
  start: 0,
  arcs: PHONES.flatMap((phone) => [
    { from: 0, to: 1, chance: 1 / PHONES.length, word: phoneWord(phone) },
    { from: 1, to: 1, chance: MORE / PHONES.length, word: phoneWord(phone) },
  ]),
  ends: [0, 1 - MORE],
};

/** What is assumed of a shop that nothing is known of. */
export const UNKNOWN_SHOP: ReadingContext = {
  now: "2000-01-01T00:00:00Z",
  timezone: "UTC",
  units: "mm",
};

interface Parts {
  readonly engine: Engine;
  readonly grammarFor: (context: ReadingContext) => Automaton;
  readonly phones: (word: string) => readonly string[];
  /** Plain talk, as far as the engine knows its words. */
  readonly talk: Automaton;
}

export async function createListener(): Promise<Recogniser> {
  // Which words there may be comes first, so that only those are looked up.
  const asked = new Set([
    ...spokenWords(),
    ...(grammarText((word) => word).match(/[a-z']+/g) ?? []),
  ]);
  const all = waysToSay(new Set([...asked, ...plainWords]));
  // What only plain talk has must not become a word of the grammar.
  const ways = new Map([...all].filter(([word]) => asked.has(word)));
  const sounds: Sounds = (word) => ways.get(word)?.[0];
  const grammar = automatonOf(parseGrammar(grammarText(sounds)));
  const folder = mkdtempSync(join(tmpdir(), "hearth-speech-"));
  try {
    const dictionary = join(folder, "words.dict");
    const lines = [
      ...dictionaryLines(all),
      ...PHONES.map((phone) => `${phoneWord(phone)} ${phone}`),
    ];
    writeFileSync(dictionary, `${lines.join("\n")}\n`);
    const engine = await Engine.create(dictionary, featuresFile(join(folder, "features.json")));
    const spoken = new Map([...ways.keys()].map((word) => [word, sounds(word)?.split(" ") ?? []]));
    const phones = (word: string): readonly string[] => spoken.get(word) ?? [];
    // Made when the bot first asks for such a figure: at start it would only take time.
    const answers = new Map<string, Automaton>();
    const grammarFor = (context: ReadingContext): Automaton => {
      const { expects } = context;
      if (expects === undefined || !asksFigure(context)) return grammar;
      const known = answers.get(expects);
      if (known !== undefined) return known;
      const made = automatonOf(parseGrammar(grammarText(sounds, expects)));
      answers.set(expects, made);
      return made;
    };
    const talk = talkLoop([...plainWords].filter((word) => all.has(word)));
    const parts: Parts = { engine, grammarFor, phones, talk };
    return { recognise: (samples, context) => recognise(parts, samples, context ?? UNKNOWN_SHOP) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const asksFigure = ({ expects }: ReadingContext): boolean => FIGURES_ASKED.has(expects ?? "");

function recognise(
  parts: Parts,
  sound: Float32Array,
  context: ReadingContext,
): Recognised | Unrecognised {
  const samples = shortEnds(sound, SPEECH_HZ);
  const filled = putIn(parts.grammarFor(context), context);
  const first = hear(parts, samples, context, filled);
  if (first === undefined) return { kind: "trouble", trouble: "not-for-the-log" };
  const outcome = wantsAnother(first)
    ? ofTwo(first, hear(parts, overFloor(samples, SPEECH_HZ), context, filled))
    : ofOne(first);
  if (outcome === undefined) return { kind: "trouble", trouble: "not-for-the-log" };
  const { heard, other, doubtful } = outcome;
  return {
    kind: "words",
    text: heard.text,
    confidence: confidenceOf(heard),
    words: wordsWith(heard.text, heard.words),
    others: other === undefined ? [] : [other],
    doubtful,
  };
}

interface Heard extends Hearing {
  readonly words: readonly { readonly word: string; readonly chance: number }[];
}

/** One hearing, with all its stages. Undefined if the grammar has no way through the sound. */
function hear(
  parts: Parts,
  samples: Float32Array,
  context: ReadingContext,
  filled: Filled,
): Heard | undefined {
  const { engine } = parts;
  engine.setAutomaton(filled);
  const first = engine.decode(samples);
  if (first.text === "") return undefined;
  const words = engine.words();
  const traced = traceFigures(filled, first.text.split(" "));
  const frames = (samples.length / SPEECH_HZ) * FRAMES_PER_S;
  engine.setAutomaton(PHONE_LOOP, LOOP_BEAMS);
  // Bare phones that find no way through are talk or noise too: no fit at all.
  const bare = engine.decode(samples).score;
  const fit = Number.isFinite(bare) ? (first.score - bare) / frames : Number.NEGATIVE_INFINITY;
  const alone = traced?.figures.some(({ kind }) => kind === "said") ?? false;
  const asked = alone && asksFigure(context);
  const covered =
    words.reduce((sum, { lengthS }) => sum + lengthS, 0) / soundingS(samples, SPEECH_HZ);
  const lead = isOpen({ fit, asked, covered, words: words.length })
    ? leadOf(parts, samples, first.score)
    : undefined;
  const best = chosen(parts, traced?.figures, first, samples, context);
  const rival = best.other !== undefined;
  const forLog = isForTheLog({ fit, covered, words: words.length, lead, asked, rival });
  return { ...best, words, fit, lead, alone, asked, forLog };
}

/** How far a score is ahead of plain talk, a frame. Undefined if plain talk has no way through the sound. */
function leadOf({ engine, talk }: Parts, samples: Float32Array, score: number): number | undefined {
  engine.setAutomaton(talk, TALK_BEAMS);
  const plain = engine.decode(samples).score;
  const frames = (samples.length / SPEECH_HZ) * FRAMES_PER_S;
  return Number.isFinite(plain) ? (score - plain) / frames : undefined;
}

/** The sentence that remains when the figures were looked at again, its figures, the next best, and how far apart they are. */
function chosen(
  { engine, phones }: Parts,
  figures: readonly TracedFigure[] | undefined,
  first: Decoded,
  samples: Float32Array,
  context: ReadingContext,
): Pick<Hearing, "text" | "figures" | "other" | "margin"> {
  const only = (text: string, values: readonly number[] = []) => ({
    text,
    figures: values,
    other: undefined,
    margin: Number.POSITIVE_INFINITY,
  });
  if (figures === undefined || figures.length === 0) return only(first.text);
  const sentences = lookAgain(context, phones)(first.text.split(" "), figures);
  const among = (list: typeof sentences): Decoded => {
    engine.setAutomaton(sentencesAutomaton(list));
    return engine.decode(samples);
  };
  const valuesOf = (text: string): readonly number[] | undefined =>
    sentences.find((one) => one.words.join(" ") === text)?.values;
  if (sentences.length === 0) return only(first.text);
  const best = among(sentences);
  const values = valuesOf(best.text);
  if (values === undefined) return only(first.text);
  const rest = sentences.filter((one) => one.values.join(" ") !== values.join(" "));
  if (rest.length === 0) return only(best.text, values);
  const next = among(rest);
  if (next.text === "") return only(best.text, values);
  // Paths that were cut off too early can hide the better one in the first of the two.
  const [won, lost] = next.score > best.score ? [next, best] : [best, next];
  return {
    text: won.text,
    figures: valuesOf(won.text) ?? [],
    other: lost.text,
    margin: won.score - lost.score,
  };
}

/** Words that were only found in the second look take the chance of the word in their place, or the least. */
function wordsWith(text: string, heard: readonly { word: string; chance: number }[]): HeardWord[] {
  const least = Math.min(1, ...heard.map(({ chance }) => chance));
  return text.split(" ").map((word, i) => {
    const same = heard[i]?.word === word ? heard[i] : heard.find((one) => one.word === word);
    return { word, confidence: Math.round((same?.chance ?? least) * 1000) / 1000 };
  });
}
