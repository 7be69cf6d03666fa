/** The grammar: what it is made of, that making it small changes nothing, that figures fit. */
import { describe, expect, test } from "vitest";
import { spokenAt, tokenise, vocabulary } from "../../src/language/index.js";
import { type Automaton, automatonOf } from "../../src/speech/automaton.js";
import { chancesOf, FIGURE_KINDS, spreadOf } from "../../src/speech/figure-kinds.js";
import { grammarText } from "../../src/speech/grammar-text.js";
import { parseGrammar } from "../../src/speech/jsgf.js";
import { formsAlone, formsOf } from "../../src/speech/number-forms.js";
import { putIn } from "../../src/speech/put-in.js";
import { traceFigures } from "../../src/speech/trace-figures.js";
import { CORPUS } from "./corpus/corpus.js";
import { seeded } from "./corpus/seeded.js";
import { barShop } from "./corpus/states.js";

const small = "public <s> = /3/ a [b] | /1/ (a | c) <t> ; <t> = b | /2/ d d ;";

/** Every sentence of an automaton with its chance, by walking all ways. */
function sentences(automaton: Automaton): Map<string, number> {
  const found = new Map<string, number>();
  const walk = (state: number, words: string, chance: number): void => {
    const end = automaton.ends[state] ?? 0;
    if (end > 0) found.set(words.trim(), (found.get(words.trim()) ?? 0) + chance * end);
    for (const arc of automaton.arcs)
      if (arc.from === state) walk(arc.to, `${words} ${arc.word}`, chance * arc.chance);
  };
  walk(automaton.start, "", 1);
  return found;
}

test("the smallest automaton has the grammar's sentences with the grammar's chances", () => {
  // By hand: 3/4 for `a [b]`, halves of it; 1/4 for (a|c)<t>, halves, thirds.
  const found = sentences(automatonOf(parseGrammar(small)));
  expect([...found.keys()].sort()).toEqual(["a", "a b", "a d d", "c b", "c d d"]);
  expect(found.get("a")).toBeCloseTo(3 / 8, 9);
  expect([...found.values()].reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 9);
});

test("equal futures are one state", () => {
  const { states } = automatonOf(parseGrammar("public <s> = a x y | b x y | c x y ;"));
  expect(states).toBe(4);
});

test.each(["no public rule ;", "public <s> = (a | b ;", "public <s> = <nowhere> ;"])(
  "%s is refused",
  (text) => {
    expect(() => automatonOf(parseGrammar(text))).toThrow(RangeError);
  },
);

const sounds = (word: string): string => word;
const text = grammarText(sounds);
const grammar = automatonOf(parseGrammar(text));

describe("the grammar of a note", () => {
  test("every phrase of a place, an operation and a question that can be said is in it", () => {
    for (const group of ["place:", "op:", "about:"]) {
      for (const [meaning, line] of Object.entries(vocabulary.PHRASES)) {
        if (!meaning.startsWith(group)) continue;
        const [first = ""] = line.split(", ");
        expect(text, `${meaning} ${first}`).toContain(first);
      }
    }
  });
  test("a word that the engine can not say is left out, its line stays", () => {
    const without = grammarText((word) => (word === "fullered" ? undefined : word));
    expect(text).toContain("fullered");
    expect(without).not.toContain("fullered");
    expect(without).toContain("drew out");
  });
  test("chances of every state add up to one", () => {
    const sums = [...grammar.ends];
    for (const { from, chance } of grammar.arcs) sums[from] = (sums[from] ?? 0) + chance;
    for (const sum of sums) expect(sum).toBeCloseTo(1, 6);
  });
  test("has what the tuning part of the corpus says, with the figures where they were put", () => {
    for (const { part, talk, words, figures, context } of CORPUS.slice(0, 14)) {
      if (part !== "tune" || talk) continue;
      const traced = traceFigures(putIn(grammar, context), words.split(" "));
      expect(traced, words).toBeDefined();
      expect(traced?.figures.length, words).toBe(figures.length);
    }
  });
});

test("figures are said as reading reads them", () => {
  for (const value of [
    1, 7, 10, 15, 20, 36, 99, 100, 105, 180, 250, 358, 950, 999, 1000, 1005, 1015, 1050, 0.5, 2.5,
    1.3, 0.375, 1.875,
  ]) {
    for (const { words } of formsOf(value)) {
      expect(spokenAt(tokenise(words), 0)?.value, words).toBeCloseTo(value, 6);
    }
  }
});

test("chances of a figure add up to one, whatever is known", () => {
  const known = barShop(seeded(3)).context;
  for (const kind of FIGURE_KINDS) {
    for (const context of [
      known,
      { ...known, units: "inch" as const },
      { now: known.now, timezone: "UTC", units: "mm" as const },
    ]) {
      const sum = [...chancesOf(spreadOf(kind, context)).values()].reduce(
        (all, chance) => all + chance,
        0,
      );
      expect(sum, kind).toBeCloseTo(1, 6);
    }
  }
});

test("the next heat is likelier than any other, and every other can be said", () => {
  const { context } = barShop(seeded(3));
  const heats = context.ingot?.heats ?? 0;
  const chances = chancesOf(spreadOf("heat", context));
  const most = [...chances].sort((a, b) => b[1] - a[1])[0]?.[0];
  expect(most).toBe(heats + 1);
  expect(Math.min(...chances.values())).toBeGreaterThan(0);
});

test("a figure alone is also said digit by digit, with both ways to say nought; shares add up to one", () => {
  const words = (value: number): string[] => formsAlone(value).map((form) => form.words);
  expect(words(389)).toContain("three eight nine");
  expect(words(390)).toEqual(expect.arrayContaining(["three nine zero", "three nine oh"]));
  expect(words(42)).toEqual(["forty two"]);
  for (const value of [100, 305, 389, 390]) {
    const sum = formsAlone(value).reduce((all, { share }) => all + share, 0);
    expect(sum, String(value)).toBeCloseTo(1, 6);
  }
});

test.each([
  ["forty kilos", "setup-tup"],
  ["twenty tons", "setup-press"],
  ["three eight nine", "mass"],
  ["three eighty nine grams", "mass"],
])("`%s` answers %s", (said, expects) => {
  const answers = automatonOf(parseGrammar(grammarText(sounds, expects)));
  const context = { now: "2026-03-05T10:00:00Z", timezone: "UTC", units: "mm", expects } as const;
  const traced = traceFigures(putIn(answers, context), said.split(" "));
  expect(traced?.figures.map(({ kind }) => kind)).toEqual([
    said.endsWith("grams") ? expect.stringMatching(/^(mass|said)$/) : "said",
  ]);
});

test.each([
  ["nine eight one tons", "mass"],
  ["forty millimetres", "setup-tup"],
  ["twenty grams", "setup-press"],
])("`%s` does not answer %s", (said, expects) => {
  const answers = automatonOf(parseGrammar(grammarText(sounds, expects)));
  const context = { now: "2026-03-05T10:00:00Z", timezone: "UTC", units: "mm", expects } as const;
  const kinds = traceFigures(putIn(answers, context), said.split(" "))?.figures ?? [];
  expect(kinds.map(({ kind }) => kind)).not.toContain("said");
});

test("a filling keeps nothing of the note before: the same context gives the same grammar", () => {
  const first = barShop(seeded(3)).context;
  const arcs = putIn(grammar, first).arcs;
  putIn(grammar, { ...barShop(seeded(4)).context, units: "inch" });
  expect(putIn(grammar, first).arcs).toEqual(arcs);
});
