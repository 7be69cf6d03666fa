/** The grammar of a note, written out: sentences with the words of reading's vocabulary put in. */
import { vocabulary } from "../language/index.js";
import { SENTENCES } from "./sentences.js";

const { PHRASES, UNIT_WORDS, HUES, SHADES, ORDINALS, NOTE_PHRASES } = vocabulary;

/** Four of five notes after a question, common practice, no source; 60 to 400. */
const ANSWERED = "/200/ <answer>";
/** A figure with any unit of length, mass or force. */
const ANY_ANSWER =
  "<answer> = #said [<lengthunit> | <massunit> | {unit:kn} | {unit:tonne} | {unit:ton}] ;";
/** What is asked for has its own units: `nine one seven` is no `nine eight one ton` where a bar was to be weighed. */
const ANSWER_TO: Readonly<Record<string, string>> = {
  mass: "<answer> = #said [<massunit>] ;",
  "setup-tup": "<answer> = #said [<massunit>] ;",
  "setup-press": "<answer> = #said [{unit:kn} | {unit:tonne} | {unit:ton}] ;",
};

/** A phrase counts less the later it stands in its line, but can always be said. */
const weightOf = (rank: number): string => (1 / (1 + rank)).toFixed(3);
/** Written but not said so. */
const WRITTEN = new Set(
  "mm mms cm cms in ins ft lb lbs oz ozs gr gm gms kg kgs min mins sec secs hr hrs deg degs kn dia diam od id len hgt ht thk sq nr ca".split(
    " ",
  ),
);
const sayable = (phrase: string): boolean =>
  (/^[a-z']+( [a-z']+)*$/.test(phrase) &&
    phrase.split(" ").every((word) => !/^[b-hj-z]$/.test(word) && !WRITTEN.has(word))) ||
  phrase.startsWith("in ");

/** Groups of verbs that take an `it` after their first word: `squared it up`. */
const TAKES_IT = /^(op|removal)$/;
function withIt(phrase: string): string | undefined {
  const [verb, ...rest] = phrase.split(" ");
  if (verb === undefined || !/^(up|out|down|off|flat|straight)$/.test(rest.join(" ")))
    return undefined;
  return `${verb} it ${rest.join(" ")}`;
}

const GROUPS: Readonly<Record<string, string>> = {
  hue: HUES,
  shade: SHADES,
  notable: NOTE_PHRASES,
  ordinal: Object.keys(ORDINALS).slice(0, 10).join(", "),
};

/** Lines of the vocabulary behind `{name}`. */
function linesOf(name: string): readonly string[] {
  const own = GROUPS[name];
  if (own !== undefined) return [own];
  if (name.startsWith("unit:")) return [UNIT_WORDS[name.slice(5)] ?? ""];
  const exact = PHRASES[name];
  if (exact !== undefined) return [exact];
  return Object.keys(PHRASES)
    .filter((key) => key.startsWith(`${name}:`))
    .map((key) => PHRASES[key] ?? "");
}

/** The pronunciation of a word, or undefined for a word that the engine can not say. */
export type Sounds = (word: string) => string | undefined;

/** Two spellings that sound alike are one phrase: the first stands for both. */
function soundOf(phrase: string, sounds: Sounds): string | undefined {
  const parts = phrase.split(" ").map(sounds);
  return parts.includes(undefined) ? undefined : parts.join(" ");
}

function choiceOf(name: string, sounds: Sounds): string {
  const seen = new Set<string>();
  const rows: string[] = [];
  for (const line of linesOf(name)) {
    let rank = 0;
    for (const phrase of line.split(", ")) {
      const said = sayable(phrase) ? soundOf(phrase, sounds) : undefined;
      if (said === undefined || seen.has(said)) continue;
      seen.add(said);
      rows.push(`/${weightOf(rank)}/ ${phrase}`);
      const split = TAKES_IT.test(name) ? withIt(phrase) : undefined;
      if (split !== undefined) rows.push(`/${weightOf(2 * rank + 1)}/ ${split}`);
      rank += 1;
    }
  }
  if (rows.length === 0) throw new RangeError(`the vocabulary has nothing sayable for {${name}}`);
  return `(${rows.join(" | ")})`;
}

/**
 * JSGF of everything that a note may say. `asked`: what the bot has just asked for (one of `FIGURES_ASKED`), so that a
 * figure alone is likely, in the units of that question.
 */
export function grammarText(sounds: Sounds, asked?: string): string {
  const names = new Map<string, string>();
  const rule = (name: string): string => {
    const id = `v_${name.replace(/\W/g, "_")}`;
    if (!names.has(id)) names.set(id, choiceOf(name, sounds));
    return `<${id}>`;
  };
  const sentences = SENTENCES.replace(
    "/1/ <answer>",
    asked === undefined ? "/1/ <answer>" : ANSWERED,
  )
    .replace("%answer", ANSWER_TO[asked ?? ""] ?? ANY_ANSWER)
    .replace(/\{([^}]+)\}/g, (_, name: string) => rule(name));
  const words = [...names].map(([id, body]) => `<${id}> = ${body} ;`).join("\n");
  return `#JSGF V1.0;\ngrammar note;\n${words}\n${sentences}`;
}
