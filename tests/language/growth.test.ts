/** Reading takes time in proportion to the length: four times the words, about four times the time, far from sixteen. */
import { describe, expect, it } from "vitest";
import { clausesOf } from "../../src/language/clauses.js";
import { readFacts } from "../../src/language/facts.js";
import { itemsOf, unitHints } from "../../src/language/items.js";
import { newLedger } from "../../src/language/ledger.js";
import { partsOf } from "../../src/language/parts-of.js";
import { repaired } from "../../src/language/self-repair.js";
import { sentenceOf } from "../../src/language/sentence.js";
import { writtenOut } from "../../src/language/shorthand.js";
import { respell } from "../../src/language/spelling.js";
import { normalise } from "../../src/language/text.js";
import { tokenise } from "../../src/language/tokens.js";
import { momentsIn } from "../../src/language/when.js";
import { CONTEXT } from "./reading-context.js";

const TALK = { heat: true, worked: false, melt: false, ingot: false, shop: false };

/** Every step by itself: `read` stops after 8,000 characters, the steps must not need that. */
function steps(text: string): void {
  const spelt = respell(writtenOut(tokenise(normalise(text)))).tokens;
  const hints = unitHints(spelt, false);
  const tokens = repaired(spelt, hints).tokens;
  const moments = momentsIn(tokens, CONTEXT.now, CONTEXT.timezone);
  const parts = partsOf(itemsOf(tokens, hints, moments));
  const sentence = sentenceOf(text, tokens);
  const ledger = newLedger();
  for (const clause of clausesOf(parts))
    readFacts(clause.parts, ledger, CONTEXT, TALK, sentence, clause.parts);
}
/** The least processor time of several runs, µs: what else the machine does only ever adds. */
function quickest(text: string): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 5; i += 1) {
    const start = process.cpuUsage();
    steps(text);
    const { user, system } = process.cpuUsage(start);
    least = Math.min(least, user + system);
  }
  return least;
}
const KILOBYTE = 1024;
const repeated = (piece: string, kilobytes: number): string =>
  piece.repeat(Math.ceil((kilobytes * KILOBYTE) / piece.length));

describe("100 kB take less than eight times as long as 25 kB", () => {
  it.each([
    ["facts", "heat 4 at 950 drew it to 22x36x180, crack 2 deep on the spine. "],
    ["unknown words", "qwortz blimfel "],
    ["lists", "22x"],
    ["number words", "nine "],
    ["slips", "crakc hairlne "],
    ["stops", ".,;"],
    ["second thoughts", "9, no, 8 "],
    ["questions", "what? 9 "],
  ])("%s", (_, piece) => {
    steps(repeated(piece, 25));
    expect(quickest(repeated(piece, 100)) / quickest(repeated(piece, 25))).toBeLessThan(8);
  });
});
