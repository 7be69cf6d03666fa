/** When a casting's phosphorus has spread enough that its ceiling may rise: hours as cast, minutes once it is forged thin. */
import { mustBeTemperature } from "./composition.js";
import { mustLie, type NotedRange, type SteelNote } from "./range.js";
import type { Soak } from "./scale.js";

const GAS_CONSTANT = 8.314; // J/(mol K)
const KELVIN = 273.15;
/** Times and divided by this: spread of the published diffusivities. Judgement. */
const DIFFUSIVITY_SPREAD = 2;
/** A casting counts as homogenised when its segregation has fallen to this share. Judgement, 0.1 to 0.3. */
export const HOMOGENISED_BELOW = 0.2;

/** Diffusivity of phosphorus in austenite, cm²/s. Holds: 900 to 1250 °C. Error: ×/÷2. Source: [S13], [S62], memory, medium-high. */
export const phosphorusDiffusivityCm2PerS = (tempC: number): number =>
  0.01 * Math.exp(-182_840 / (GAS_CONSTANT * (tempC + KELVIN)));

/** A soak, with the spacing of the cells that the piece has then: it shrinks with the thickness. */
export interface SpreadingSoak extends Soak {
  readonly spacingUm: number;
}

/**
 * Share of the phosphorus segregation that is left after a row of soaks, 0 to 1.
 * Shape: a wave of the cells' spacing λ that decays as exp(−Σ D t (2π/λ)²); the last film of liquid is sharper and goes sooner at first.
 * Holds: austenite, 900 to 1250 °C. Error: the range, D ×/÷2. Source: diffusion of a wave, exact; D as above.
 */
export function segregationLeft(soaks: readonly SpreadingSoak[]): NotedRange {
  const notes: SteelNote[] = [];
  let decay = 0;
  for (const { tempC, minutes, spacingUm } of soaks) {
    mustBeTemperature(tempC);
    mustLie("minutes", minutes, 0, 100_000, "min");
    mustLie("spacingUm", spacingUm, 0.1, 10_000, "µm");
    if (tempC < 900 || tempC > 1250) notes.push("outside-range");
    const wavesPerCm = (2 * Math.PI) / (spacingUm * 1e-4);
    decay += phosphorusDiffusivityCm2PerS(tempC) * minutes * 60 * wavesPerCm ** 2;
  }
  return {
    low: Math.exp(-decay * DIFFUSIVITY_SPREAD),
    likely: Math.exp(-decay),
    high: Math.exp(-decay / DIFFUSIVITY_SPREAD),
    notes: [...new Set(notes)],
  };
}

/** Minutes at one heat until the casting counts as homogenised. Holds and errs as `segregationLeft`. */
export function homogenisingMinutes(spacingUm: number, tempC: number): NotedRange {
  const { likely, notes } = segregationLeft([{ tempC, minutes: 1, spacingUm }]);
  const minutes = Math.log(HOMOGENISED_BELOW) / Math.log(likely);
  return {
    low: minutes / DIFFUSIVITY_SPREAD,
    likely: minutes,
    high: minutes * DIFFUSIVITY_SPREAD,
    notes,
  };
}
