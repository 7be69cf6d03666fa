/** How hard hot steel resists. Temperature and speed rule; carbon hardly matters once it is hot. */
import { mustBeCarbon, mustBeTemperature } from "./composition.js";
import { acmC, cementiteFraction } from "./iron-carbon.js";
import { mustLie, type NotedRange, type SteelNote } from "./range.js";

export interface Squeeze {
  readonly carbonPct: number;
  readonly tempC: number;
  /** True strain of the squeeze, ln(h0/h1). */
  readonly strain: number;
  /** 1/s: a slow press about 1, a hammer about 10, a fast hammer on thin work 100. */
  readonly strainRatePerS: number;
}

const MPA_PER_KGF_MM2 = 9.80665; // exact by definition
const KELVIN = 273;
/** The published range ends here, %C; more carbon is not extrapolated. [S22] */
export const MOST_CARBON_OF_FLOW_LAW_PCT = 1.2;
/** Share of the likely value to either side. Judgement over the disagreement of the laws. */
const SCATTER = 0.25;
/** Hardening by undissolved carbide, share of stress per share of carbide: 10 to 30 % at a tenth. Judgement, range as shown. */
const CARBIDE_HARDENING = { low: 1, likely: 2, high: 3 };

/**
 * Flow stress of plain carbon steel, MPa.
 * Holds: 0.07 to 1.2 %C, 700 to 1200 °C, 0.1 to 100 /s, strain to 0.7. Error: ±10 % on its own steels. Source: [S22].
 * Symbols: T kelvin/1000, Td the dividing temperature, n and m the exponents of strain and rate, f their product.
 */
export function shidaMPa({ carbonPct: c, tempC, strain, strainRatePerS }: Squeeze): number {
  const T = (tempC + KELVIN) / 1000;
  const Td = (0.95 * (c + 0.41)) / (c + 0.32);
  const n = 0.41 - 0.07 * c;
  const work = 1.3 * (strain / 0.2) ** n - 0.3 * (strain / 0.2);
  const solute = 0.01 / (c + 0.05);
  if (T >= Td) {
    const m = (-0.019 * c + 0.126) * T + (0.075 * c - 0.05);
    return MPA_PER_KGF_MM2 * 0.28 * Math.exp(5 / T - solute) * work * (strainRatePerS / 10) ** m;
  }
  const g = 30 * (c + 0.9) * (T - (0.95 * (c + 0.49)) / (c + 0.42)) ** 2 + (c + 0.06) / (c + 0.09);
  const m = (0.081 * c - 0.154) * T + (-0.019 * c + 0.207) + 0.027 / (c + 0.32);
  return MPA_PER_KGF_MM2 * 0.28 * g * Math.exp(5 / Td - solute) * work * (strainRatePerS / 10) ** m;
}

/** Flow stress by another law, for comparison, MPa. Holds: C < 1.2 %, 750 to 1200 °C, 30 to 200 /s, strain ≤ 0.5. Source: [S23]. */
export function misakaMPa({ carbonPct: c, tempC, strain, strainRatePerS }: Squeeze): number {
  const tempK = tempC + KELVIN;
  const exponent = 0.126 - 1.75 * c + 0.594 * c ** 2 + (2851 + 2968 * c - 1120 * c ** 2) / tempK;
  return MPA_PER_KGF_MM2 * Math.exp(exponent) * strain ** 0.21 * strainRatePerS ** 0.13;
}

/**
 * Peak stress of a carbide-rich, high-chromium bearing-roller steel, MPa: an upper bound for ours.
 * Holds: 950 to 1200 °C, 0.01 to 10 /s. Error: not stated by the source. Source: [S24].
 */
export function bearingSteelPeakMPa(tempC: number, strainRatePerS: number): number {
  const z = (strainRatePerS * Math.exp(481_363 / (8.314 * (tempC + 273.15)))) / 1.0e18;
  return Math.asinh(z ** (1 / 5.78)) / 0.0083;
}

/**
 * Flow stress of the steel in hand, MPa, as a band.
 * Carbon above 1.2 % is taken as 1.2 % and noted; below Acm the carbide that the 1.2 % steel would not have had is added.
 * Holds: as `shidaMPa`; outside it is extrapolated and noted. Error: the band, ±25 % and the carbide allowance. Source: [S22], [S25].
 */
export function flowStressMPa(squeeze: Squeeze): NotedRange {
  const { carbonPct, tempC, strain, strainRatePerS } = squeeze;
  mustBeCarbon(carbonPct);
  mustBeTemperature(tempC);
  mustLie("strain", strain, 0, 10, "(true strain)");
  mustLie("strainRatePerS", strainRatePerS, 1e-6, 1e6, "/s");
  const notes: SteelNote[] = [];
  const carbon = Math.min(carbonPct, MOST_CARBON_OF_FLOW_LAW_PCT);
  if (carbon < carbonPct) notes.push("carbon-clamped");
  if (
    tempC < 700 ||
    tempC > 1200 ||
    strain > 0.7 ||
    strainRatePerS < 0.1 ||
    strainRatePerS > 100 ||
    carbonPct < 0.07
  ) {
    notes.push("outside-range");
  }
  // Past a strain of 0.7 the law's own f turns over; the stress is held there, as a recrystallising steel's is.
  const base = shidaMPa({ ...squeeze, carbonPct: carbon, strain: Math.min(strain, 0.7) });
  const extra =
    tempC < acmC(carbonPct)
      ? Math.max(0, cementiteFraction(carbonPct, tempC) - cementiteFraction(carbon, tempC))
      : 0;
  if (extra > 0) notes.push("carbides-added");
  return {
    low: base * (1 - SCATTER) * (1 + CARBIDE_HARDENING.low * extra),
    likely: base * (1 + CARBIDE_HARDENING.likely * extra),
    high: base * (1 + SCATTER) * (1 + CARBIDE_HARDENING.high * extra),
    notes,
  };
}
