import { describe, expect, it } from "vitest";
import { trace } from "../../src/language/index.js";
import { compare } from "./compare.js";
import { CORPUS_NOW, CORPUS_TIMEZONE, type CorpusCase, loadCorpus } from "./index.js";

/** Goals of the reading (docs/reading.md). */
const EXACT_GOAL = 0.97;
const WRONG_GOAL = 1 / 500;

const title = (one: CorpusCase): string =>
  `${one.id} ${one.text}${one.context?.units === "inch" ? " [inch]" : ""}`;

describe("tuning part, case by case", () => {
  it.each(loadCorpus("tuning").map((one) => [title(one), one] as const))("%s", (_, one) => {
    const result = compare(one);
    if (result.exact) return;
    const lines = trace(one.text, {
      now: CORPUS_NOW,
      timezone: CORPUS_TIMEZONE,
      units: one.context?.units ?? "mm",
    });
    expect.fail(
      `want ${JSON.stringify(one.entries)}${one.ask ? " and a question" : ""}\ngot  ${result.got}\n${lines.join("\n")}`,
    );
  });
});

describe("not read as it should be yet", () => {
  for (const one of loadCorpus("pending"))
    it.fails(title(one), () => expect(compare(one).exact).toBe(true));
});

describe("part set aside, as one figure", () => {
  const results = loadCorpus("set-aside").map(compare);
  const exact = results.filter((one) => one.exact).length;
  const wrong = results.filter((one) => one.wrongFigure).length;

  it(`exact ${exact} of ${results.length}, wrong figures recorded without asking ${wrong}`, () => {
    expect(exact / results.length).toBeGreaterThanOrEqual(EXACT_GOAL);
    expect(wrong / results.length).toBeLessThanOrEqual(WRONG_GOAL);
  });
});
