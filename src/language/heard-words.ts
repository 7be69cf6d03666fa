/** What speech writes for a word of the shop, and after which word: `the wait is`, `punched an ate mill whole`, `hare line`. */
import { isNumberWord } from "./spoken.js";
import type { Token } from "./tokens.js";

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
  { word: "hear", before: /^/, after: /^(\d+|no|number)$/, is: "heat" },
  { word: "heart", before: /^/, after: /^(\d+|no|number)$/, is: "heat" },
  { word: "head", before: /^/, after: /^(\d+|no|number)$/, is: "heat" },
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

const isNumber = (token: Token | undefined): boolean =>
  token?.kind === "number" || isNumberWord(token?.text ?? "");
const LABELS =
  /^(thick|wide|long|deep|high|tall|across|mm|mil|g|grams|inch|inches|ounces|degrees)$/;
const numberBeside = (tokens: readonly Token[], at: number): boolean =>
  (isNumber(tokens[at - 1]) || LABELS.test(tokens[at - 1]?.text ?? "")) && isNumber(tokens[at + 1]);

/** The word that was said, or undefined if the token stands as it is. */
export function meantAt(tokens: readonly Token[], at: number): string | undefined {
  const heard = (byWord.get(tokens[at]?.text ?? "") ?? []).find(
    (one) =>
      one.before.test(tokens[at - 1]?.text ?? "") && one.after.test(tokens[at + 1]?.text ?? ""),
  );
  return heard !== undefined && (heard.word !== "knot" || numberBeside(tokens, at))
    ? heard.is
    : undefined;
}
