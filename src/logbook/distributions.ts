/**
 * Distribution functions that the conjugate updates need: Student's t, gamma, beta. Standard numerical methods
 * (Lanczos series, Lentz's continued fraction, bisection); relative error under 1e-10 in the ranges tested.
 * Source: [S62] Abramowitz, Stegun, Handbook of Mathematical Functions, chapters 6 and 26.
 */

const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313,
  -176.61502916214059, 12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6,
  1.5056327351493116e-7,
] as const;
const LANCZOS_G = 7;
const TINY = 1e-300;
const CLOSE = 1e-15;
const MOST_TERMS = 1000;

/** ln Γ(x). Holds: x > 0. */
export function logGamma(x: number): number {
  if (!(x > 0)) throw new RangeError(`logGamma needs x above 0, got ${x}`);
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const z = x - 1;
  const sum = LANCZOS.reduce((total, c, i) => (i === 0 ? c : total + c / (z + i)), 0);
  const t = z + LANCZOS_G + 0.5;
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(t) - t + Math.log(sum);
}

/** Regularised incomplete beta I_x(a, b): the chance that a Beta(a, b) is at most x. Holds: 0 ≤ x ≤ 1, a, b > 0. */
export function betaCdf(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - betaCdf(1 - x, b, a);
  const front = Math.exp(
    logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x),
  );
  let c = 1;
  let d = 1 / away(1 - ((a + b) * x) / (a + 1));
  let value = d;
  for (let m = 1; m < MOST_TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / away(1 + even * d);
    c = away(1 + even / c);
    value *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / away(1 + odd * d);
    c = away(1 + odd / c);
    value *= d * c;
    if (Math.abs(d * c - 1) < CLOSE) break;
  }
  return (front * value) / a;
}

/** Regularised lower incomplete gamma P(shape, x): the chance that a Gamma(shape, 1) is at most x. Holds: shape > 0. */
export function gammaCdf(x: number, shape: number): number {
  if (x <= 0) return 0;
  const front = Math.exp(shape * Math.log(x) - x - logGamma(shape));
  if (x < shape + 1) {
    let term = 1 / shape;
    let sum = term;
    for (let n = 1; n < MOST_TERMS && term > sum * CLOSE; n++) {
      term *= x / (shape + n);
      sum += term;
    }
    return Math.min(1, front * sum);
  }
  let b = x + 1 - shape;
  let c = 1 / TINY;
  let d = 1 / away(b);
  let value = d;
  for (let n = 1; n < MOST_TERMS; n++) {
    const a = -n * (n - shape);
    b += 2;
    d = 1 / away(a * d + b);
    c = away(b + a / c);
    value *= d * c;
    if (Math.abs(d * c - 1) < CLOSE) break;
  }
  return 1 - front * value;
}

const away = (value: number): number => (Math.abs(value) < TINY ? TINY : value);

/** Density of Student's t with `degrees` of freedom. */
export const tDensity = (t: number, degrees: number): number =>
  Math.exp(
    logGamma((degrees + 1) / 2) -
      logGamma(degrees / 2) -
      0.5 * Math.log(degrees * Math.PI) -
      ((degrees + 1) / 2) * Math.log1p((t * t) / degrees),
  );

/** Chance that Student's t with `degrees` of freedom is at most t. Holds: degrees > 0. */
export function tCdf(t: number, degrees: number): number {
  const tail = betaCdf(degrees / (degrees + t * t), degrees / 2, 0.5) / 2;
  return t >= 0 ? 1 - tail : tail;
}

/** The t below which Student's t lies with chance p. Holds: 0 < p < 1. */
export function tQuantile(p: number, degrees: number): number {
  if (p < 0.5) return -tQuantile(1 - p, degrees);
  return bisected((t) => tCdf(t, degrees), p);
}

/** The figure below which a Gamma(shape, rate) lies with chance p. Holds: 0 < p < 1. */
export const gammaQuantile = (p: number, shape: number, rate: number): number =>
  bisected((x) => gammaCdf(x, shape), p) / rate;

/** Where a rising function from 0 on reaches p. */
function bisected(rising: (x: number) => number, p: number): number {
  let high = 1;
  while (rising(high) < p) high *= 2;
  let low = 0;
  for (let step = 0; step < 200 && high - low > 1e-14 * high; step++) {
    const middle = (low + high) / 2;
    if (rising(middle) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
