/**
 * What is taken before a shop's own log says anything. Common practice unless a source stands beside it; each with the range in
 * which nine shops of ten are thought to lie. The page docs/learned.md says how each was chosen.
 */
import type { GammaBelief, PositivePrior } from "./conjugate.js";

/** Share of its mass that a piece loses to scale in one heat. From [S26], [S27]: 0.4 % of a thick block to 3 % of a thin strip. */
export const LOSS_PER_HEAT_PRIOR: PositivePrior = {
  likely: 0.01,
  low: 0.004,
  high: 0.025,
  scatter: 1.4,
  scatterShape: 2,
};
/** Minutes from one heat to the next. Common practice, no source. */
export const MINUTES_PER_HEAT_PRIOR: PositivePrior = {
  likely: 12,
  low: 6,
  high: 24,
  scatter: 1.3,
  scatterShape: 2,
};
/** Growth of the width over loss of thickness, both as logarithms, where the bar was worked on the flat. [S42]: 0.31 to 0.45. */
export const SPREAD_PRIOR: PositivePrior = {
  likely: 0.36,
  low: 0.2,
  high: 0.65,
  scatter: 1.4,
  scatterShape: 2,
};
/** Share of the ingot's mass that is taken out with the pipe. End: 30 to 40 % of the bar, common practice; others, no source. */
export const PIPE_PRIORS: Readonly<Record<RouteName, PositivePrior>> = {
  spine: { likely: 0.05, low: 0.02, high: 0.12, scatter: 1.5, scatterShape: 2 },
  face: { likely: 0.05, low: 0.02, high: 0.12, scatter: 1.5, scatterShape: 2 },
  end: { likely: 0.33, low: 0.24, high: 0.45, scatter: 1.25, scatterShape: 2 },
  ring: { likely: 0.06, low: 0.03, high: 0.12, scatter: 1.4, scatterShape: 2 },
};
/** Share of the ingot's mass that is ground, filed and shaped away, cracks and finish together. Common practice, no source. */
export const GRINDING_PRIOR: PositivePrior = {
  likely: 0.25,
  low: 0.12,
  high: 0.5,
  scatter: 1.5,
  scatterShape: 2,
};
/** Blade over ingot, by mass. Common practice, no source. */
export const YIELD_PRIOR: PositivePrior = {
  likely: 0.35,
  low: 0.18,
  high: 0.65,
  scatter: 1.4,
  scatterShape: 2,
};
/** Heats of a stage: the likely number is shape/rate, worth `rate` ingots. Common practice, no source. */
export const STAGE_HEATS_PRIORS = {
  /** Ingot to the last disc or ring. 1.4 to 7.8. */
  flatten: { shape: 4, rate: 1 },
  /** From there to the first bar or block. 0.8 to 6.3. */
  block: { shape: 3, rate: 1 },
  /** From there to the blade. 6.5 to 26. */
  draw: { shape: 6, rate: 0.4 },
} as const satisfies Readonly<Record<string, GammaBelief>>;
/** Cracks a heat: one in twelve heats, worth a dozen heats. Common practice, no source; 1 in 230 to 1 in 4. */
export const CRACKS_PRIOR: GammaBelief = { shape: 1, rate: 12 };

export type RouteName = "spine" | "face" | "end" | "ring";
export type StageHeats = keyof typeof STAGE_HEATS_PRIORS;
