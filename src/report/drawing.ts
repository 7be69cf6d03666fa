/** A picture as data: what is drawn where, in picture units (half a phone pixel). Numbers only; `svg.ts` writes them out. */
import { fitted, type TextStyle, textLines, textWidth } from "./text-width.js";

/** How an area is filled; each can be told apart without colour. */
export const FILLS = [
  "none",
  "white",
  "ink",
  "dark",
  "grey",
  "light",
  "cross",
  "upright",
  "level",
  "rising",
  "falling",
  "dots",
] as const;
export type Fill = (typeof FILLS)[number];

export interface TextItem extends TextStyle {
  readonly item: "text";
  readonly text: string;
  readonly x: number;
  /** Of the line that the letters stand on. */
  readonly y: number;
  readonly anchor: "start" | "middle" | "end";
  /** The text must not be wider than this. */
  readonly width: number;
}
export interface PathItem {
  readonly item: "path";
  /** Moves, lines and arcs of SVG's path language, absolute. */
  readonly d: string;
  readonly fill: Fill;
  readonly stroke?: "ink" | "grey";
  readonly dashed?: boolean;
  readonly strokeWidth?: number;
}
export interface RectItem {
  readonly item: "rect";
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly fill: Fill;
  readonly stroke?: "ink" | "grey";
  readonly dashed?: boolean;
}
export type Item = TextItem | PathItem | RectItem;

export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** Read out where the picture cannot be seen. */
  readonly title: string;
  readonly items: readonly Item[];
  /** Where a section begins: a printer may go on there in the next column. */
  readonly breaks: readonly number[];
}

export const PAGE_WIDTH = 720;
export const MARGIN = 32;
export const INNER_WIDTH = PAGE_WIDTH - 2 * MARGIN;
export const TEXT = { size: 26 } as const satisfies TextStyle;
export const SMALL = { size: 22 } as const satisfies TextStyle;
export const STRONG = { size: 26, bold: true } as const satisfies TextStyle;
const LINE_HEIGHT = 1.3;
const GAP = 26;

/** A page that is filled from the top down. */
export class Page {
  readonly #items: Item[] = [];
  readonly #breaks: number[] = [];
  #y = MARGIN;

  /** Where the next thing begins. */
  get y(): number {
    return this.#y;
  }

  add(...items: readonly Item[]): void {
    this.#items.push(...items);
  }

  skip(height: number): void {
    this.#y += height;
  }

  /** Text in as many lines as it needs. */
  write(text: string, style: TextStyle = TEXT, indent = 0): void {
    const width = INNER_WIDTH - indent;
    for (const line of textLines(text, width, style)) {
      this.#y += style.size * LINE_HEIGHT;
      this.add({ ...textItem(line, MARGIN + indent, this.#y - style.size * 0.3, width, style) });
    }
  }

  /** A rule and a bold heading. */
  section(title: string): void {
    this.#breaks.push(this.#y + GAP / 2);
    this.#y += GAP;
    const d = `M${MARGIN} ${this.#y}L${PAGE_WIDTH - MARGIN} ${this.#y}`;
    this.add({ item: "path", d, fill: "none", stroke: "grey", strokeWidth: 2 });
    this.#y += 6;
    this.write(title, STRONG);
    this.#y += 6;
  }

  drawing(title: string): Drawing {
    return {
      width: PAGE_WIDTH,
      height: Math.ceil(this.#y + MARGIN),
      title,
      items: this.#items,
      breaks: this.#breaks,
    };
  }
}

/** Text cut to its box. */
export function textItem(
  text: string,
  x: number,
  y: number,
  width: number,
  style: TextStyle,
  anchor: TextItem["anchor"] = "start",
): TextItem {
  return { item: "text", text: fitted(text, width, style), x, y, width, anchor, ...style };
}

/** Left and right end of a text as it is drawn. */
export function extentOf(item: TextItem): { readonly left: number; readonly right: number } {
  const width = textWidth(item.text, item);
  const share = item.anchor === "start" ? 0 : item.anchor === "middle" ? 0.5 : 1;
  return { left: item.x - share * width, right: item.x + (1 - share) * width };
}
