/** What the sixth step makes of a message: a row of figures, marks, stops and times, and what a mark means. */
import { MM_PER_INCH } from "../units/index.js";
import type { Item } from "./items.js";
import type { Quantity } from "./quantities.js";
import type { Dimension } from "./units.js";

export interface Fig {
  readonly type: "figure";
  readonly from: number;
  readonly to: number;
  readonly q: Quantity;
  /** In the internal system when a unit is known; as said when not. */
  value: number;
  dimension: Dimension | undefined;
  /** A bare figure that is inches because of a fraction or its neighbours. */
  inches: boolean;
  label: string | undefined;
  /** Token after the label, where that stands behind the figure. */
  labelTo: number | undefined;
  /** Figures of one list (`22x36x180`) share a number. */
  chain: number | undefined;
  /** The figures of that list. */
  list?: readonly Fig[];
  approx: boolean;
  /** `12 or 20`: the other value. */
  or: number | undefined;
  /** Stands after `to`: the new size. */
  target: boolean;
  /** `12 down to 10`: it got thinner. */
  down?: boolean;
  /** `950 to 915`: the figure before. */
  low?: number;
  /** Of a range: its upper end. */
  top?: number;
  used: boolean;
}
export type Mark = Extract<Item, { type: "mark" }>;
export type Part = Fig | Exclude<Item, { type: "quantity" } | { type: "join" }>;

/** The figures of the list that this one stands in. */
export const chainOf = (fig: Fig): readonly Fig[] => fig.list ?? [fig];
const COLON = 58;
/** What a word means in a group of the vocabulary: `place:spine` → `spine`. */
export const means = (part: Part | undefined, group: string): string | undefined => {
  if (part?.type !== "mark") return undefined;
  const { length } = group;
  for (const one of part.means)
    if (one.charCodeAt(length) === COLON && one.startsWith(group)) return one.slice(length + 1);
  return undefined;
};
export const onlyFiller = (part: Part): boolean =>
  part.type === "mark" &&
  part.means.every(
    (one) => one.startsWith("filler:") || (one === "unit:inch" && part.words === "in"),
  );

/** The figure as a length, mm. */
export const asMm = (fig: Fig, inchChat: boolean): number =>
  fig.dimension === "length"
    ? fig.value
    : fig.inches || inchChat
      ? fig.value * MM_PER_INCH
      : fig.value;
