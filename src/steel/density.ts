import { CEMENTITE_CARBON_PCT, mustBeCarbon } from "./composition.js";
import { linearExpansion } from "./expansion.js";
import { CEMENTITE_G_PER_CM3, FERRITE_G_PER_CM3 } from "./lattice.js";

const ROOM_C = 20;
const MM3_PER_CM3 = 1000;

/**
 * Density of sound annealed carbon steel, g/mm³ (7.83e-3 at 1.5 %C).
 * Shape: ferrite + cementite by mass at 20 °C; hot, divided by the cube of the likely linear growth.
 * Holds: 0 to 2.05 %C, 20 to 1200 °C, no pores: an ingot with pipe or gas is lighter, which is how its voids are found.
 * Error: ±0.01 g/cm³ at 20 °C, ±1 % hot. Source: mixture rule with the densities of [S07]; growth as `linearExpansion`.
 */
export function densityGPerMm3(carbonPct: number, tempC: number = ROOM_C): number {
  mustBeCarbon(carbonPct);
  const cementite = carbonPct / CEMENTITE_CARBON_PCT;
  const cm3PerG = (1 - cementite) / FERRITE_G_PER_CM3 + cementite / CEMENTITE_G_PER_CM3;
  const cold = 1 / cm3PerG / MM3_PER_CM3;
  if (tempC === ROOM_C) return cold;
  return cold / (1 + linearExpansion(carbonPct, tempC).likely) ** 3;
}
