/** Repeatable chance: the same seed gives the same row. */
export type Chance = () => number;

/** A 32-bit generator (mulberry32, public domain algorithm); values in [0, 1). */
export function seeded(seed: number): Chance {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** FNV-1a of a string, for seeds. */
export function seedOf(words: string): number {
  let hash = 2166136261;
  for (const char of words) hash = Math.imul(hash ^ (char.codePointAt(0) ?? 0), 16777619);
  return hash >>> 0;
}

export const pick = <T>(list: readonly T[], chance: Chance): T =>
  list[Math.min(list.length - 1, Math.floor(chance() * list.length))] as T;

export const between = (low: number, high: number, chance: Chance): number =>
  low + (high - low) * chance();
