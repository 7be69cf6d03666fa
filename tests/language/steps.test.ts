/** Each step of the pipeline by itself. */
import { describe, expect, it } from "vitest";
import { clausesOf } from "../../src/language/clauses.js";
import { figureAt } from "../../src/language/figures.js";
import { itemsOf, unitHints } from "../../src/language/items.js";
import { partsOf } from "../../src/language/parts-of.js";
import { quantityAt } from "../../src/language/quantities.js";
import { edits, nearestWord, respell } from "../../src/language/spelling.js";
import { spokenAt } from "../../src/language/spoken.js";
import { normalise } from "../../src/language/text.js";
import { type Token, tokenise } from "../../src/language/tokens.js";
import { momentsIn } from "../../src/language/when.js";
import { CONTEXT } from "./reading-context.js";

const tokens = (text: string): readonly Token[] => tokenise(normalise(text));
const words = (text: string): string[] => tokens(text).map((token) => token.text);
const HINTS = { inchChat: false, holding: false, press: false };
const parts = (text: string) => {
  const row = tokens(text);
  return partsOf(itemsOf(row, unitHints(row, false), []));
};

describe("normalise", () => {
  it.each([
    ["2½″ × 1’", "2½\" x 1'"],
    ["950 ℃ – 1,5 KG", "950 c - 1,5 kg"],
    ["Ø64 ⌀30", "ø64 ø30"],
    ["２２ｘ", "22ｘ"],
    ["thirty-six by one-eighty", "thirty six by one-eighty"],
  ])("%s", (text, want) => {
    expect(normalise(text)).toBe(want);
    expect(normalise(text).length).toBe(text.length);
  });
});

describe("tokens", () => {
  it.each([
    ["22mmx36", ["22", "mm", "x", "36"]],
    ["22x36x180", ["22", "x", "36", "x", "180"]],
    ["heat 4: 950°C", ["heat", "4", ":", "950", "°", "c"]],
    ["it's 2.5in", ["it's", "2.5", "in"]],
  ])("%s", (text, want) => expect(words(text)).toEqual(want));
  it.each([
    ["1,250", 1250],
    ["0,78", 0.78],
    ["12,5", 12.5],
    ["1.020,5", 1020.5],
    [".75", 0.75],
    ["½", 0.5],
  ])("value of %s", (text, want) => expect(tokens(text)[0]?.value).toBeCloseTo(want, 9));
  it("places point into what was typed", () => {
    const text = "Drew  it to 22,5 mm — “fine”";
    for (const token of tokens(text))
      expect(normalise(text).slice(token.start, token.end)).toBe(token.text);
  });
});

describe("numbers", () => {
  it.each([
    ["2 1/2", 2.5],
    ["2-1/2", 2.5],
    ["2½", 2.5],
    ["5/8", 0.625],
    ["15/16", 0.9375],
    ["12 and a half", 12.5],
  ])("written %s", (text, want) => expect(figureAt(tokens(text), 0)?.value).toBe(want));
  it.each([
    ["one eighty", 180],
    ["one hundred and eighty", 180],
    ["nine fifty", 950],
    ["two oh five", 205],
    ["two point five", 2.5],
    ["twelve and a half", 12.5],
    ["three quarters", 0.75],
    ["five eighths", 0.625],
    ["thirty one thirty seconds", 31 / 32],
    ["fifteen hundred", 1500],
    ["a thousand and twenty", 1020],
    ["point seven five", 0.75],
  ])("spoken %s", (text, want) => expect(spokenAt(tokens(text), 0)?.value).toBeCloseTo(want, 12));
  it("22/36/180 is a list, no fraction", () => {
    expect(figureAt(tokens("22/36/180"), 0)?.value).toBe(22);
  });
});

describe("quantities", () => {
  it.each([
    ["1 lb 11 oz", 27 * 28.349523125],
    ["an inch and a quarter", 31.75],
    ["half an inch", 12.7],
    ["a couple of millimetres", 2],
    ["thirty second of an inch", 25.4 / 32],
    ["1'6\"", 457.2],
    ["2h 15 min", 135],
    ["1,250 kg", 1250],
  ])("%s", (text, want) => expect(quantityAt(tokens(text), 0, HINTS)?.value).toBeCloseTo(want, 9));
  it("a prime and a bare m are minutes where a heat is held", () => {
    const holding = { ...HINTS, holding: true };
    expect(quantityAt(tokens("20'"), 0, holding)?.dimension).toBe("duration");
    expect(quantityAt(tokens("20 m"), 0, holding)?.dimension).toBe("duration");
    expect(quantityAt(tokens("2'"), 0, HINTS)?.dimension).toBe("length");
  });
});

describe("parts", () => {
  const figures = (text: string) =>
    parts(text).flatMap((part) =>
      part.type === "figure" ? [[part.value, part.label, part.approx] as const] : [],
    );
  it("labels on either side", () => {
    expect(figures("180 long, thickness 22, 36 wide")).toEqual([
      [180, "lengthMm", false],
      [22, "thicknessMm", false],
      [36, "widthMm", false],
    ]);
  });
  it("a range is its middle, about", () => {
    expect(figures("10 to 12 mm thick")).toEqual([[11, "thicknessMm", true]]);
  });
  it("a change is the new figure", () => {
    expect(figures("from 12 to 10 thick")).toEqual([[10, "thicknessMm", false]]);
  });
  it("a unit at the end of a list holds for all of it", () => {
    expect(figures("2.2 x 3.6 x 18 cm").map(([value]) => Math.round(value))).toEqual([22, 36, 180]);
  });
});

describe("clauses", () => {
  const count = (text: string): number => clausesOf(parts(text)).length;
  it.each([
    ["heat 4 at 950, drew it out; crack on the rim", 3],
    ["heat 4 at 950 what next", 2],
    ["heat 4: 950", 1],
    ["", 0],
  ])("%s", (text, want) => expect(count(text)).toBe(want));
  it("a question mark asks", () => {
    expect(clausesOf(parts("heat 4 at 950. will it fit?")).map((one) => one.asked)).toEqual([
      false,
      true,
    ]);
  });
});

describe("times", () => {
  const at = (text: string): string[] =>
    momentsIn(tokens(text), CONTEXT.now, CONTEXT.timezone).map((moment) => moment.at);
  it.each([
    ["10 min ago", "2026-05-12T14:20:00+02:00"],
    ["an hour and a half ago", "2026-05-12T13:00:00+02:00"],
    ["2h 15 ago", "2026-05-12T12:15:00+02:00"],
    ["at 10:40", "2026-05-12T10:40:00+02:00"],
    ["at 10.40", "2026-05-12T10:40:00+02:00"],
    ["half past two", "2026-05-12T14:30:00+02:00"],
    ["quarter to five yesterday", "2026-05-11T16:45:00+02:00"],
    ["three o'clock yesterday", "2026-05-11T15:00:00+02:00"],
    ["this morning", "2026-05-12T09:00:00+02:00"],
    ["yesterday 4pm", "2026-05-11T16:00:00+02:00"],
    ["last night", "2026-05-11T20:00:00+02:00"],
    ["day before yesterday", "2026-05-10T12:00:00+02:00"],
    ["on Monday", "2026-05-11T12:00:00+02:00"],
    ["3 days ago", "2026-05-09T14:30:00+02:00"],
  ])("%s", (text, want) =>
    expect(at(text).map((one) => Date.parse(one))).toEqual([Date.parse(want)]),
  );
  // Classes of phrases that a general reader of dates takes for times.
  it.each([
    "5/8",
    "11/16 x 1 1/8",
    "ingot 7/3",
    "at 12 mm",
    "at 20 mm from tip",
    "from 12 to 10",
    "ground 4 to 3",
    "4 to 5 mm deep",
    "900 to 950",
    "hold for 20 min",
    "may need more",
    "sat at 950",
    "second heat at 960",
    "midnight blue",
    "evening the edge",
    "heat 10 at 950",
  ])("no time in “%s”", (text) => expect(at(text)).toEqual([]));
});

describe("spelling", () => {
  it.each([
    ["crakc", "crack"],
    ["streightened", "straightened"],
    ["hairlne", "hairline"],
    ["normlaised", "normalised"],
  ])("%s → %s", (slip, want) => expect(nearestWord(slip)).toBe(want));
  it.each(["crack", "rock", "dropped", "fourty", "nien", "Anna", "cat"])(
    "%s is left alone",
    (word) => expect(nearestWord(word.toLowerCase())).toBeUndefined(),
  );
  it("counts insert, drop, change and swap as one", () => {
    expect(edits("crack", "carck", 2)).toBe(1);
    expect(edits("crack", "crak", 2)).toBe(1);
    expect(edits("crack", "cracks", 2)).toBe(1);
    expect(edits("crack", "creek", 2)).toBe(2);
    expect(edits("crack", "bowl", 2)).toBe(3);
  });
  it("figures and names of ingots are never touched", () => {
    expect(respell(tokens("22x36 crakk"), ["Crakk"]).changed).toEqual([]);
    expect(respell(tokens("22x36 crakk")).changed).toEqual(["crakk → crack"]);
  });
});
