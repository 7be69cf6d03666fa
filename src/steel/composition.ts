import { mustLie } from "./range.js";

/** What the steel is made of, wt%. Carbon is always known or assumed; the rest only when someone had it analysed. */
export interface Composition {
  readonly carbonPct: number;
  readonly siPct?: number;
  readonly mnPct?: number;
  readonly pPct?: number;
  readonly sPct?: number;
  readonly crPct?: number;
  readonly niPct?: number;
  readonly moPct?: number;
  readonly wPct?: number;
  readonly asPct?: number;
  readonly alPct?: number;
  readonly coPct?: number;
}

/** Carbon in cementite Fe3C, wt%: 100 × 12.011 / (3 × 55.845 + 12.011). Atomic weights, exact to the digits shown. */
export const CEMENTITE_CARBON_PCT = 6.69;

/** Carbon from none to all cementite, wt%; anything else is a mistake of ours. */
export const mustBeCarbon = (carbonPct: number): void =>
  mustLie("carbonPct", carbonPct, 0, CEMENTITE_CARBON_PCT, "%");

/** Any temperature that steel is handled or melted at. */
export const mustBeTemperature = (tempC: number): void => mustLie("tempC", tempC, -100, 2000, "°C");
