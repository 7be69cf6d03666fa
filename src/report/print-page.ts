/** Cards and sheets as a page for the printer: one HTML file, A4, everything inside it. */
import type { Drawing } from "./drawing.js";
import { escaped, toSvg } from "./svg.js";

export interface PrintedSheet {
  readonly drawing: Drawing;
  /** The same in words, for who reads it rather. */
  readonly text: string;
}

/** The picture's room on the paper, mm: it stays whole on one page, the words stand beside it. */
const ROOM_MM = { width: 92, height: 275 };
const STYLE = `@page { size: A4 portrait; margin: 10mm; }
body { margin: 0; font: 9pt/1.3 "Source Sans 3", sans-serif; color: #000; background: #fff; }
section { display: flex; gap: 6mm; align-items: flex-start; width: 190mm; }
section + section { break-before: page; }
svg { width: auto; height: auto; max-width: ${ROOM_MM.width}mm; max-height: ${ROOM_MM.height}mm; flex: none; }
pre { margin: 0; font: inherit; white-space: pre-wrap; overflow-wrap: anywhere; }
@media screen { body { padding: 10mm; } section { margin-bottom: 10mm; } }`;

/** A page a sheet, one after another. */
export function printPage(title: string, sheets: readonly PrintedSheet[]): string {
  return [
    "<!doctype html>",
    '<html lang="en">',
    `<head><meta charset="utf-8"><title>${escaped(title)}</title>`,
    `<style>\n${STYLE}\n</style></head>`,
    "<body>",
    ...sheets.map(
      ({ drawing, text }) => `<section>\n${toSvg(drawing)}<pre>${escaped(text)}</pre>\n</section>`,
    ),
    "</body>",
    "</html>",
    "",
  ].join("\n");
}
