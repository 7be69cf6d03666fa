/** Specific volumes of the phases from their crystal lattices; the base of the growth curves. */

const AVOGADRO = 6.02214076e23; // 1/mol, exact by definition
const IRON_G_PER_MOL = 55.845; // [S06]
const CARBON_G_PER_MOL = 12.011; // [S06]
/** g/cm³ at 20 °C. [S07] */
export const FERRITE_G_PER_CM3 = 7.874;
/** g/cm³ at 20 °C. [S07], from memory; the measured cell gives 7.684 [S54]. */
export const CEMENTITE_G_PER_CM3 = 7.69;
/** Volume growth of cementite, 1/K: little while it is magnetic, much above 480 K. [S08]; [S54] finds 1 × 10⁻⁵ more at 800 K. */
const CEMENTITE_GROWTH = { magnetic: 1.8e-5, above: 4.1e-5, curieK: 480 };

const atomsOfCarbonPerIron = (carbonPct: number): number =>
  carbonPct / CARBON_G_PER_MOL / ((100 - carbonPct) / IRON_G_PER_MOL);

const cm3PerG = (latticeNm: number, irons: number, carbonPerIron: number): number =>
  (AVOGADRO * (latticeNm * 1e-7) ** 3) /
  (irons * (IRON_G_PER_MOL + carbonPerIron * CARBON_G_PER_MOL));

/** Lattice of ferrite, nm. 295 to 1183 K. Source: [S04]. */
export const ferriteLatticeNm = (tempK: number): number =>
  1.602e-9 * tempK ** 2 + 2.059e-6 * tempK + 0.286;

/** Lattice of austenite by [S04], nm. Fe 1183 to 1550 K; carbon 0 to 3.35 % at 1452 to 1550 K, used below by extrapolation. */
export const austeniteLatticeSekiNm = (tempK: number, carbonPct: number): number =>
  0.35519 + 8.1593e-6 * tempK + 1.7341e-3 * carbonPct;

/** Lattice of austenite by [S05], nm. 1000 to 1250 K, to about 0.8 %C, beyond by extrapolation; from memory, medium-high. */
export function austeniteLatticeOninkNm(tempK: number, carbonPct: number): number {
  const ratio = atomsOfCarbonPerIron(carbonPct);
  const atPct = (100 * ratio) / (1 + ratio);
  return (0.363067 + 0.000783 * atPct) * (1 + (24.92e-6 - 0.6e-6 * atPct) * (tempK - 1000));
}

export const ferriteCm3PerG = (tempK: number): number => cm3PerG(ferriteLatticeNm(tempK), 2, 0);

export const austeniteCm3PerG = (latticeNm: number, carbonPct: number): number =>
  cm3PerG(latticeNm, 4, atomsOfCarbonPerIron(carbonPct));

/** Cementite, cm³/g, 100 to 1500 K. Error ±0.5 % at forging heat. Source: [S07], [S08]. */
export function cementiteCm3PerG(tempK: number): number {
  const { magnetic, above, curieK } = CEMENTITE_GROWTH;
  const low = magnetic * (Math.min(tempK, curieK) - 293.15);
  return (1 + low + above * Math.max(0, tempK - curieK)) / CEMENTITE_G_PER_CM3;
}
