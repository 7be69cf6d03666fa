/** Heat: how much the steel holds, how fast it flows inside, how it shines. */
import { mustBeTemperature } from "./composition.js";
import type { Range } from "./range.js";

/**
 * Specific heat of carbon steel, J/(kg K).
 * Holds: 20 to 1200 °C, constant beyond. The peak at 735 °C is the heat of the change at A1, 94 kJ/kg in all, which a calorimeter
 * finds at 82 [S40]; in air it is given off lower, at 680 to 620 °C. Error: ±10 % away from the peak. Source: [S03] 3.4.1.2.
 */
export function heatCapacityJPerKgK(tempC: number): number {
  mustBeTemperature(tempC);
  const t = tempC;
  if (t < 600) return 425 + 0.773 * t - 1.69e-3 * t ** 2 + 2.22e-6 * t ** 3;
  if (t < 735) return 666 + 13002 / (738 - t);
  if (t < 900) return 545 + 17820 / (t - 731);
  return 650;
}

/** Heat held above 0 °C, J/kg: the integral of `heatCapacityJPerKgK` in closed form. Differences of it are what counts. */
export function heatContentJPerKg(tempC: number): number {
  mustBeTemperature(tempC);
  const low = (t: number) =>
    425 * t + (0.773 / 2) * t ** 2 - (1.69e-3 / 3) * t ** 3 + (2.22e-6 / 4) * t ** 4;
  if (tempC < 600) return low(tempC);
  const rising = (t: number) => 666 * t - 13002 * Math.log(738 - t);
  const at600 = low(600);
  if (tempC < 735) return at600 + rising(tempC) - rising(600);
  const at735 = at600 + rising(735) - rising(600);
  const falling = (t: number) => 545 * t + 17820 * Math.log(t - 731);
  if (tempC < 900) return at735 + falling(tempC) - falling(735);
  return at735 + falling(900) - falling(735) + 650 * (tempC - 900);
}

/**
 * Thermal conductivity of carbon steel, W/(m K).
 * Holds: 20 to 1200 °C, constant beyond. Error: ±10 %; high carbon cold is lower (about 45 at 20 °C, memory). Source: [S03] 3.4.1.3.
 */
export function conductivityWPerMK(tempC: number): number {
  mustBeTemperature(tempC);
  return tempC < 800 ? 54 - 0.0333 * tempC : 27.3;
}

/** Emissivity of scaled steel at forging heat. [S03] takes 0.7; oxidised and rough plate 0.6 to 0.95 [S39]; heavy scale 0.8, memory. */
export const EMISSIVITY: Range = { low: 0.7, likely: 0.8, high: 0.9 };
