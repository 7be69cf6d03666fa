import { Resvg } from "@resvg/resvg-js";
import { describe, expect, it } from "vitest";
import { renderOptions, renderPng } from "../../src/cli/png.js";
import type { Fact } from "../../src/logbook/index.js";
import {
  cardPicture,
  type Drawing,
  dayPicture,
  daySheet,
  extentOf,
  FONT_FAMILY,
  ingotCard,
  type TextItem,
  textWidth,
  toSvg,
} from "../../src/report/index.js";
import { METRIC } from "../../src/units/index.js";
import { ingotOf } from "./log.js";

const INCH = { length: "inch", temperature: "f" } as const;
const heats = (count: number): readonly Fact[] =>
  Array.from(
    { length: count },
    (_, index): Fact => ({
      kind: "heat",
      number: index + 1,
      temperatureC: 700 + ((index * 37) % 320),
    }),
  );
const worked = (name: string, count: number): readonly Fact[] => [
  {
    kind: "ingot",
    name,
    shape: "bowl",
    diameterMm: 66,
    heightMm: 32,
    massG: 548.6,
    carbonPct: 1.55,
    pipeDepthMm: 13,
    melt: 31,
  },
  { kind: "goal", edge: "double", lengthMm: 229, widthMm: 32, thicknessMm: 4.8, tangLengthMm: 102 },
  { kind: "route", route: "face", split: true },
  ...heats(count),
  { kind: "size", shape: "disc", diameterMm: 74, heightMm: 16, massG: 520 },
  { kind: "size", thicknessMm: 12.7, widthMm: 36.5, lengthMm: 138, massG: 512 },
  {
    kind: "crack",
    place: "face",
    severity: "hairline",
    depthMm: 2.4,
    lengthMm: 13,
    positionMm: 41,
  },
  { kind: "crack", place: "tip" },
  { kind: "removal", method: "grind", place: "face", massG: 6 },
  {
    kind: "note",
    note: `${"long".repeat(60)} and then many ordinary words ${"again ".repeat(40)}`,
  },
  { kind: "finish", lengthMm: 228, widthMm: 31.5, thicknessMm: 4.8, tangLengthMm: 101, massG: 193 },
];
const LONG = "the one with the very long name that nobody in the shop will ever say aloud twice";

const pictures: readonly (readonly [string, Drawing])[] = [
  ...(
    [
      ["plain", "Alder", 16],
      ["one heat", "Alder", 1],
      ["200 heats", "Alder", 200],
      ["long name", LONG, 12],
      ["wide letters", "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", 12],
      ["other letters", "Ødegård Żółć šípkový", 12],
    ] as const
  ).flatMap(([title, name, count]) =>
    [METRIC, INCH].map((units): readonly [string, Drawing] => [
      `card, ${title}, ${units.length}`,
      cardPicture(ingotCard({ state: ingotOf(worked(name, count)) }), units),
    ]),
  ),
  [
    "card, cracks at one place",
    cardPicture(
      ingotCard({
        state: ingotOf([
          ...worked("Alder", 9).slice(0, -1),
          ...(["tip", "end", "rim", "tip", "spine", "spine", "face", "tang"] as const).map(
            (place): Fact => ({ kind: "crack", place }),
          ),
        ]),
      }),
      METRIC,
    ),
  ],
  [
    "card, next to nothing known",
    cardPicture(ingotCard({ state: ingotOf([{ kind: "ingot" }]) }), METRIC),
  ],
  ["day, long name, 200 heats", dayPicture(sheet(LONG, 200), INCH)],
  ["day, one heat", dayPicture(sheet("Alder", 1), METRIC)],
  [
    "day, empty",
    dayPicture(
      daySheet({ date: "2026-05-12", timezone: "UTC", entries: [], states: new Map() }),
      METRIC,
    ),
  ],
];

function sheet(name: string, count: number) {
  const state = ingotOf(worked(name, count), "2026-05-12T05:00:00Z", 3);
  const second = { ...ingotOf(worked("Rowan", 9), "2026-05-12T07:00:00Z", 7), ingotId: "i2" };
  return daySheet({
    date: "2026-05-12",
    timezone: "Europe/Berlin",
    entries: [],
    states: new Map([
      ["i1", state],
      ["i2", second],
    ]),
  });
}

const texts = ({ items }: Drawing): readonly TextItem[] =>
  items.filter((item) => item.item === "text");

/** Width of a text as the renderer draws it. */
function drawnWidth({ bold = false, size, text }: TextItem): number {
  const safe = text.replaceAll("&", "&amp;").replaceAll("<", "&lt;");
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="4000" height="100" font-family="'${FONT_FAMILY}'"><text x="0" y="60" font-size="${size}" font-weight="${bold ? 600 : 400}">${safe}</text></svg>`;
  const box = new Resvg(svg, renderOptions()).getBBox();
  return box === undefined ? 0 : box.x + box.width;
}

describe.each(pictures)("%s", (_title, drawing) => {
  it("keeps every text in its box and on the page", () => {
    for (const text of texts(drawing)) {
      expect(textWidth(text.text, text), text.text).toBeLessThanOrEqual(text.width + 0.01);
      const { left, right } = extentOf(text);
      expect(left, text.text).toBeGreaterThanOrEqual(0);
      expect(right, text.text).toBeLessThanOrEqual(drawing.width);
      expect(text.y).toBeLessThanOrEqual(drawing.height);
    }
  });

  it("has no text over another", () => {
    const boxes = texts(drawing).map((text) => ({
      ...extentOf(text),
      y: text.y,
      size: text.size,
      text: text.text,
    }));
    for (const [index, a] of boxes.entries()) {
      for (const b of boxes.slice(index + 1)) {
        const beside = a.right <= b.left || b.right <= a.left;
        const apart = Math.abs(a.y - b.y) >= Math.min(a.size, b.size) * 0.9;
        expect(beside || apart, `${a.text} over ${b.text}`).toBe(true);
      }
    }
  });

  it("keeps every rectangle on the page and every figure finite", () => {
    for (const item of drawing.items) {
      if (item.item === "path") expect(item.d).not.toMatch(/NaN|Infinity|undefined/);
      if (item.item !== "rect") continue;
      expect(Number.isFinite(item.x + item.y + item.width + item.height)).toBe(true);
      expect(item.x).toBeGreaterThanOrEqual(0);
      expect(item.x + item.width).toBeLessThanOrEqual(drawing.width + 0.01);
      expect(item.y + item.height).toBeLessThanOrEqual(drawing.height);
    }
  });

  it("renders to pixels that are not blank, at the size of the picture", () => {
    const png = renderPng(drawing);
    expect(png.subarray(1, 4).toString()).toBe("PNG");
    expect(png.readUInt32BE(16)).toBe(drawing.width);
    expect(png.readUInt32BE(20)).toBe(drawing.height);
  });
});

describe("widths", () => {
  it("are what the renderer draws, never less than it by more than 1 %", () => {
    const all = pictures.flatMap(([, drawing]) => texts(drawing));
    const some = [...new Map(all.map((text) => [`${text.text}${text.size}`, text])).values()];
    expect(some.length).toBeGreaterThan(50);
    for (const text of some) {
      expect(drawnWidth(text), text.text).toBeLessThanOrEqual(
        textWidth(text.text, text) * 1.01 + 1,
      );
    }
  });

  it("come from the font that travels with the program", () => {
    // Without it nothing is drawn: fonts of the machine are not loaded.
    const width = drawnWidth({
      item: "text",
      text: "Alder",
      x: 0,
      y: 0,
      width: 500,
      anchor: "start",
      size: 26,
    });
    expect(width).toBeGreaterThan(50);
    const none = new Resvg(
      `<svg xmlns="http://www.w3.org/2000/svg" width="400" height="100" font-family="sans-serif"><text x="0" y="60">Alder</text></svg>`,
      { font: { loadSystemFonts: false } },
    );
    expect(none.getBBox()).toBeUndefined();
  });
});

describe("blankness", () => {
  it("is told by ink: at least one pixel in a hundred is dark", () => {
    for (const [title, drawing] of pictures) {
      const { pixels } = new Resvg(toSvg(drawing), renderOptions()).render();
      let dark = 0;
      for (let index = 0; index < pixels.length; index += 4) {
        if ((pixels[index] ?? 255) < 128) dark += 1;
      }
      expect(dark / (pixels.length / 4), title).toBeGreaterThan(0.01);
    }
  });
});
