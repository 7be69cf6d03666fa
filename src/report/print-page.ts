/** Cards and sheets as a page for the printer: one HTML file, A4, everything inside it. */
import type { Drawing } from "./drawing.js";
import { slicesOf } from "./print-slices.js";
import { escaped, toSvg } from "./svg.js";

export interface PrintedSheet {
  readonly drawing: Drawing;
  /** The same in words, for who reads it rather. */
  readonly text: string;
}

/** Two columns on A4 with margins of 10 mm. */
const COLUMN_MM = 92;
/** A little less than the page's 277 mm, for printers that round. */
const HIGHEST_MM = 270;
const PAGE_MM = 277;
/** Of the words: a line, and the gap over the first. */
const WORDS_LINE_MM = 3.6;
const WORDS_GAP_MM = 3;
const STYLE = `@page { size: A4 portrait; margin: 10mm; }
body { margin: 0; font-family: "Source Sans 3", Arial, Helvetica, sans-serif; color: #000; background: #fff; }
section { width: 190mm; columns: 2 ${COLUMN_MM}mm; column-gap: 6mm; }
section + section { break-before: page; }
svg { display: block; width: ${COLUMN_MM}mm; height: auto; max-height: ${HIGHEST_MM}mm; break-inside: avoid; }
pre { margin: ${WORDS_GAP_MM}mm 0 0 1mm; font-family: inherit; font-size: 8pt; line-height: ${WORDS_LINE_MM}mm; white-space: pre-wrap; overflow-wrap: anywhere; orphans: 3; widows: 3; }
.beside { break-before: column; }
@media print { section { column-fill: auto; } }
@media screen { body { padding: 10mm; } section { margin-bottom: 10mm; } }`;

/** A sheet begins on a page of its own; its picture fills the columns section by section, the words follow. */
export function printPage(title: string, sheets: readonly PrintedSheet[]): string {
  return [
    "<!doctype html>",
    '<html lang="en">',
    `<head><meta charset="utf-8"><title>${escaped(title)}</title>`,
    `<style>\n${STYLE}\n</style></head>`,
    "<body>",
    ...sheets.flatMap(sections),
    "</body>",
    "</html>",
    "",
  ].join("\n");
}

/** The words stand below the picture or beside it, whole; where there is no room, on a page of their own. */
function sections({ drawing, text }: PrintedSheet): string[] {
  const [first] = slicesOf(drawing, Number.POSITIVE_INFINITY);
  const unitMm = first === undefined ? 1 : COLUMN_MM / (first.part.right - first.part.left);
  const slices = slicesOf(drawing, HIGHEST_MM / unitMm);
  const picture = slices
    .map((each) => toSvg(each.drawing, { part: each.part, fitted: true }))
    .join("");
  const { columns, usedMm } = filled(slices.map(({ part }) => (part.bottom - part.top) * unitMm));
  const wordsMm = WORDS_GAP_MM + text.split("\n").length * WORDS_LINE_MM;
  const below = usedMm + wordsMm <= HIGHEST_MM;
  if (!below && columns % 2 === 0) {
    return [
      `<section>\n${picture}</section>`,
      `<section>\n<pre>${escaped(text)}</pre>\n</section>`,
    ];
  }
  const words = `<pre${below ? "" : ' class="beside"'}>${escaped(text)}</pre>\n`;
  return [`<section>\n${picture}${words}</section>`];
}

/** Columns that pieces of these heights take, and how much of the last one. */
function filled(heightsMm: readonly number[]): { columns: number; usedMm: number } {
  let columns = 1;
  let usedMm = 0;
  for (const height of heightsMm) {
    if (usedMm + height > PAGE_MM) {
      columns += 1;
      usedMm = 0;
    }
    usedMm += height;
  }
  return { columns, usedMm };
}
