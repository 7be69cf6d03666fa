/** How hot a melt must be, and how big its crucible. */
import { liquidusC, mustBeCarbon, type Range } from "../steel/index.js";
import type { ChargeItem } from "./charge-part.js";
import { materialNamed } from "./material.js";

/** K over the liquidus to hold or pour at. Common practice, no source; 30 to 100. More eats the crucible and coarsens nothing. */
export const OVER_LIQUIDUS_K: Range = { low: 30, likely: 60, high: 100 };
/** Solid share of a heap of cut iron; charcoal's own heap, g/cm³. Common practice, no source: 0.35 to 0.6; 0.2 to 0.3. */
const HEAP = { solidShare: 0.5, charcoalGPerCm3: 0.25, fluxGPerCm3: 1.3 };
const SOLID_G_PER_CM3 = 7.8;
const KELVIN = 273.15;

export interface MeltHeat {
  readonly liquidusC: number;
  /** Hold or pour here, °C. */
  readonly holdC: Range;
}

/** Liquidus of a carbon and the heat to hold or pour at, °C. Error: ±10 K and a pyrometer's own. Source: [S09]; margin common practice. */
export function meltHeat(carbonPct: number): MeltHeat {
  const liquid = liquidusC(carbonPct);
  return {
    liquidusC: liquid,
    holdC: {
      low: liquid + OVER_LIQUIDUS_K.low,
      likely: liquid + OVER_LIQUIDUS_K.likely,
      high: liquid + OVER_LIQUIDUS_K.high,
    },
  };
}

/** Density of liquid iron–carbon, g/cm³. Holds: 0 to 4 %C, 1250 to 1550 °C. Error: ±1.5 %. Source: [S59]. */
export function liquidDensityGPerCm3(carbonPct: number, tempC: number): number {
  mustBeCarbon(carbonPct);
  return 7.1 - 0.0732 * carbonPct - (8.28 - 0.874 * carbonPct) * 1e-4 * (tempC + KELVIN - 1823);
}

/**
 * Room that a charge needs, cm³: molten at its hold heat, and heaped cold before it sinks.
 * Error: heap ±30 % by how the pieces are cut; leave a finger's breadth over the melt besides. Source: [S59]; heaps common practice.
 */
export function crucibleNeededCm3(
  items: readonly ChargeItem[],
  carbonPct: number,
): { melt: number; charge: number } {
  let melt = 0;
  let charge = 0;
  const liquid = liquidDensityGPerCm3(carbonPct, meltHeat(carbonPct).holdC.likely);
  for (const { what, massG } of items) {
    const kind = materialNamed(what)?.kind ?? "metal";
    if (kind === "carbon") charge += massG / HEAP.charcoalGPerCm3;
    else if (kind === "inert") charge += massG / HEAP.fluxGPerCm3;
    else {
      charge += massG / (SOLID_G_PER_CM3 * HEAP.solidShare);
      melt += massG / liquid;
    }
  }
  return { melt, charge };
}
