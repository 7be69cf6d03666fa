/**
 * Closed-form updates of a belief by evidence, [S63] Gelman and others, Bayesian Data Analysis, 3rd ed., 2.6, 3.3.
 * A positive figure is normal on the log scale with mean and scatter both unknown (normal–gamma); a count is Poisson
 * with a gamma belief about its rate.
 */
import { betaCdf, gammaQuantile, tCdf, tDensity, tQuantile } from "./distributions.js";

/** Share of a belief that its range holds. */
export const RANGE_SHARE = 0.9;
const TAIL = (1 - RANGE_SHARE) / 2;

export interface Believed {
  readonly likely: number;
  readonly low: number;
  readonly high: number;
}

/** A belief about a positive figure that scatters from ingot to ingot. */
export interface NormalGamma {
  /** Mean of the logarithm. */
  readonly mean: number;
  /** How many ingots the belief about the mean is worth. */
  readonly weight: number;
  /** Gamma of the precision, 1/variance of the logarithm. */
  readonly shape: number;
  readonly rate: number;
}

/** What common practice says of a positive figure. */
export interface PositivePrior extends Believed {
  /** Factor by which one ingot differs from the shop's usual, one standard deviation. */
  readonly scatter: number;
  /** Gamma shape of the precision: how sure the scatter is. Half as many ingots as it takes to outweigh it. */
  readonly scatterShape: number;
}

/** The belief whose 90 % range is the prior's `low` to `high`, symmetrical about `likely` on the log scale. */
export function fromPrior(prior: PositivePrior): NormalGamma {
  const shape = prior.scatterShape;
  const rate = shape * Math.log(prior.scatter) ** 2;
  const half = Math.log(prior.high / prior.low) / 2;
  const scale = half / tQuantile(1 - TAIL, 2 * shape);
  return { mean: Math.log(prior.likely), weight: rate / (shape * scale ** 2), shape, rate };
}

/** The belief after more figures, all above zero. Closed form, [S63] 3.3. */
export function learnPositive(belief: NormalGamma, figures: readonly number[]): NormalGamma {
  const n = figures.length;
  if (n === 0) return belief;
  const logs = figures.map(Math.log);
  const mean = logs.reduce((sum, each) => sum + each, 0) / n;
  const squares = logs.reduce((sum, each) => sum + (each - mean) ** 2, 0);
  const weight = belief.weight + n;
  return {
    mean: (belief.weight * belief.mean + n * mean) / weight,
    weight,
    shape: belief.shape + n / 2,
    rate:
      belief.rate + squares / 2 + (belief.weight * n * (mean - belief.mean) ** 2) / (2 * weight),
  };
}

/** The shop's usual figure (the median over its ingots) with its 90 % range: Student's t on the log scale. */
export function believedPositive(belief: NormalGamma): Believed {
  const half = tQuantile(1 - TAIL, 2 * belief.shape) * scaleOf(belief);
  return {
    likely: Math.exp(belief.mean),
    low: Math.exp(belief.mean - half),
    high: Math.exp(belief.mean + half),
  };
}

const scaleOf = ({ rate, shape, weight }: NormalGamma): number =>
  Math.sqrt(rate / (shape * weight));

/** Points of the quadrature over one of two Student's t; error of the chance under 1e-4. */
const POINTS = 300;

/** Chance that the figure of `a` is above that of `b`: the density of one times the distribution of the other, summed up. */
export function chanceAbove(a: NormalGamma, b: NormalGamma): number {
  const [scaleA, scaleB] = [scaleOf(a), scaleOf(b)];
  let sum = 0;
  for (let point = 0; point < POINTS; point++) {
    const angle = ((point + 0.5) / POINTS - 0.5) * Math.PI;
    const t = Math.tan(angle);
    const below = tCdf((a.mean + scaleA * t - b.mean) / scaleB, 2 * b.shape);
    sum += tDensity(t, 2 * a.shape) * below * (1 + t * t);
  }
  return (sum * Math.PI) / POINTS;
}

/** A belief about the rate of a count: `shape` events in `rate` units of exposure. */
export interface GammaBelief {
  readonly shape: number;
  readonly rate: number;
}

/** Belief after `events` in `exposure`. Closed form, [S63] 2.6. */
export const learnCount = (belief: GammaBelief, events: number, exposure: number): GammaBelief => ({
  shape: belief.shape + events,
  rate: belief.rate + exposure,
});

export const believedCount = ({ rate, shape }: GammaBelief): Believed => ({
  likely: shape / rate,
  low: gammaQuantile(TAIL, shape, rate),
  high: gammaQuantile(1 - TAIL, shape, rate),
});

/** Chance that the rate of `a` is above that of `b`: exact, by the beta distribution of their share. */
export const chanceMore = (a: GammaBelief, b: GammaBelief): number =>
  1 - betaCdf(a.rate / (a.rate + b.rate), a.shape, b.shape);
