/** The page for the printer: whole in itself, nothing cut through, nothing in it that a name could break. */
import { Resvg } from "@resvg/resvg-js";
import { describe, expect, it, test } from "vitest";
import { renderOptions } from "../../src/cli/png.js";
import type { Fact } from "../../src/logbook/index.js";
import {
  cardPicture,
  cardWords,
  type Drawing,
  ingotCard,
  printPage,
  textWidth,
  toSvg,
} from "../../src/report/index.js";
import { slicesOf } from "../../src/report/print-slices.js";
import { type ChatUnits, METRIC } from "../../src/units/index.js";
import { ingotOf } from "./log.js";

const INCH: ChatUnits = { length: "inch", temperature: "f" };

function sheetOf(facts: readonly Fact[], units = METRIC) {
  const card = ingotCard({ state: ingotOf(facts) });
  return { drawing: cardPicture(card, units), text: cardWords(card, units) };
}

const NAME = '<b>&"x';
const body: Fact = { kind: "ingot", name: NAME, diameterMm: 64, heightMm: 30, massG: 450 };
const heats = (count: number): Fact[] =>
  Array.from({ length: count }, (_, index) => ({
    kind: "heat",
    number: index + 1,
    temperatureC: 700 + ((index * 37) % 400),
  }));
const SENTENCE = "the slag ran over the rim and the ingot came out of it with a long seam ";
const sheets = {
  "one heat": sheetOf([body, ...heats(1)]),
  "200 heats, cracks": sheetOf([
    body,
    ...heats(200).flatMap((heat, index): Fact[] =>
      index % 10 === 0
        ? [heat, { kind: "crack", place: "spine", depthMm: 1 + index / 50 }]
        : [heat],
    ),
  ]),
  "inch, long name": sheetOf(
    [{ ...body, name: "TheLongestNameThatAnySmithWouldEverThin" }, ...heats(3)],
    INCH,
  ),
  "notes of many pages": sheetOf([
    body,
    ...heats(2),
    ...[1, 2, 3].map((n): Fact => ({ kind: "note", note: `${n} ${SENTENCE.repeat(60)}` })),
  ]),
};
const one = sheets["one heat"];

test("a page holds its picture and words and asks nothing of outside", () => {
  const page = printPage(one.drawing.title, [one, one]);
  expect(page.match(/<section>/g)).toHaveLength(2);
  expect(page.match(/<pre/g)).toHaveLength(2);
  const addresses = page.match(/(?:src|href|url|@import)\s*[=(]?\s*["']?(?!#)[a-z]+:/gi) ?? [];
  expect(addresses).toEqual([]);
  expect(page.replaceAll('xmlns="http://www.w3.org/2000/svg"', "")).not.toMatch(/https?:/);
});

test("the rules that a printer goes by", () => {
  const page = printPage(one.drawing.title, [one]);
  const style = /<style>([\s\S]*)<\/style>/.exec(page)?.[1] ?? "";
  expect(style).toMatch(/@page \{ size: A4 portrait; margin: 10mm; \}/);
  expect(style).toMatch(/svg \{[^}]*break-inside: avoid/);
  expect(style).toMatch(/section \+ section \{[^}]*break-before: page/);
  expect(style).toMatch(/pre \{[^}]*overflow-wrap: anywhere/);
  expect(style, "a font of the machine stands in").toMatch(/font-family: [^;]*sans-serif;/);
});

test("letters keep the width they were measured with, whatever font is there", () => {
  const page = printPage(one.drawing.title, [one]);
  const texts = one.drawing.items.flatMap((item) => (item.item === "text" ? [item] : []));
  const set = [...page.matchAll(/<text [^>]*textLength="([\d.]+)"/g)].map(
    ([, width]) => +(width ?? 0),
  );
  expect(set).toHaveLength(texts.length);
  texts.forEach((item, index) => {
    expect(set[index], item.text).toBeCloseTo(textWidth(item.text, item), 1);
    expect(set[index], item.text).toBeLessThanOrEqual(item.width);
  });
});

test("colours are greys, so that a black printer loses nothing", () => {
  const page = printPage("all", Object.values(sheets));
  const colours = [...page.matchAll(/(?:fill|stroke)="#([0-9a-f]{6})"/g)].map(
    ([, hex = ""]) => hex,
  );
  expect(colours.length).toBeGreaterThan(100);
  for (const hex of colours) {
    expect(new Set([hex.slice(0, 2), hex.slice(2, 4), hex.slice(4)]).size, hex).toBe(1);
  }
});

/** 270 of the page's 277 mm, in units of a column of 92 mm. */
const MOST = (270 / 92) * 672;

describe.each(Object.entries(sheets))("%s", (_name, sheet) => {
  const { drawing } = sheet;
  const slices = slicesOf(drawing, MOST);

  it("every shape and line is in one piece and whole in it; no piece is higher than a page", () => {
    const count = slices.reduce((sum, { drawing: own }) => sum + own.items.length, 0);
    expect(count).toBe(drawing.items.length);
    for (const [index, { part }] of slices.entries()) {
      expect(part.bottom - part.top).toBeLessThanOrEqual(MOST);
      expect(part.top).toBeCloseTo(slices[index - 1]?.part.bottom ?? part.top, 6);
    }
  });

  it("is cut only where the picture is white from side to side", () => {
    const cuts = slices.slice(1).map(({ part }) => Math.round(part.top));
    expect(cuts.length).toBeGreaterThan(1);
    const rows = whiteRows(drawing);
    for (const cut of cuts) expect([rows[cut - 1], rows[cut]], `row ${cut}`).toContain(true);
  });

  it("fits its pages in columns with its words", () => {
    const page = printPage(drawing.title, [sheet]);
    const heights = [...page.matchAll(/viewBox="24 [\d.]+ 672 ([\d.]+)"/g)].map(
      ([, high]) => +(high ?? 0),
    );
    expect(heights).toHaveLength(slices.length);
    for (const high of heights) expect((high * 92) / 672).toBeLessThanOrEqual(270);
  });
});

/** Rendered by the library that also makes the PNGs: true where a row of pixels is white. */
function whiteRows(drawing: Drawing): boolean[] {
  const { height, pixels, width } = new Resvg(toSvg(drawing), renderOptions()).render();
  return Array.from({ length: height }, (_, y) =>
    pixels.subarray(y * width * 4, (y + 1) * width * 4).every((byte) => byte === 255),
  );
}

test("a name cannot become markup", () => {
  const page = printPage(one.drawing.title, [one]);
  expect(page).not.toContain("<b>");
  expect(page).toContain("&lt;b&gt;&amp;");
});
