/** Spacing of the growth cells (secondary arms of the dendrites) that the pattern comes from. */
import { mustLie, type NotedRange } from "./range.js";

/** Share to either side. Judgement: the two laws differ by up to 12 % here, steels scatter more. */
const SCATTER = 0.3;
/** The arm-spacing laws end here, %C: past it the carbon term runs away (0.37 at 1.5 %C) and is not extrapolated. [S13] */
const MOST_CARBON_OF_ARM_LAW_PCT = 1;

/**
 * Spacing of growth cells in a slowly frozen ingot, µm.
 * Shape: 709 R^−0.39, R in K/min through freezing; no carbon term.
 * Holds: R about 1 to 500 K/min, 0.14 to 0.88 %C, used to 2 %C without extrapolating in carbon. Error: ±30 %. Source: [S21], memory.
 */
export function cellSpacingUm(coolingKPerMin: number): NotedRange {
  mustLie("coolingKPerMin", coolingKPerMin, 1e-3, 1e6, "K/min");
  const likely = 709 * coolingKPerMin ** -0.39;
  return {
    low: likely * (1 - SCATTER),
    likely,
    high: likely * (1 + SCATTER),
    notes: coolingKPerMin < 1 || coolingKPerMin > 500 ? ["outside-range"] : [],
  };
}

/** The rate that gives a spacing, K/min: the law above turned round. Error: a factor of 2.5 either way. */
export const coolingForSpacingKPerMin = (spacingUm: number): number =>
  (spacingUm / 709) ** (-1 / 0.39);

/**
 * Arm spacing by the law with a carbon term, µm; R in K/s. Carbon above 1 % is taken as 1 %, where it meets `cellSpacingUm`.
 * Holds: to about 1 %C, 0.01 to 100 K/s. Error: ±20 % on its data. Source: [S13].
 */
export function armSpacingUm(coolingKPerS: number, carbonPct: number): number {
  mustLie("coolingKPerS", coolingKPerS, 1e-5, 1e5, "K/s");
  const c = Math.min(carbonPct, MOST_CARBON_OF_ARM_LAW_PCT);
  if (c <= 0.15) return (169.1 - 720.9 * c) * coolingKPerS ** -0.4935;
  return 143.9 * coolingKPerS ** -0.3616 * c ** (0.5501 - 1.996 * c);
}
