/**
 * Figures as they stand in a reply: in the chat's units, rounded for a glance, never two systems mixed.
 * What is printed here reads back as the same rounded figure.
 */
import {
  fahrenheitFromCelsius,
  G_PER_OUNCE,
  KN_PER_SHORT_TON_FORCE,
  MM_PER_INCH,
} from "./exact.js";

/** Units a chat has chosen. Mass and force follow the length. */
export interface ChatUnits {
  readonly length: "mm" | "inch";
  readonly temperature: "c" | "f";
  /** Reading back what was said: to the tenth of a mm, so that a smith sees his own figure. */
  readonly exact?: true;
}

export const METRIC: ChatUnits = { length: "mm", temperature: "c" };

/** Below this, mm are shown to the half. Common practice: what a workshop rule shows. */
const HALF_MM_BELOW = 10;
/** Below this, inches are shown to 1/32, above to 1/16. */
const FINE_INCH_BELOW = 0.5;
const OUNCES_PER_POUND = 16;

/** A length rounded as it will be printed, in mm. */
export function roundedMm(mm: number, units: ChatUnits): number {
  if (units.length === "mm") {
    if (units.exact) return Math.round(mm * 10) / 10;
    const half = Math.round(mm * 2) / 2;
    return Math.abs(half) < HALF_MM_BELOW ? half : Math.round(mm);
  }
  return inchParts(mm).inches * MM_PER_INCH;
}

function inchParts(mm: number): { inches: number; whole: number; over: number; under: number } {
  const inches = mm / MM_PER_INCH;
  const parts = Math.round(Math.abs(inches) * 32) / 32 < FINE_INCH_BELOW ? 32 : 16;
  const count = Math.round(Math.abs(inches) * parts);
  const whole = Math.floor(count / parts);
  let over = count % parts;
  let under = parts;
  while (over > 0 && over % 2 === 0) {
    over /= 2;
    under /= 2;
  }
  return { inches: (Math.sign(inches) * count) / parts, whole, over, under };
}

/** "22", "3.5", "1 7/16", "3/32": the figure alone, without its unit. */
export function lengthFigure(mm: number, units: ChatUnits): string {
  if (units.length === "mm") return trimmed(roundedMm(mm, units));
  const { inches, whole, over, under } = inchParts(mm);
  const sign = inches < 0 ? "-" : "";
  if (over === 0) return `${sign}${whole}`;
  return whole === 0 ? `${sign}${over}/${under}` : `${sign}${whole} ${over}/${under}`;
}

const lengthUnit = (units: ChatUnits): string => (units.length === "mm" ? "mm" : "in");

/** "22 mm", "1 7/16 in". */
export const formatLength = (mm: number, units: ChatUnits): string =>
  `${lengthFigure(mm, units)} ${lengthUnit(units)}`;

/** "22 × 36 × 180 mm", "7/8 × 1 7/16 × 7 1/16 in". */
export const formatSize = (sizesMm: readonly number[], units: ChatUnits): string =>
  `${sizesMm.map((mm) => lengthFigure(mm, units)).join(" × ")} ${lengthUnit(units)}`;

/** "780 g", "3.5 g", "27.5 oz", "1 lb 11.5 oz". */
export function formatMass(massG: number, units: ChatUnits): string {
  if (units.length === "mm") {
    return Math.abs(massG) < 10
      ? `${trimmed(Math.round(massG * 2) / 2)} g`
      : `${Math.round(massG)} g`;
  }
  const ounces = Math.round((Math.abs(massG) / G_PER_OUNCE) * 10) / 10;
  const sign = massG < 0 && ounces > 0 ? "-" : "";
  if (ounces < OUNCES_PER_POUND) return `${sign}${trimmed(ounces)} oz`;
  const pounds = Math.floor(ounces / OUNCES_PER_POUND);
  const rest = Math.round((ounces - pounds * OUNCES_PER_POUND) * 10) / 10;
  return rest === 0 ? `${sign}${pounds} lb` : `${sign}${pounds} lb ${trimmed(rest)} oz`;
}

/** "950 °C", "1742 °F". */
export const formatTemperature = (tempC: number, units: ChatUnits): string =>
  units.temperature === "c"
    ? `${Math.round(tempC)} °C`
    : `${Math.round(fahrenheitFromCelsius(tempC))} °F`;

/** "200 kN", "22 short tons". */
export const formatForce = (forceKn: number, units: ChatUnits): string =>
  units.length === "mm"
    ? `${forceKn < 10 ? trimmed(Math.round(forceKn * 10) / 10) : Math.round(forceKn)} kN`
    : `${trimmed(Math.round((forceKn / KN_PER_SHORT_TON_FORCE) * 10) / 10)} short tons`;

/** "40 s", "2 min", "1 h 20 min". */
export function formatDuration(seconds: number): string {
  if (seconds < 90) return `${Math.round(seconds)} s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  const rest = minutes % 60;
  return rest === 0 ? `${minutes / 60} h` : `${Math.floor(minutes / 60)} h ${rest} min`;
}

/** "7 %", "0.4 %". */
export const formatPercent = (percent: number): string =>
  `${Math.abs(percent) < 3 ? trimmed(Math.round(percent * 10) / 10) : Math.round(percent)} %`;

const trimmed = (value: number): string => String(value === 0 ? 0 : value);
