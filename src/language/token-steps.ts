/** Before single words are looked at: what spans several tokens (forms with colons, marks of ingots, things said twice, `no. 9`). */
import { isNumberWord } from "./spoken.js";
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD } from "./units.js";
import { NUMBER_CONFUSIONS } from "./vocabulary.js";

const isNumber = (token: Token | undefined): boolean =>
  token?.kind === "number" || isNumberWord(token?.text ?? "");

/** Digits that stand for their sound. */
const DIGIT_WORDS: Readonly<Record<string, string>> = {
  b4: "before",
  gr8: "great",
  l8: "late",
  str8: "straight",
};
/** An ingot is wider, mm. Common practice, no source; 20 to 40. */
const NARROWEST_MM = 20;

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
      // `ingot W9`: no ingot is so narrow.
      (word.text.length >= 2 ||
        (/^[wltd]$/.test(word.text) && lead === "ingot" && token.value < NARROWEST_MM)) &&
      word.text.length <= 4 &&
      /^(ingot|ing|called|named|name|to|onto|on)$/.test(lead) &&
      !UNIT_OF_WORD.has(word.text) &&
      !/^(ht|heat|no|nr|melt|bar)$/.test(word.text);
    if (mark && word)
      out[out.length - 1] = { ...word, text: word.text + token.text, end: token.end };
    // `ingot 12B`.
    else if (
      token.glued &&
      /^[abdeijlnopqruvyz]$/.test(token.text) &&
      word?.kind === "number" &&
      /^(ingot|ing|called|named)$/.test(lead)
    )
      out[out.length - 1] = { ...word, kind: "word", text: word.text + token.text, end: token.end };
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
  tokens.some((token) => token.text === "?") ? echoesDropped(tokens) : tokens;

const askedAt = (tokens: readonly Token[], at: number): boolean =>
  tokens[at]?.text === "did" && tokens[at + 1]?.text === "i" && tokens[at + 2]?.text === "say";

const echoesDropped = (tokens: readonly Token[]): readonly Token[] =>
  tokens.flatMap((token, i) => {
    if (askedAt(tokens, i)) return [];
    if (askedAt(tokens, i - 2)) return [{ ...token, text: "said" }];
    if (token.text !== "?") return [token];
    const next = tokens[i + 1];
    const near = tokens.slice(Math.max(0, i - MOST_ECHO_WORDS - 1), i);
    const echo = near.slice(near.findLastIndex((one) => /^[.;!?\n]$/.test(one.text)) + 1);
    const said = echo[0]?.text === "did" && echo[2]?.text === "say";
    const asks = echo.some((one) => ASKING.test(one.text)) && !said;
    const answered =
      next !== undefined &&
      (ANSWERS.test(next.text) || isNumber(next)) &&
      (next.text !== "i" || tokens[i + 2]?.text === "meant" || tokens[i + 2]?.text === "mean");
    const short = echo.length > 0 && echo.length <= MOST_ECHO_WORDS;
    return short && !asks && answered ? [{ ...token, text: "," }] : [token];
  });

/** `ingot no. 9`: the full stop belongs to the word. */
const withoutDots = (tokens: readonly Token[]): readonly Token[] =>
  tokens.filter((token, i) => {
    const [before, next] = [tokens[i - 1]?.text ?? "", tokens[i + 1]];
    // `new ingot, no 48`.
    if (token.text === "," && before === "ingot")
      return !(/^(no|nr|number)$/.test(next?.text ?? "") && tokens[i + 2]?.kind === "number");
    return !(
      token.text === "." &&
      token.glued &&
      DOTTED_WORD.test(before) &&
      next?.kind === "number"
    );
  });
const DOTTED_WORD = /^(no|nr|num|ca|approx|circa|temp|dia|wt|abt)$/;

/** Two words that speech writes for one. */
const PAIRS: Readonly<Record<string, string>> = {
  "hare line": "hairline",
  "hair line": "hairline",
  "here line": "hairline",
  "straight end": "straightened",
};
const PAIRED = new Set(Object.keys(PAIRS).map((pair) => pair.split(" ")[0]));
const pairAt = (tokens: readonly Token[], at: number): string | undefined => {
  const [first, second] = [tokens[at], tokens[at + 1]];
  return first && second && PAIRED.has(first.text)
    ? PAIRS[`${first.text} ${second.text}`]
    : undefined;
};
const withPairs = (tokens: readonly Token[]): readonly Token[] =>
  tokens.some((token) => PAIRED.has(token.text))
    ? tokens.flatMap((token, i) => {
        if (pairAt(tokens, i - 1) !== undefined) return [];
        const one = pairAt(tokens, i);
        return [
          one === undefined ? token : { ...token, text: one, end: tokens[i + 1]?.end ?? token.end },
        ];
      })
    : tokens;

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

/** The tokens after all of these steps. */
export const together = (tokens: readonly Token[]): readonly Token[] =>
  STEPS.reduce((now, step) => step(now), tokens);
