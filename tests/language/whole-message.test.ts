/** What concerns the whole message: the hour of the day's sheet, and an ingot that is given up. */
import { expect, it } from "vitest";
import { type ReadingContext, read, readingToJson } from "../../src/language/index.js";

const context: ReadingContext = {
  now: "2026-05-12T10:00:00Z",
  timezone: "Europe/Berlin",
  units: "mm",
  names: ["Rook"],
};
const said = (text: string): unknown => readingToJson(read(text, context)).entries;

it.each([
  "day sheet at 19:00",
  "day sheet at 7 pm",
  "day sheet off",
  "send me the day sheet every evening at 7",
  "sheet every day at six pm",
  "no more day sheets",
])("“%s” is about the day, records nothing and leaves nothing unread", (text) => {
  expect(readingToJson(read(text, context))).toEqual({
    text,
    entries: [{ kind: "question", about: "day" }],
    unread: [],
  });
});

it.each([
  "scrapped ingot 7",
  "that ingot is dead, it cracked through",
  "lost this one",
  "give up on this ingot",
  "Rook is lost, the ring tore right through",
])("“%s” is kept whole as a note", (text) => {
  expect(readingToJson(read(text, context))).toEqual({
    text,
    entries: [{ kind: "note", note: text }],
    unread: [],
  });
});

it("what stands before and after is read by itself", () => {
  expect(said("heat 5 at 950, gave up on this ingot. undo")).toEqual([
    { kind: "heat", number: 5, temperature_c: 950 },
    { kind: "note", note: "gave up on this ingot" },
    { kind: "undo" },
  ]);
});

it.each([
  ["lost 20 g", [{ kind: "removal", mass_g: 20 }]],
  ["scrap that", [{ kind: "undo" }]],
])("“%s” is what it was", (text, entries) => {
  expect(said(text)).toEqual(entries);
});
