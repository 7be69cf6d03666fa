/** How long a heat lasts: a section cooling by radiation, air and the cold anvil, with the heat that the steel really holds. */
import {
  conductivityWPerMK,
  densityGPerMm3,
  EMISSIVITY,
  heatCapacityJPerKgK,
} from "../steel/index.js";
import type { Range } from "./types.js";

const STEFAN_BOLTZMANN = 5.670374419e-8; // W/(m² K⁴), exact by definition of the SI
const KELVIN = 273.15;
const ROOM_C = 20;
/** Still air to a draught, W/(m² K). [S71] */
const CONVECTION: Range = { low: 5, likely: 10, high: 20 };
/** Interface conductance under load, W/(m² K), and share of time and of the surface that lies on steel. Memory, medium; [S71]. */
const CONTACT_W_PER_M2K = 4000;
const CONTACT_SHARE: Range = { low: 0.01, likely: 0.02, high: 0.04 };
const STEP_K = 5;

export interface CoolingFace {
  readonly emissivity: number;
  readonly convectionWPerM2K: number;
  /** Share of surface × time in contact with cold steel. */
  readonly contactShare: number;
}

/** Heat leaving a surface, W/m²: ε σ (T⁴ − Ts⁴) + h (T − Ts) + contact. */
export function heatFlowWPerM2(tempC: number, face: CoolingFace): number {
  const over = tempC - ROOM_C;
  const radiation =
    face.emissivity * STEFAN_BOLTZMANN * ((tempC + KELVIN) ** 4 - (ROOM_C + KELVIN) ** 4);
  return radiation + face.convectionWPerM2K * over + face.contactShare * CONTACT_W_PER_M2K * over;
}

/**
 * Seconds a body takes from one temperature to another, for each mm of its volume over its surface and each kg/m³:
 * the integral of c(T)/q(T). The lumped body holds while h (V/A)/k < 0.1: to about 80 mm square.
 * Trapezoids of 5 K; error of the sum under 0.1 % above 740 °C.
 */
function secondsPerKgPerM2(startC: number, floorC: number, face: CoolingFace): number {
  if (startC <= floorC) return 0;
  const steps = Math.max(1, Math.ceil((startC - floorC) / STEP_K));
  const stepK = (startC - floorC) / steps;
  let sum = 0;
  for (let step = 0; step <= steps; step++) {
    const tempC = floorC + step * stepK;
    const value = heatCapacityJPerKgK(tempC) / heatFlowWPerM2(tempC, face);
    sum += step === 0 || step === steps ? value / 2 : value;
  }
  return sum * stepK;
}

/** The cooling of one steel between two temperatures, worked once and used for every section. */
export interface CoolingCurve {
  /** Seconds per mm of volume over surface. */
  readonly sPerMm: Range;
}

/** Works the curve of a steel. `dieContact`: it lies on an anvil or between dies while worked. Source: [S03], [S39], [S71]. */
export function coolingCurve(
  startC: number,
  floorC: number,
  carbonPct: number,
  dieContact: boolean,
): CoolingCurve {
  const mean = Math.min(1200, (startC + floorC) / 2);
  const kgPerM3 = densityGPerMm3(carbonPct, mean) * 1e6;
  const perMm = (emissivity: number, convection: number, contact: number) =>
    (secondsPerKgPerM2(startC, floorC, {
      emissivity,
      convectionWPerM2K: convection,
      contactShare: dieContact ? contact : 0,
    }) *
      kgPerM3) /
    1000;
  return {
    sPerMm: {
      low: perMm(EMISSIVITY.high, CONVECTION.high, CONTACT_SHARE.high),
      likely: perMm(EMISSIVITY.likely, CONVECTION.likely, CONTACT_SHARE.likely),
      high: perMm(EMISSIVITY.low, CONVECTION.low, CONTACT_SHARE.low),
    },
  };
}

export interface CoolingSection {
  readonly thicknessMm: number;
  readonly widthMm: number;
  readonly lengthMm?: number;
}

/** Volume over surface of a bar, mm; without a length, of a long one. Exact. */
export function volumeOverSurfaceMm({ thicknessMm: t, widthMm: w, lengthMm: l }: CoolingSection) {
  return l === undefined ? (t * w) / (2 * (t + w)) : (t * w * l) / (2 * (t * w + t * l + w * l));
}

/**
 * Seconds in which a section falls from the start temperature to the floor.
 * Holds: 700 to 1250 °C, sections to 80 mm. Error: the band (emissivity 0.7 to 0.9, air 5 to 20 W/m²K, contact by a factor of 2).
 */
export function workingTime(
  section: CoolingSection & {
    readonly startC: number;
    readonly floorC: number;
    readonly carbonPct: number;
    readonly dieContact?: boolean;
  },
): Range {
  const { startC, floorC, carbonPct } = section;
  const { sPerMm } = coolingCurve(startC, floorC, carbonPct, section.dieContact ?? true);
  return timesOf(sPerMm, volumeOverSurfaceMm(section));
}

export const timesOf = (range: Range, factor: number): Range => ({
  low: range.low * factor,
  likely: range.likely * factor,
  high: range.high * factor,
});

/**
 * Radiation alone with constant heat capacity, s: the textbook closed form, for checks.
 * t = ρ c (V/A)/(4 ε σ Ts³) {[ln((T+Ts)/(T−Ts)) + 2 atan(T/Ts)] − [same at Ti]}. Exact. Source: [S49].
 */
export function radiationOnlyS(given: {
  readonly volumeOverSurfaceMm: number;
  readonly densityKgPerM3: number;
  readonly heatJPerKgK: number;
  readonly emissivity: number;
  readonly startC: number;
  readonly endC: number;
  readonly surroundingsC: number;
}): number {
  const ts = given.surroundingsC + KELVIN;
  const at = (tempC: number) => {
    const tempK = tempC + KELVIN;
    return Math.log((tempK + ts) / (tempK - ts)) + 2 * Math.atan(tempK / ts);
  };
  const capacity = given.densityKgPerM3 * given.heatJPerKgK * (given.volumeOverSurfaceMm / 1000);
  return (
    (capacity / (4 * given.emissivity * STEFAN_BOLTZMANN * ts ** 3)) *
    (at(given.endC) - at(given.startC))
  );
}

/** Lumped cooling holds under 0.1: (h_radiation + h_air)(V/A)/k. Source: [S49]. */
export function biotNumber(section: CoolingSection, tempC: number): number {
  const face = {
    emissivity: EMISSIVITY.likely,
    convectionWPerM2K: CONVECTION.likely,
    contactShare: 0,
  };
  const perK = heatFlowWPerM2(tempC, face) / (tempC - ROOM_C);
  return (perK * volumeOverSurfaceMm(section)) / 1000 / conductivityWPerMK(tempC);
}

/** Fourier number at which the middle of a slab heated from both faces has made up 95 % of the difference. [S49] */
const SOAK_FOURIER = 1.3;

/**
 * Minutes to heat a section through in a forge or furnace at `fireC`, from cold.
 * Shape: lumped heating by radiation and hot gas to 10 K under the fire, and the time for the middle to follow.
 * Holds: sections to 80 mm. Error: ×/÷1.5 (how the piece lies in the fire). Source: [S49].
 */
export function soakTime(
  section: CoolingSection & { readonly fireC: number; readonly carbonPct: number },
): Range {
  const { fireC } = section;
  const kgPerM3 = densityGPerMm3(section.carbonPct) * 1e6;
  const target = fireC - 10;
  const gasWPerM2K = 30;
  let seconds = 0;
  for (let tempC = ROOM_C; tempC < target; tempC += STEP_K) {
    const step = Math.min(STEP_K, target - tempC);
    const middle = tempC + step / 2;
    const flow =
      EMISSIVITY.likely * STEFAN_BOLTZMANN * ((fireC + KELVIN) ** 4 - (middle + KELVIN) ** 4) +
      gasWPerM2K * (fireC - middle);
    seconds +=
      (kgPerM3 * heatCapacityJPerKgK(middle) * step * volumeOverSurfaceMm(section)) / 1000 / flow;
  }
  const half = Math.min(section.thicknessMm, section.widthMm) / 2000;
  const diffusivity = conductivityWPerMK(900) / (kgPerM3 * heatCapacityJPerKgK(910));
  const minutes = (seconds + (SOAK_FOURIER * half ** 2) / diffusivity) / 60;
  return { low: minutes / 1.5, likely: minutes, high: minutes * 1.5 };
}
