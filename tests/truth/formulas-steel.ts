/** Formula names of the steel and units rooms. */
import * as steel from "../../src/steel/index.js";
import * as units from "../../src/units/index.js";
import { type Formulas, num, word } from "./formulas.js";
import type { Inputs } from "./rows.js";

const composition = (i: Inputs): steel.Composition => {
  const known: Record<string, number> = { carbonPct: 0 };
  for (const [name, value] of Object.entries(i)) {
    if (typeof value === "number" && name.endsWith("Pct")) known[name] = value;
  }
  return known as unknown as steel.Composition;
};
const squeeze = (i: Inputs): steel.Squeeze => ({
  carbonPct: num(i, "carbonPct"),
  tempC: num(i, "tempC"),
  strain: num(i, "strain"),
  strainRatePerS: num(i, "ratePerS"),
});
const soak = (i: Inputs) => ({ tempC: num(i, "tempC"), minutes: num(i, "minutes") });

function colourRow(i: Inputs) {
  const name = steel.colourName(word(i, "said"));
  const row = name && steel.colourRows(name).find((one) => one.source === word(i, "table"));
  if (!row) throw new Error(`no table row for ${word(i, "said")}`);
  return row;
}

export const formulas: Formulas = {
  "units: inch to mm": (i) => num(i, "inch") * units.MM_PER_INCH,
  "units: pound to g": (i) => num(i, "pound") * units.G_PER_POUND,
  "units: ounce to g": (i) => num(i, "ounce") * units.G_PER_OUNCE,
  "units: pound-force to kN": (i) => num(i, "lbf") * units.KN_PER_POUND_FORCE,
  "units: short ton-force to kN": (i) => num(i, "tons") * units.KN_PER_SHORT_TON_FORCE,
  "units: long ton-force to kN": (i) => num(i, "tons") * units.KN_PER_LONG_TON_FORCE,
  "units: tonne-force to kN": (i) => num(i, "tonnes") * units.KN_PER_TONNE_FORCE,
  "units: psi to Pa": (i) => num(i, "psi") * units.PA_PER_PSI,
  "units: °F to °C": (i) => units.celsiusFromFahrenheit(num(i, "tempF")),
  "units: °C to °F": (i) => units.fahrenheitFromCelsius(num(i, "tempC")),

  "density at 20 °C": (i) => steel.densityGPerMm3(num(i, "carbonPct")) * 1000,
  "density of ferrite by lattice": (i) => 1 / steel.ferriteCm3PerG(num(i, "tempK")),
  "density of austenite by lattice": (i) =>
    1 /
    steel.austeniteCm3PerG(
      steel.austeniteLatticeSekiNm(num(i, "tempK"), num(i, "carbonPct")),
      num(i, "carbonPct"),
    ),
  "density of cementite": (i) => 1 / steel.cementiteCm3PerG(num(i, "tempK")),
  "volume growth of cementite": (i) => {
    const [from, to] = [num(i, "fromK"), num(i, "toK")];
    const grown = steel.cementiteCm3PerG(to) / steel.cementiteCm3PerG(from) - 1;
    return (grown / (to - from)) * 1e5;
  },
  "lattice of ferrite": (i) => steel.ferriteLatticeNm(num(i, "tempK")),
  "lattice of austenite": (i) => steel.austeniteLatticeSekiNm(num(i, "tempK"), num(i, "carbonPct")),

  "growth of structural steel": (i) => steel.structuralSteelExpansion(num(i, "tempC")) * 100,
  "growth by Onink lattice": (i) =>
    steel.austeniteExpansion("onink", num(i, "carbonPct"), num(i, "tempC")) * 100,
  "growth by Seki lattice": (i) =>
    steel.austeniteExpansion("seki", num(i, "carbonPct"), num(i, "tempC")) * 100,
  "growth, likely": (i) => steel.linearExpansion(num(i, "carbonPct"), num(i, "tempC")).likely * 100,
  "mean growth a kelvin": (i) =>
    (steel.linearExpansion(num(i, "carbonPct"), num(i, "tempC")).likely / (num(i, "tempC") - 20)) *
    1e6,
  "shrink of a hot length": (i) =>
    num(i, "hotMm") - steel.coldFromHotMm(num(i, "hotMm"), num(i, "carbonPct"), num(i, "tempC")),

  "specific heat": (i) => steel.heatCapacityJPerKgK(num(i, "tempC")),
  "heat over the plain rise": (i) =>
    (steel.heatContentJPerKg(num(i, "toC")) -
      steel.heatContentJPerKg(num(i, "fromC")) -
      num(i, "plainJPerKgK") * (num(i, "toC") - num(i, "fromC"))) /
    1000,
  emissivity: (i) => steel.EMISSIVITY[word(i, "end") as keyof steel.Range],
  conductivity: (i) => steel.conductivityWPerMK(num(i, "tempC")),

  "A1, plain steel": () => steel.a1C(),
  "Ac1 by Andrews": (i) => steel.andrewsAc1C(composition(i)),
  "eutectoid carbon": () => steel.EUTECTOID_CARBON_PCT,
  "most carbon in austenite": () => steel.carbonInAusteniteAtPct(steel.EUTECTIC_C),
  Acm: (i) => steel.acmC(num(i, "carbonPct")),
  "Acm under its chord": (i) => {
    const c = num(i, "carbonPct");
    return 727 + ((1148 - 727) * (c - 0.77)) / (2.11 - 0.77) - steel.acmC(c);
  },
  solidus: (i) => steel.solidusC(num(i, "carbonPct")),
  "solidus shift": (i) =>
    steel.solidusC(num(i, "carbonPct"), composition(i)) - steel.solidusC(num(i, "carbonPct")),
  liquidus: (i) => steel.liquidusC(num(i, "carbonPct")),
  "liquidus by slopes": (i) => steel.liquidusBySlopesC(composition(i)),
  "carbon in austenite beside cementite": (i) => steel.carbonInAusteniteAtPct(num(i, "tempC")),
  "undissolved cementite": (i) =>
    100 * steel.cementiteFraction(num(i, "carbonPct"), num(i, "tempC")),
  "carbon of cementite": () => steel.CEMENTITE_CARBON_PCT,
  "phosphide eutectic": () => steel.PHOSPHIDE_EUTECTIC_C,
  "sulphide eutectic": () => steel.SULPHIDE_EUTECTIC_C,
  "last liquid of a casting": (i) => 100 * steel.lastLiquidFraction(num(i, "pPct")),

  "phosphorus diffusivity": (i) => steel.phosphorusDiffusivityCm2PerS(num(i, "tempC")) * 1e10,
  "segregation left after one time constant": (i) => {
    const [spacingUm, tempC] = [num(i, "spacingUm"), num(i, "tempC")];
    const diffusivity = steel.phosphorusDiffusivityCm2PerS(tempC);
    const seconds = ((spacingUm * 1e-4) / (2 * Math.PI)) ** 2 / diffusivity;
    return steel.segregationLeft([{ spacingUm, tempC, minutes: seconds / 60 }]).likely;
  },

  "flow stress by Shida": (i) => steel.shidaMPa(squeeze(i)),
  "flow stress by Misaka": (i) => steel.misakaMPa(squeeze(i)),
  "flow stress of bearing steel": (i) =>
    steel.bearingSteelPeakMPa(num(i, "tempC"), num(i, "ratePerS")),
  "flow stress, likely": (i) => steel.flowStressMPa(squeeze(i)).likely,

  "scale constant": (i) => steel.scaleConstantCm2PerS(num(i, "tempC")),
  "scale on clean iron": (i) => steel.cleanIronScaleMm(soak(i)) * 1000,
  "steel lost, clean iron": (i) =>
    steel.scaleLossMm({ ...soak(i), atmosphereFactor: 1 }).likely * 1000,
  "iron in scale": () => steel.IRON_IN_SCALE,
  "scale over steel": () => steel.SCALE_PER_STEEL,
  "section lost to scale": (i) =>
    100 * steel.sectionLossFraction(num(i, "lossMm"), num(i, "widthMm"), num(i, "thicknessMm")),
  "loss of split heats": (i) => {
    const heats = num(i, "heats");
    const split = Array.from({ length: heats }, () => ({ tempC: 950, minutes: 10 }));
    const one = steel.scaleLossMm({ tempC: 950, minutes: 10 * heats });
    return steel.scaleLossOfHeatsMm(split).likely / one.likely;
  },
  "spread of the fire's bite": () => steel.ATMOSPHERE_FACTOR.high / steel.ATMOSPHERE_FACTOR.low,

  "carbon diffusivity": (i) => steel.carbonDiffusivityCm2PerS(num(i, "tempC")) * 1e7,
  "carbon diffusivity, low carbon": (i) => steel.lowCarbonDiffusivityCm2PerS(num(i, "tempC")) * 1e7,
  "hours to carburise": (i) =>
    num(i, "dtM2") / (steel.lowCarbonDiffusivityCm2PerS(num(i, "tempC")) * 1e-4) / 3600,
  "carbon diffusivity, rich": (i) =>
    steel.carbonRichDiffusivityCm2PerS(num(i, "tempC"), num(i, "carbonPct")) * 1e7,
  "half-carbon depth": (i) =>
    steel.decarbDepthMm({ ...soak(i), carbonPct: num(i, "carbonPct") }).likely * 1000,
  "carbon left at depth": (i) => steel.carbonLeftFraction(num(i, "depthMm"), soak(i)),

  "cell spacing": (i) => steel.cellSpacingUm(num(i, "kPerMin")).likely,
  "arm spacing with carbon": (i) => steel.armSpacingUm(num(i, "kPerS"), num(i, "carbonPct")),
  "two spacing laws, ratio": (i) =>
    steel.cellSpacingUm(num(i, "kPerMin")).likely / steel.armSpacingUm(num(i, "kPerMin") / 60, 1),

  "colour table, low": (i) => colourRow(i).lowC,
  "colour table, high": (i) => colourRow(i).highC,

  "Ms, high carbon": (i) => steel.martensiteStartC(composition(i)),
  "Ms after austenitising": (i) => steel.martensiteStartAfterC(composition(i), num(i, "tempC")),
  "Ms by Andrews": (i) => steel.andrewsMartensiteStartC(composition(i)),
  "Ms by Steven": (i) => steel.stevenMartensiteStartC(composition(i)),
  "austenite left": (i) => 100 * steel.retainedAusteniteFraction(num(i, "msC"), num(i, "quenchC")),
  "tempering parameter": (i) => steel.temperingParameter(num(i, "tempC"), num(i, "hours")),
};
