/** A figure that is not known to one value: the least, the likely and the most it may be, in one unit. */
export interface Range {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** What a reader of a figure must be told. Codes; the words stand in the conversation room. */
export type SteelNote =
  | "carbon-clamped"
  | "carbides-added"
  | "outside-range"
  | "below-a1"
  | "carbon-below-eutectoid"
  | "cast-iron"
  | "phosphorus-unknown"
  | "phosphorus-below-limit"
  | "phosphorus-segregated"
  | "sulphur-not-tied"
  | "ceiling-above-acm"
  | "not-homogenised"
  | "alloy-shift-from-memory";

export interface NotedRange extends Range {
  readonly notes: readonly SteelNote[];
}

/** Throws when our own code passes something that cannot be: not a number, or outside what a metal can be. */
export function mustLie(
  name: string,
  value: number,
  low: number,
  high: number,
  unit: string,
): void {
  if (!(value >= low && value <= high)) {
    throw new RangeError(`${name} must be ${low} to ${high} ${unit}, got ${value} ${unit}`);
  }
}
