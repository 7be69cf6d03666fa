/**
 * Between the tokens and the spelling: thumb shorthand (`crk`, `dp`, `theres`) becomes the word it stands for, letters that label a
 * size become the label, and words that speech confuses become those that were said.
 */
import { meantAt } from "./heard-words.js";
import { numberMeantAt } from "./number-homophones.js";
import { meansOf } from "./phrases.js";
import { isNumberWord } from "./spoken.js";
import { together } from "./token-steps.js";
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD } from "./units.js";
import { ONES, SHORTHAND } from "./vocabulary.js";

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
/** `down 2 20`: after these words a lone 2 before a figure is `to`. */
const BEFORE_TO = /^(down|out|it|him|her|ring|bar|drew|drawn|taken|back|up|disc|block|edge)$/;

const isNumber = (token: Token | undefined): boolean =>
  token?.kind === "number" || isNumberWord(token?.text ?? "");

/** What the whole message tells of its letters. */
interface Manner {
  /** Something round is measured. */
  readonly round: boolean;
  /** An `l` and a `w` stand beside figures. */
  readonly letters: boolean;
  /** Blades are spoken of. */
  readonly blades: boolean;
}

/** Tokens with shorthand written out. Places in the message are kept. */
export function writtenOut(all: readonly Token[]): readonly Token[] {
  const tokens = together(all);
  const manner: Manner = {
    round: tokens.some((token) => ROUND.test(token.text)),
    letters: ["l", "w"].every((one) => tokens.some((token) => token.text === one)),
    blades: tokens.some((token) => /^(blades|knives|daggers)$/.test(token.text)),
  };
  return tokens.map((token, i) => {
    if (token.kind !== "word") return signAt(tokens, i) ?? digitAt(tokens, i) ?? token;
    const number = numberMeantAt(tokens, i);
    if (number) return number;
    const text =
      smallWordAt(tokens, i, manner) ??
      letterAt(tokens, i, manner) ??
      labelAt(token) ??
      (token.text === "pair" && manner.blades ? "two" : undefined) ??
      meantAt(tokens, i) ??
      (isNumber(tokens[i - 1]) ? UNIT_NOUNS[token.text] : undefined) ??
      short.get(token.text);
    return text === undefined ? token : { ...token, text };
  });
}

/** `@ 950`, `grinding -26 g`: a sign that is a word, what went told with a minus. */
function signAt(tokens: readonly Token[], at: number): Token | undefined {
  const token = tokens[at];
  const sign = token?.kind === "sign" ? SIGNS[token.text] : undefined;
  if (token && sign !== undefined && !figuresBeside(tokens, at))
    return { ...token, kind: "word", text: sign };
  if (
    token?.kind === "other" &&
    /^-\d+([.,]\d+)?$/.test(token.text) &&
    TAKEN.test(tokens[at - 1]?.text ?? "")
  ) {
    const value = Number(token.text.slice(1).replace(",", "."));
    return { ...token, kind: "number", value, whole: Number.isInteger(value) };
  }
  return undefined;
}

/** `2 blades from one bar`, `down 2 20`: a digit that is a word. */
function digitAt(tokens: readonly Token[], at: number): Token | undefined {
  const token = tokens[at];
  if (token?.text !== "2") return undefined;
  const [next, after] = [tokens[at + 1], tokens[at + 2]];
  if (/^(blades|knives)$/.test(next?.text ?? "") && /^(from|out|tang)$/.test(after?.text ?? ""))
    return { ...token, kind: "word", text: "two" };
  const before = tokens[at - 1]?.text ?? "";
  return !token.glued &&
    BEFORE_TO.test(short.get(before) ?? before) &&
    next?.kind === "number" &&
    !next.glued &&
    after?.text !== "/"
    ? { ...token, kind: "word", text: "to" }
    : undefined;
}

/** `next one 1700 F`, `back to no 7`, `held it four three minutes`, `this n that`, `w the chisel`. */
function smallWordAt(tokens: readonly Token[], at: number, manner: Manner): string | undefined {
  const text = tokens[at]?.text;
  const [before, next] = [tokens[at - 1], tokens[at + 1]];
  const numberNext = next?.kind === "number";
  if (text === "one" && before?.text === "next" && numberNext && next.value >= HOT) return "heat";
  if (text === "no" && numberNext && /^(to|on|ingot)$/.test(before?.text ?? "")) return "number";
  if (
    text === "four" &&
    /^(it|held|soaked|hold|soak|sat|took)$/.test(before?.text ?? "") &&
    isNumber(next) &&
    UNIT_OF_WORD.get(tokens[at + 2]?.text ?? "") === "min"
  )
    return "for";
  if (
    text === "n" &&
    before !== undefined &&
    (next?.kind === "word" || (numberNext && !next.glued))
  )
    return "and";
  if (text === "w" && next?.kind === "word" && before?.kind === "word" && !manner.letters)
    return "with";
  return undefined;
}
/** From here on a figure is a temperature (docs/reading.md), °C. */
const HOT = 500;

/** `ht3`, `th 17`, `ing Kos`, `33 h` of a puck, `.15 T` beside an L and a W. */
function letterAt(tokens: readonly Token[], at: number, manner: Manner): string | undefined {
  const token = tokens[at];
  const [before, next, after] = [tokens[at - 1], tokens[at + 1], tokens[at + 2]];
  if (!token || !/^(ht|hts|th|ing|h|t)$/.test(token.text)) return undefined;
  const figureBefore = before?.kind === "number";
  const figureNext = next?.kind === "number";
  const hot = figureNext && (next.value >= HOT || (after?.kind === "number" && after.value >= HOT));
  if (token.text === "ht" || token.text === "hts") {
    const counted = /^(st|nd|rd|th|first|second|third|fourth|fifth|sixth|seventh)$/.test(
      before?.text ?? "",
    );
    const worked =
      meansOf(before?.text ?? "").some((is) => is.startsWith("op:")) ||
      /^(flat|square|out)$/.test(before?.text ?? "");
    if (!manner.round || counted || hot || (worked && next?.glued === true))
      return token.text === "hts" ? "heats" : "heat";
    return undefined;
  }
  if (token.text === "th") {
    const measured = figureNext || (next?.text === "~" && after?.kind === "number");
    return measured && !figureBefore ? "thickness" : undefined;
  }
  if (token.text === "ing") return next === undefined ? undefined : "ingot";
  // `h seven nine fifty`.
  if (
    token.text === "h" &&
    ONES[next?.text ?? ""] !== undefined &&
    isNumber(after) &&
    !/^(half|a|an)$/.test(before?.text ?? "")
  )
    return "heat";
  if (token.text === "t") return manner.letters && figureBefore ? "thickness" : undefined;
  // `bottom 38 h 45`, `33 h`: high, unless it is the heat of `ingot 8 h3 945`.
  if (!manner.round || !figureBefore) return undefined;
  if (next?.glued && (hot || before.value >= HOT)) return undefined;
  if (figureNext && !token.glued) return "height";
  const clock = token.glued && figureNext && next.glued;
  return clock ? undefined : "high";
}

/** `length's wrong`: the label. */
const labelAt = ({ text }: Token): string | undefined =>
  OF_LABEL.test(text) ? text.slice(0, -2) : undefined;
const OF_LABEL =
  /^(length|width|height|thickness|depth|weight|diameter|wall|block|disc|pipe|tang|tip|spine|edge|rim|face|butt|heat|melt)'s$/;
