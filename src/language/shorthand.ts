/**
 * Between the tokens and the spelling: thumb shorthand (`crk`, `dp`, `theres`) becomes the word it stands for, and the words that speech
 * confuses with numbers (`too more heats`, `to mil deep`) become the number where nothing else makes sense.
 */
import { meansOf } from "./phrases.js";
import { isNumberWord } from "./spoken.js";
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD } from "./units.js";
import { NUMBER_CONFUSIONS, SHORTHAND, TENS } from "./vocabulary.js";

const short = new Map(
  Object.entries(SHORTHAND).flatMap(([word, forms]) =>
    forms.split(", ").map((form) => [form, word] as const),
  ),
);
/** Signs that are read as words. */
const SIGNS: Readonly<Record<string, string>> = { "@": "at", "&": "and", "+": "and" };
/** `h4+h5`, `4 & 5`: left as they are, the heats' numbers need them. */
const figuresBeside = (tokens: readonly Token[], at: number): boolean =>
  tokens[at]?.text !== "@" &&
  tokens[at - 1]?.kind === "number" &&
  tokens[at + 1]?.kind === "number";
/** What speech writes for a word of the shop, and after which word: `the wait is`, `punched an ate mill whole`. */
const HEARD: readonly { word: string; before: RegExp; after: RegExp; is: string }[] = [
  {
    word: "wait",
    before: /^(the|its|it's|bar|current|total|)$/,
    after: /^(is|was|now|of|at)$/,
    is: "weight",
  },
  {
    word: "whole",
    before: /^(mil|mill|mm|inch|inches|a|an|the)$/,
    after: /^(|through|in|out|,|and)$/,
    is: "hole",
  },
  { word: "knot", before: /./, after: /./, is: "not" },
  {
    word: "peace",
    before: /^(|the|this|that|a|and)$/,
    after: /^(is|was|now|weighs|came|of)$/,
    is: "piece",
  },
  {
    word: "to",
    before: /^(its|it's|is|was|get|gets|getting|got|too)$/,
    after: /^(cold|hot|thick|thin)$/,
    is: "too",
  },
  {
    word: "seem",
    before: /^(a|the|small|little|hairline|this|that|fine|tiny|another)$/,
    after: /^/,
    is: "seam",
  },
  {
    word: "hate",
    before: /^/,
    after: /^(\d+|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|number)$/,
    is: "heat",
  },
  {
    word: "ways",
    before: /^(?!both)/,
    after:
      /^(\d|in|at|about|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|a)/,
    is: "weighs",
  },
  { word: "root", before: /^(spine|face|end|ring)$/, after: /^(please|and|for|)$/, is: "route" },
  {
    word: "saw",
    before: /^(i|we)$/,
    after: /^(it|a|an|that|this|another|one|no|nothing|the crack)$/,
    is: "found",
  },
  { word: "seem", before: /^(|and|then)$/, after: /^(on|at|in|along|near)$/, is: "seam" },
  { word: "loose", before: /^(i|we|it|did)$/, after: /^/, is: "lose" },
  { word: "hi", before: /^\d/, after: /^/, is: "high" },
];
const byWord = new Map<string, (typeof HEARD)[number][]>();
for (const one of HEARD) byWord.set(one.word, [...(byWord.get(one.word) ?? []), one]);
const NUMBERS = ["", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
/** What follows a unit when the word before it was a number: `to mil deep`, `for grams off`. */
const AFTER_UNIT = /^(deep|long|wide|thick|high|tall|across|off|crack|lost|gone|ago|hole|whole)$/;
/** Round things are measured across: beside one of these `ht` is a height, elsewhere a heat. */
const ROUND =
  /^(dia|diam|diameter|ø|across|disc|disk|puck|ring|cone|bowl|ingot|outside|wall|od|round)$/;

const TAKEN =
  /^(grinding|ground|grind|filed|filing|cut|cutting|lost|loss|chiselled|removed|scale)$/;
const UNIT_NOUNS: Readonly<Record<string, string>> = {
  pounder: "pound",
  pounders: "pound",
  tonner: "ton",
  tonners: "ton",
};
/** Digits that stand for their sound. */
const DIGIT_WORDS: Readonly<Record<string, string>> = {
  b4: "before",
  gr8: "great",
  l8: "late",
  str8: "straight",
};
/** `down 2 20`: after these words a lone 2 before a figure is `to`. */
const BEFORE_TO = /^(down|out|it|him|her|ring|bar|drew|drawn|taken|back|up|disc|block|edge)$/;

/** `ingot RB2`: letters and a number in one are a name. */
function withMarks(tokens: readonly Token[]): readonly Token[] {
  const out: Token[] = [];
  for (const token of tokens) {
    const word = out[out.length - 1];
    const lead = out[out.length - 2]?.text ?? "";
    const mark =
      token.kind === "number" &&
      token.glued &&
      token.whole &&
      token.text.length <= 3 &&
      word?.kind === "word" &&
      word.text.length >= 2 &&
      word.text.length <= 4 &&
      /^(ingot|ing|called|named|name|to|onto|on)$/.test(lead) &&
      !UNIT_OF_WORD.has(word.text) &&
      !/^(ht|heat|no|nr|melt|bar)$/.test(word.text);
    if (mark && word)
      out[out.length - 1] = { ...word, text: word.text + token.text, end: token.end };
    // `b4 its too cold`, `str8ened`.
    else if (
      token.glued &&
      word &&
      !word.glued &&
      Object.hasOwn(DIGIT_WORDS, word.text + token.text)
    )
      out[out.length - 1] = {
        ...word,
        text: DIGIT_WORDS[word.text + token.text] ?? word.text,
        end: token.end,
      };
    else if (token.glued && token.text === "ened" && word?.text === "straight")
      out[out.length - 1] = { ...word, text: "straightened", end: token.end };
    else out.push(token);
  }
  return out.length === tokens.length ? tokens : out;
}

/** `heat heat seven`: said twice, meant once. Figures are never touched. */
const withoutStutter = (tokens: readonly Token[]): readonly Token[] =>
  tokens.filter(
    (token, i) =>
      !(
        token.kind === "word" &&
        token.text.length > 2 &&
        token.text === tokens[i - 1]?.text &&
        !isNumberWord(token.text) &&
        !Object.hasOwn(NUMBER_CONFUSIONS, token.text)
      ),
  );

/** `thirty bye thirty for buy two ten`: between numbers it joins. */
const withJoins = (tokens: readonly Token[]): readonly Token[] =>
  tokens.map((token, i) => {
    if (!/^(buy|bye|bi)$/.test(token.text)) return token;
    const [before, after] = [tokens[i - 1]?.text ?? "", tokens[i + 1]?.text ?? ""];
    const joins =
      (isNumber(tokens[i - 1]) || Object.hasOwn(NUMBER_CONFUSIONS, before)) &&
      (isNumber(tokens[i + 1]) || Object.hasOwn(NUMBER_CONFUSIONS, after));
    return joins ? { ...token, text: "by" } : token;
  });

const ASKING =
  /^(what|whats|what's|how|which|where|when|who|why|is|are|was|were|do|does|did|can|could|will|would|should|any|enough|next|shall|has|have|am|if)$/;
const ANSWERS = /^(it's|its|it|she's|that's|that|they're|about|roughly|a|an|i)$/;
const MOST_ECHO_WORDS = 6;
/** `The press? It's 30 tons`: asked of nobody, the answer follows. `Did I say 24 thick? I meant 25`: what was said. */
const withoutEcho = (tokens: readonly Token[]): readonly Token[] =>
  tokens.flatMap((token, i) => {
    const asked = (at: number): boolean =>
      tokens[at]?.text === "did" && tokens[at + 1]?.text === "i" && tokens[at + 2]?.text === "say";
    if (asked(i)) return [];
    if (asked(i - 2)) return [{ ...token, text: "said" }];
    if (token.text !== "?") return [token];
    const next = tokens[i + 1];
    const start = tokens.slice(0, i).findLastIndex((one) => /^[.;!?\n]$/.test(one.text)) + 1;
    const echo = tokens.slice(start, i);
    const asks =
      echo.some((one) => ASKING.test(one.text)) &&
      !(echo[0]?.text === "did" && echo[2]?.text === "say");
    const answered =
      next !== undefined &&
      (ANSWERS.test(next.text) || isNumber(next)) &&
      (next.text !== "i" || tokens[i + 2]?.text === "meant" || tokens[i + 2]?.text === "mean");
    const short = echo.length > 0 && echo.length <= MOST_ECHO_WORDS;
    return short && !asks && answered ? [{ ...token, text: "," }] : [token];
  });

/** `ingot no. 9`: the full stop belongs to the word. */
const withoutDots = (tokens: readonly Token[]): readonly Token[] =>
  tokens.filter(
    (token, i) =>
      !(
        token.text === "." &&
        token.glued &&
        /^(no|nr|num|ca|approx|circa|temp|dia|wt|abt)$/.test(tokens[i - 1]?.text ?? "") &&
        tokens[i + 1]?.kind === "number"
      ),
  );

/** Two words that speech writes for one. */
const PAIRS: Readonly<Record<string, string>> = {
  "hare line": "hairline",
  "hair line": "hairline",
  "here line": "hairline",
  "straight end": "straightened",
};
const withPairs = (tokens: readonly Token[]): readonly Token[] =>
  tokens.flatMap((token, i) => {
    const pair = (at: number): string | undefined => {
      const key = `${tokens[at]?.text} ${tokens[at + 1]?.text}`;
      return Object.hasOwn(PAIRS, key) ? PAIRS[key] : undefined;
    };
    if (i > 0 && pair(i - 1) !== undefined) return [];
    const one = pair(i);
    return [
      one === undefined ? token : { ...token, text: one, end: tokens[i + 1]?.end ?? token.end },
    ];
  });

const isNumber = (token: Token | undefined): boolean =>
  token?.kind === "number" || isNumberWord(token?.text ?? "");
const LABELS =
  /^(thick|wide|long|deep|high|tall|across|mm|mil|g|grams|inch|inches|ounces|degrees)$/;
const numberBeside = (tokens: readonly Token[], at: number): boolean =>
  (isNumber(tokens[at - 1]) || LABELS.test(tokens[at - 1]?.text ?? "")) && isNumber(tokens[at + 1]);

/** Words that name what follows their colon, as in a form: `heat: 5, temp: 1760 F, op: draw`. */
const KEYS =
  /^(heat|melt|ingot|tang|route|op|operation|place|size|sizes|temp|temperature|hold|held|cooling|crack|seam|position|disc|block|ring|shape|goal|colour|color|hole|lost|cut|ground|filed|sawn|wt|weight|mass|ht|height|dia|diameter|thick|thickness|width|length|carbon|charge|peak|pipe|when|depth|switch|to|name|out)$/;
/** Keys that say nothing beside their value. */
const BARE_KEYS = /^(op|operation|place|when|position|size|sizes|shape|where|what)$/;

/** Without the colons and the bare keys of a form. */
const OPERATIONS: Readonly<Record<string, string>> = {
  edge: "edged",
  square: "squared",
  open: "opened",
  straight: "straightened",
};
/** `w/ the chisel`: with. */
const withSlash = (tokens: readonly Token[]): readonly Token[] =>
  tokens.flatMap((token, i) => {
    if (token.text === "/" && token.glued && tokens[i - 1]?.text === "w") return [];
    const slash = tokens[i + 1];
    return token.text === "w" && slash?.text === "/" && slash.glued
      ? [{ ...token, text: "with", end: slash.end }]
      : [token];
  });

const withoutKeys = (all: readonly Token[]): readonly Token[] => {
  if (!all.some((token) => token.text === ":" || token.text === "=")) return all;
  // `op: edge` is a working, not a place.
  const tokens = all.map((token, i) => {
    const key = all[i - 1]?.text === ":" && /^op(eration)?$/.test(all[i - 2]?.text ?? "");
    const worked = key ? OPERATIONS[token.text] : undefined;
    return worked === undefined ? token : { ...token, text: worked };
  });
  return tokens.filter((token, i) => {
    const next = tokens[i + 1];
    if (token.text === ":" || token.text === "=")
      return !(tokens[i - 1]?.kind === "word" && KEYS.test(tokens[i - 1]?.text ?? ""));
    return !(next?.text === ":" && BARE_KEYS.test(token.text));
  });
};

/** What is put right in the row of tokens, in this order, before single words are looked at. */
const STEPS: readonly ((tokens: readonly Token[]) => readonly Token[])[] = [
  withoutKeys,
  withSlash,
  withMarks,
  withoutStutter,
  withoutDots,
  withoutEcho,
  withPairs,
  withJoins,
];

/** Tokens with shorthand written out. Places in the message are kept. */
export function writtenOut(all: readonly Token[]): readonly Token[] {
  const tokens = STEPS.reduce((now, step) => step(now), all);
  const round = tokens.some((token) => ROUND.test(token.text));
  const letters = ["l", "w"].every((one) => tokens.some((token) => token.text === one));
  const pairs = tokens.some((token) => /^(blades|knives|daggers)$/.test(token.text));
  return tokens.map((token, i) => {
    const sign = token.kind === "sign" ? SIGNS[token.text] : undefined;
    if (sign !== undefined && !figuresBeside(tokens, i))
      return { ...token, kind: "word", text: sign };
    // `grinding -26 g`: what went, told with a minus.
    if (
      token.kind === "other" &&
      /^-\d+([.,]\d+)?$/.test(token.text) &&
      TAKEN.test(tokens[i - 1]?.text ?? "")
    ) {
      const value = Number(token.text.slice(1).replace(",", "."));
      return { ...token, kind: "number", value, whole: Number.isInteger(value) };
    }
    // `2 blades from one bar`: a phrase of the vocabulary.
    if (
      token.text === "2" &&
      /^(blades|knives)$/.test(tokens[i + 1]?.text ?? "") &&
      /^(from|out|tang)$/.test(tokens[i + 2]?.text ?? "")
    )
      return { ...token, kind: "word", text: "two" };
    if (
      token.text === "2" &&
      !token.glued &&
      BEFORE_TO.test(short.get(tokens[i - 1]?.text ?? "") ?? tokens[i - 1]?.text ?? "") &&
      tokens[i + 1]?.kind === "number" &&
      tokens[i + 1]?.glued === false &&
      tokens[i + 2]?.text !== "/"
    )
      return { ...token, kind: "word", text: "to" };
    if (token.kind !== "word") return token;
    // `next one 1700F`.
    const hotNext = tokens[i + 1]?.kind === "number" && (tokens[i + 1]?.value ?? 0) >= 500;
    if (token.text === "one" && tokens[i - 1]?.text === "next" && hotNext)
      return { ...token, text: "heat" };
    // `back to no 7`.
    if (
      token.text === "no" &&
      tokens[i + 1]?.kind === "number" &&
      /^(to|on|ingot)$/.test(tokens[i - 1]?.text ?? "")
    )
      return { ...token, text: "number" };
    // `held it four three minutes`.
    if (
      token.text === "four" &&
      /^(it|held|soaked|hold|soak|sat|took)$/.test(tokens[i - 1]?.text ?? "") &&
      isNumber(tokens[i + 1]) &&
      UNIT_OF_WORD.get(tokens[i + 2]?.text ?? "") === "min"
    )
      return { ...token, text: "for" };
    const next = tokens[i + 1];
    const after = tokens[i + 2];
    if (Object.hasOwn(NUMBER_CONFUSIONS, token.text) && tokens[i - 1]?.kind !== "number") {
      const number = NUMBERS[NUMBER_CONFUSIONS[token.text] ?? 0];
      const heats = next?.text === "more" && after?.text === "heats";
      const measured =
        next !== undefined &&
        next.text !== "in" &&
        next.text.length > 1 &&
        UNIT_OF_WORD.has(next.text) &&
        AFTER_UNIT.test(after?.text ?? "");
      const before = tokens[i - 1]?.text ?? "";
      // `an ate mill hole`, `soaked for for minutes`, `won and a quarter`.
      const unit = next !== undefined && UNIT_OF_WORD.has(next.text) && next.text.length > 1;
      const led =
        (/^(an?)$/.test(before) && unit) ||
        (/^(for|about|took|held|soaked|holding|soaking|hold)$/.test(before) &&
          UNIT_OF_WORD.get(next?.text ?? "") === "min");
      const tens = TENS[tokens[i - 1]?.text ?? ""] !== undefined;
      const hundred = before === "and" && /^(hundred|thousand)$/.test(tokens[i - 2]?.text ?? "");
      const closed =
        next === undefined ||
        /^(deep|wide|high|thick|long|tall|across|off|by|bowl|puck|cone|and|,)$/.test(next.text) ||
        UNIT_OF_WORD.has(next.text);
      // `twenty for wide`, `seven hundred and for grams`, `thickness for`, `filed off too grams`.
      const inside = (tens && closed && next !== undefined) || (hundred && closed);
      const surely =
        /^(ate|won|tree|fore)$/.test(token.text) &&
        /^(off|across|deep|long|wide|thick|high|by|x)$/.test(next?.text ?? "");
      const listed = before === "by" && next === undefined;
      const inList = tens && next === undefined && tokens.some((one) => one.text === "by");
      const counted =
        (/^(ate|won|fore|tree)$/.test(token.text) && /^(melt|ingot)$/.test(before)) ||
        (/^(to|too)$/.test(token.text) && /^(blades|knives|daggers)$/.test(next?.text ?? ""));
      const begins = before === "by" && /^(won)$/.test(token.text) && isNumber(next);
      const off =
        next?.text === "off" &&
        /(ed|cut|ground|sawn|took|lost|and)$/.test(before) &&
        token.text !== "to";
      // As a figure, so that the next one does not run into it: `melt ate fifty nine across`.
      if (number && counted && /^(melt|ingot)$/.test(before))
        return {
          ...token,
          kind: "number",
          text: String(NUMBER_CONFUSIONS[token.text]),
          value: NUMBER_CONFUSIONS[token.text] ?? 0,
          whole: true,
        };
      if (number && (counted || begins || off)) return { ...token, text: number };
      const melt =
        before === "melt" &&
        /^(cooled|peak|peaked|held|at|charge|was|is)$/.test(next?.text ?? "") &&
        token.text !== "to";
      if (number && (surely || listed || inList || melt)) return { ...token, text: number };
      const alone =
        (token.text === "to" || token.text === "for" || token.text === "fore") &&
        /^(deep|wide|high|thick)$/.test(next?.text ?? "") &&
        !isNumber(tokens[i - 1]);
      // `undo the last to`.
      const last =
        next === undefined && /^(thickness|width|height|depth|length|last)$/.test(before);
      const taken =
        /^(off|of|lost|away|about|another)$/.test(before) &&
        UNIT_OF_WORD.has(next?.text ?? "") &&
        (next?.text ?? "").length > 2;
      if (number && (inside || alone || last || taken)) return { ...token, text: number };
      const parted =
        !/^(to|too|for)$/.test(token.text) &&
        next?.text === "and" &&
        after?.text === "a" &&
        /^(half|quarter|third)$/.test(tokens[i + 3]?.text ?? "");
      if (number && (heats || measured || led || parted)) return { ...token, text: number };
    }
    const counted = /^(st|nd|rd|th|first|second|third|fourth|fifth|sixth|seventh)$/.test(
      tokens[i - 1]?.text ?? "",
    );
    const hot =
      counted ||
      (next?.kind === "number" &&
        (next.value >= 500 || (after?.kind === "number" && after.value >= 500)));
    const worked = meansOf(tokens[i - 1]?.text ?? "").some((is) => is.startsWith("op:"));
    const flat = /^(flat|square|out)$/.test(tokens[i - 1]?.text ?? "");
    const heat = (worked || flat) && next?.glued === true;
    if ((token.text === "ht" || token.text === "hts") && (!round || hot || heat))
      return { ...token, text: token.text === "hts" ? "heats" : "heat" };
    if (
      token.text === "n" &&
      tokens[i - 1] !== undefined &&
      (next?.kind === "word" || (next?.kind === "number" && !next.glued))
    )
      return { ...token, text: "and" };
    const with_ = /^(the|a|an|my|his)$/.test(next?.text ?? "") || next?.kind === "word";
    if (token.text === "w" && with_ && tokens[i - 1]?.kind === "word" && !letters)
      return { ...token, text: "with" };
    // `th 17`, `ing Kos`, `33 h` of a puck, `.15 T` beside an L and a W.
    const numberNext = next?.kind === "number";
    const measuredNext = numberNext || (next?.text === "~" && after?.kind === "number");
    if (token.text === "th" && measuredNext && tokens[i - 1]?.kind !== "number")
      return { ...token, text: "thickness" };
    if (token.text === "ing" && next !== undefined) return { ...token, text: "ingot" };
    // `bottom 38 h 45`: high.
    if (
      token.text === "h" &&
      round &&
      numberNext &&
      tokens[i - 1]?.kind === "number" &&
      !token.glued &&
      !(hot && next?.glued)
    )
      return { ...token, text: "height" };
    const clock = token.glued && numberNext && next?.glued;
    if (
      token.text === "h" &&
      round &&
      tokens[i - 1]?.kind === "number" &&
      !clock &&
      !(hot && next?.glued)
    )
      return { ...token, text: "high" };
    if (token.text === "t" && letters && tokens[i - 1]?.kind === "number")
      return { ...token, text: "thickness" };
    // `length's wrong`: the label.
    if (
      /^(length|width|height|thickness|depth|weight|diameter|wall|block|disc|pipe|tang|tip|spine|edge|rim|face|butt|heat|melt)'s$/.test(
        token.text,
      )
    )
      return { ...token, text: token.text.slice(0, -2) };
    if (token.text === "pair" && pairs) return { ...token, text: "two" };
    const heard = (byWord.get(token.text) ?? []).find(
      (one) => one.before.test(tokens[i - 1]?.text ?? "") && one.after.test(next?.text ?? ""),
    );
    if (heard !== undefined && (heard.word !== "knot" || numberBeside(tokens, i)))
      return { ...token, text: heard.is };
    // `a 65 pounder`, `a 30 tonner`.
    const measured = UNIT_NOUNS[token.text];
    if (measured !== undefined && isNumber(tokens[i - 1])) return { ...token, text: measured };
    const word = short.get(token.text);
    return word === undefined ? token : { ...token, text: word };
  });
}
