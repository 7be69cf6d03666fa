/** Shops with known habits, whose logs chance writes: a seeded generator and a few samplers. */
import type { Fact } from "../../src/logbook/index.js";

export interface Chance {
  uniform(): number;
  normal(): number;
  gamma(shape: number, rate: number): number;
  poisson(mean: number): number;
}

/** Seeded 32-bit mixer (mulberry32), Box–Muller, Marsaglia–Tsang, Knuth: textbook samplers, for tests only. */
export function chanceFrom(seed: number): Chance {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const normal = (): number =>
    Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  const gamma = (shape: number, rate: number): number => {
    if (shape < 1) return gamma(shape + 1, rate) * uniform() ** (1 / shape);
    const d = shape - 1 / 3;
    for (;;) {
      const x = normal();
      const v = (1 + x / Math.sqrt(9 * d)) ** 3;
      if (v > 0 && Math.log(1 - uniform()) < x ** 2 / 2 + d - d * v + d * Math.log(v)) {
        return (d * v) / rate;
      }
    }
  };
  const poisson = (mean: number): number => {
    let count = -1;
    for (let product = 1; product > Math.exp(-mean); count++) product *= uniform();
    return count;
  };
  return { uniform, normal, gamma, poisson };
}

export interface Habit {
  /** Logarithm of the usual figure, and its scatter from ingot to ingot. */
  readonly mean: number;
  readonly scatter: number;
}

/** One ingot's log: heats so many minutes apart, each losing its share, weighed at the end; told in grams to the tenth. */
export function ingotLog(
  chance: Chance,
  loss: Habit,
  minutes: Habit,
  heats: number,
): { facts: readonly Fact[]; gapMin: number } {
  const fraction = Math.exp(loss.mean + loss.scatter * chance.normal());
  const gapMin = Math.exp(minutes.mean + minutes.scatter * chance.normal());
  const startG = Math.round(400 + 600 * chance.uniform());
  const removedG = Math.round(30 * chance.uniform());
  const halfway = Math.floor(heats / 2);
  let massG = startG;
  const facts: Fact[] = [{ kind: "ingot", massG: startG }];
  for (let heat = 1; heat <= heats; heat++) {
    massG *= 1 - fraction;
    facts.push({ kind: "heat", number: heat });
    if (heat === halfway && removedG > 0) {
      massG -= removedG;
      facts.push({ kind: "removal", method: "cut", massG: removedG });
    }
  }
  facts.push({ kind: "size", massG: Math.round(massG * 10) / 10 });
  return { facts, gapMin };
}
