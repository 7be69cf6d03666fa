/** The page for the printer: whole in itself, and nothing in it that a name could break. */
import { expect, test } from "vitest";
import { cardPicture, cardWords, ingotCard, printPage } from "../../src/report/index.js";
import { METRIC } from "../../src/units/index.js";
import { ingotOf } from "./log.js";

const card = ingotCard({
  state: ingotOf([
    { kind: "ingot", name: '<b>&"x', diameterMm: 64, heightMm: 30, massG: 450 },
    { kind: "heat", temperatureC: 900 },
  ]),
});
const sheet = { drawing: cardPicture(card, METRIC), text: cardWords(card, METRIC) };

test("a page holds its picture and words and asks nothing of outside", () => {
  const page = printPage(sheet.drawing.title, [sheet, sheet]);
  expect(page.match(/<section>/g)).toHaveLength(2);
  expect(page.match(/<svg /g)).toHaveLength(2);
  expect(page).toContain("size: A4");
  const addresses = page.match(/(?:src|href|url|@import)\s*[=(]?\s*["']?(?!#)[a-z]+:/gi) ?? [];
  expect(addresses).toEqual([]);
  expect(page.replaceAll('xmlns="http://www.w3.org/2000/svg"', "")).not.toMatch(/https?:/);
});

test("a name cannot become markup", () => {
  const page = printPage(sheet.drawing.title, [sheet]);
  expect(page).not.toContain("<b>");
  expect(page).toContain("&lt;b&gt;&amp;");
});
