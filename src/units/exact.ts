/**
 * Exact conversions to the one internal system: mm, g, °C, kN, s.
 * Source: [S01] NIST SP 811 (2008), Appendix B. Every factor here is exact by definition.
 */
export const MM_PER_INCH = 25.4;
export const MM_PER_FOOT = 304.8;
export const MM_PER_THOU = 0.0254;
export const G_PER_POUND = 453.59237;
export const G_PER_OUNCE = 28.349523125;
/** Standard gravity, m/s². */
export const STANDARD_GRAVITY = 9.80665;
/** Metric ton-force, kN. */
export const KN_PER_TONNE_FORCE = 9.80665;
/** Short ton-force (2000 lbf), kN. */
export const KN_PER_SHORT_TON_FORCE = 8.896443230521;
/** Long ton-force (2240 lbf), kN. */
export const KN_PER_LONG_TON_FORCE = 9.96401641818352;
export const KN_PER_POUND_FORCE = 0.0044482216152605;
export const PA_PER_BAR = 100_000;
export const PA_PER_PSI = 6894.757293168361;
export const KELVIN_AT_ZERO_C = 273.15;

/** °F → °C. */
export const celsiusFromFahrenheit = (tempF: number): number => (tempF - 32) / 1.8;
/** °C → °F. */
export const fahrenheitFromCelsius = (tempC: number): number => tempC * 1.8 + 32;
/** K → °C. */
export const celsiusFromKelvin = (tempK: number): number => tempK - KELVIN_AT_ZERO_C;
/** °C → K. */
export const kelvinFromCelsius = (tempC: number): number => tempC + KELVIN_AT_ZERO_C;

/** Thrust of a hydraulic cylinder, kN, from gauge pressure (bar) and bore (mm): p · π d²/4. */
export const knFromBarAndBore = (pressureBar: number, boreMm: number): number =>
  (pressureBar * PA_PER_BAR * Math.PI * (boreMm / 1000) ** 2) / 4 / 1000;
