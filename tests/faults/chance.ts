/** Chance that can be repeated: the same seed, the same run. */
export interface Chance {
  /** From 0 up to but not including 1. */
  next(): number;
  below(limit: number): number;
  pick<T>(from: readonly T[]): T;
  /** True with this likelihood. */
  hits(likelihood: number): boolean;
}

/** Mulberry32, a public-domain generator of 32 bits of state; from memory. */
export function chanceFrom(seed: number): Chance {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const below = (limit: number): number => Math.floor(next() * limit);
  return {
    next,
    below,
    hits: (likelihood) => next() < likelihood,
    pick: (from) => {
      const found = from[below(from.length)];
      if (found === undefined) throw new RangeError("nothing to pick from");
      return found;
    },
  };
}
