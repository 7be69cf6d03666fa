/**
 * Between the tokens and the spelling: thumb shorthand (`crk`, `dp`, `theres`) becomes the word it stands for, and the words that speech
 * confuses with numbers (`too more heats`, `to mil deep`) become the number where nothing else makes sense.
 */
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD } from "./units.js";
import { NUMBER_CONFUSIONS, SHORTHAND } from "./vocabulary.js";

const short = new Map(
  Object.entries(SHORTHAND).flatMap(([word, forms]) =>
    forms.split(", ").map((form) => [form, word] as const),
  ),
);
const NUMBERS = ["", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
/** What follows a unit when the word before it was a number: `to mil deep`, `for grams off`. */
const AFTER_UNIT = /^(deep|long|wide|thick|high|tall|across|off|crack|lost|ago)$/;
/** Round things are measured across: beside one of these `ht` is a height, elsewhere a heat. */
const ROUND =
  /^(dia|diam|diameter|ø|across|disc|disk|puck|ring|cone|bowl|ingot|outside|wall|od|round)$/;

/** Tokens with shorthand written out. Places in the message are kept. */
export function writtenOut(tokens: readonly Token[]): readonly Token[] {
  const round = tokens.some((token) => ROUND.test(token.text));
  return tokens.map((token, i) => {
    if (token.kind !== "word") return token;
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
      if (number && (heats || measured)) return { ...token, text: number };
    }
    if ((token.text === "ht" || token.text === "hts") && !round)
      return { ...token, text: token.text === "hts" ? "heats" : "heat" };
    if (token.text === "n" && next?.kind === "word" && tokens[i - 1] !== undefined)
      return { ...token, text: "and" };
    const word = short.get(token.text);
    return word === undefined ? token : { ...token, text: word };
  });
}
