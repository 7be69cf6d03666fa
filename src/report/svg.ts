/** A drawing as SVG 1.1: plain shapes, greys and hatchings, one font family. */
import type { Drawing, Fill, Item } from "./drawing.js";
import { textWidth } from "./text-width.js";

export const FONT_FAMILY = "Source Sans 3";

const INKS = { ink: "#1c1c1c", grey: "#8a8a8a" } as const;
const SOLID: Partial<Record<Fill, string>> = {
  none: "none",
  white: "#ffffff",
  ink: "#1c1c1c",
  dark: "#4a4a4a",
  grey: "#9a9a9a",
  light: "#dedede",
};
const HATCHED: Partial<Record<Fill, string>> = {
  cross: "M0 0L12 12M12 0L0 12",
  upright: "M3 0V12M9 0V12",
  level: "M0 3H12M0 9H12",
  rising: "M-3 3L3 -3M0 12L12 0M9 15L15 9",
  falling: "M-3 9L3 15M0 0L12 12M9 -3L15 3",
  dots: "M3 3h2v2h-2zM9 9h2v2h-2z",
};

/** A part of a drawing, from `top` to `bottom`, `left` to `right`. */
export interface Part {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface SvgOptions {
  readonly part?: Part;
  /** Letters are set to the width they have in our font, whatever font is there. */
  readonly fitted?: boolean;
}

export function toSvg({ height, items, title, width }: Drawing, options: SvgOptions = {}): string {
  const { part = { left: 0, right: width, top: 0, bottom: height }, fitted = false } = options;
  const used = new Set(items.flatMap((item) => (item.item === "text" ? [] : [item.fill])));
  const patterns = Object.entries(HATCHED)
    .filter(([name]) => used.has(name as Fill))
    .map(
      ([name, d]) =>
        `<pattern id="${name}" width="12" height="12" patternUnits="userSpaceOnUse"><rect width="12" height="12" fill="#ffffff"/><path d="${d}" stroke="${INKS.ink}" stroke-width="1.6" fill="${name === "dots" ? INKS.ink : "none"}"/></pattern>`,
    );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${box(part)}" width="${at(part.right - part.left)}" height="${at(part.bottom - part.top)}" font-family="'${FONT_FAMILY}', sans-serif" role="img">`,
    `<title>${escaped(title)}</title>`,
    ...(patterns.length === 0 ? [] : [`<defs>${patterns.join("")}</defs>`]),
    `<rect width="${width}" height="${height}" fill="#ffffff"/>`,
    ...items.map((item) => element(item, fitted)),
    "</svg>",
    "",
  ].join("\n");
}

const box = ({ bottom, left, right, top }: Part): string =>
  [left, top, right - left, bottom - top].map(at).join(" ");

function element(item: Item, fitted: boolean): string {
  if (item.item === "text") {
    const anchor = item.anchor === "start" ? "" : ` text-anchor="${item.anchor}"`;
    const weight = item.bold === true ? ` font-weight="600"` : "";
    const set = fitted
      ? ` textLength="${at(textWidth(item.text, item))}" lengthAdjust="spacingAndGlyphs"`
      : "";
    return `<text x="${at(item.x)}" y="${at(item.y)}" font-size="${item.size}"${weight}${anchor}${set} fill="${INKS.ink}">${escaped(item.text)}</text>`;
  }
  const fill = SOLID[item.fill] ?? `url(#${item.fill})`;
  const stroke =
    item.stroke === undefined
      ? ""
      : ` stroke="${INKS[item.stroke]}" stroke-width="${"strokeWidth" in item ? item.strokeWidth : 2}"${item.dashed === true ? ` stroke-dasharray="8 6"` : ""}`;
  if (item.item === "path") return `<path d="${item.d}" fill="${fill}"${stroke}/>`;
  return `<rect x="${at(item.x)}" y="${at(item.y)}" width="${at(item.width)}" height="${at(item.height)}" fill="${fill}"${stroke}/>`;
}

/** Rounded to a hundredth, so that a picture is the same on every machine. */
export const at = (value: number): string => String(Math.round(value * 100) / 100);

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
};
/** Text safe inside an element; characters that XML forbids are left out. */
export const escaped = (text: string): string =>
  text
    .replaceAll(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, "")
    .replaceAll(/[&<>"]/g, (letter) => ENTITIES[letter] ?? letter);
