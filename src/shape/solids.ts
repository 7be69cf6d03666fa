/** Volumes and surfaces of the plain solids that ingots and bars are made of. Exact mathematics, [S02]. mm, mm², mm³. */

/** Cap of a ball seen from its rim. V = π h (3a² + h²)/6, a the rim radius. Holds: any a ≥ 0, h ≥ 0. Exact. */
export const capVolumeMm3 = (rimRadiusMm: number, heightMm: number): number =>
  (Math.PI * heightMm * (3 * rimRadiusMm ** 2 + heightMm ** 2)) / 6;

/** Ball that a cap was cut from: R = (a² + h²)/(2h). Holds: h > 0. Exact. */
export const ballRadiusMm = (rimRadiusMm: number, heightMm: number): number =>
  (rimRadiusMm ** 2 + heightMm ** 2) / (2 * heightMm);

/** Slice of a ball between two parallel circles. V = π h (3a² + 3b² + h²)/6. Exact. */
export const ballSliceVolumeMm3 = (aMm: number, bMm: number, heightMm: number): number =>
  (Math.PI * heightMm * (3 * aMm ** 2 + 3 * bMm ** 2 + heightMm ** 2)) / 6;

/** Truncated cone. V = π h (R² + R r + r²)/3; r = R a cylinder, r = 0 a whole cone. Exact. */
export const coneVolumeMm3 = (topRadiusMm: number, bottomRadiusMm: number, heightMm: number) =>
  (Math.PI * heightMm * (topRadiusMm ** 2 + topRadiusMm * bottomRadiusMm + bottomRadiusMm ** 2)) /
  3;

/** Flank of a truncated cone: π (R + r) √(h² + (R − r)²). Exact. */
export const coneFlankMm2 = (topRadiusMm: number, bottomRadiusMm: number, heightMm: number) =>
  Math.PI * (topRadiusMm + bottomRadiusMm) * Math.hypot(heightMm, topRadiusMm - bottomRadiusMm);

/** Cap of an ellipsoid, depth h of semi-axis c. V = π a b h² (3c − h)/(3c²). Holds: 0 ≤ h ≤ 2c. Exact. */
export const ellipsoidCapVolumeMm3 = (aMm: number, bMm: number, cMm: number, heightMm: number) =>
  (Math.PI * aMm * bMm * heightMm ** 2 * (3 * cMm - heightMm)) / (3 * cMm ** 2);

/**
 * Body whose section changes at most as a square along its length. V = L (A1 + 4 Am + A2)/6, Am the section at mid
 * length from the mean dimensions. Exact for tapers; the mean of the end areas would be up to 4 % too much. [S02]
 */
export const prismatoidVolumeMm3 = (
  firstMm2: number,
  middleMm2: number,
  lastMm2: number,
  lengthMm: number,
): number => (lengthMm * (firstMm2 + 4 * middleMm2 + lastMm2)) / 6;

/** Segment of a circle by its chord and height. Holds: 0 ≤ height ≤ chord/2. Exact. */
export function circleSegmentMm2(chordMm: number, heightMm: number): number {
  if (heightMm <= 0 || chordMm <= 0) return 0;
  const radius = ballRadiusMm(chordMm / 2, heightMm);
  const half = Math.atan2(chordMm / 2, radius - heightMm);
  return radius ** 2 * (half - Math.sin(half) * Math.cos(half));
}

/** Octagon across flats s: 2 (√2 − 1) s². Exact. */
export const octagonMm2 = (acrossFlatsMm: number): number =>
  2 * (Math.SQRT2 - 1) * acrossFlatsMm ** 2;

/** Side of the square with the area of a round: d √π/2. Exact. */
export const squareOfRoundMm = (diameterMm: number): number =>
  (diameterMm * Math.sqrt(Math.PI)) / 2;

/** Round with the area of a square: 2 a/√π. Exact. */
export const roundOfSquareMm = (sideMm: number): number => (2 * sideMm) / Math.sqrt(Math.PI);

/** Rectangle with rounded corners: a b − (4 − π) r². Holds: r ≤ half the shorter side. Exact. */
export const roundedRectangleMm2 = (aMm: number, bMm: number, cornerMm: number): number =>
  aMm * bMm - (4 - Math.PI) * cornerMm ** 2;
