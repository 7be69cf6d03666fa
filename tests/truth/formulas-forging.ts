/** Formula names of the shape and forging rooms. */
import * as forging from "../../src/forging/index.js";
import * as shape from "../../src/shape/index.js";
import { type Formulas, num, word } from "./formulas.js";
import type { Inputs } from "./rows.js";

const G_PER_KG = 1000;
const KG_PER_M3_PER_G_PER_MM3 = 1e6;

const ingotOf = (i: Inputs): shape.IngotPiece => ({
  shape: word(i, "shape") as shape.IngotPiece["shape"],
  diameterMm: num(i, "diameterMm"),
  heightMm: num(i, "heightMm"),
  ...(typeof i.bottomDiameterMm === "number" ? { bottomDiameterMm: i.bottomDiameterMm } : {}),
});
const bladeOf = (i: Inputs): shape.BladeShape => ({
  section: (i.section ?? "flat") as shape.BladeSection,
  lengthMm: num(i, "lengthMm"),
  widthMm: num(i, "widthMm"),
  thicknessMm: num(i, "thicknessMm"),
  edgeThicknessMm: (i.edgeMm as number | undefined) ?? 0,
  tipWidthMm: (i.tipWidthMm as number | undefined) ?? num(i, "widthMm"),
  tipThicknessMm: (i.tipThicknessMm as number | undefined) ?? num(i, "thicknessMm"),
  tangLengthMm: 0,
  tangWidthMm: 0,
  tangThicknessMm: 0,
  fullerWidthMm: 0,
  fullerDepthMm: 0,
});
const bar = (i: Inputs) => ({ heightMm: num(i, "h0"), widthMm: num(i, "w0"), lengthMm: 1 });
const radiation = (i: Inputs): number =>
  forging.radiationOnlyS({
    volumeOverSurfaceMm: num(i, "sideMm") / 4,
    densityKgPerM3: num(i, "rho"),
    heatJPerKgK: num(i, "c"),
    emissivity: num(i, "emissivity"),
    startC: num(i, "startC"),
    endC: num(i, "endC"),
    surroundingsC: num(i, "roomC"),
  });
/** An upsetting by the power law K eⁿ: disc kept in volume, force at a height. */
function upsetN(i: Inputs): number {
  const [d0, h0, h] = [num(i, "d0"), num(i, "h0"), num(i, "h")];
  const areaMm2 = ((Math.PI / 4) * d0 ** 2 * h0) / h;
  const d = Math.sqrt(areaMm2 / (Math.PI / 4));
  const strain = i.strain === undefined ? Math.log(h0 / h) : num(i, "strain");
  return (
    forging.discPressureFactor(num(i, "mu"), d, h) * num(i, "K") * strain ** num(i, "n") * areaMm2
  );
}
function plan(i: Inputs): forging.Plan {
  const { shape: named, diameterMm, heightMm, massG, carbonPct } = i as Record<string, never>;
  const answer = forging.planForging({
    ingot: Object.fromEntries(
      Object.entries({ shape: named, diameterMm, heightMm, massG, carbonPct }).filter(
        ([, value]) => value !== undefined,
      ),
    ),
    blade: {
      edge: (i.edge ?? "single") as "single" | "double",
      lengthMm: (i.lengthMm as number | undefined) ?? 150,
      widthMm: (i.widthMm as number | undefined) ?? 28,
      thicknessMm: (i.thicknessMm as number | undefined) ?? 4,
    },
    shop: { hammerKg: 50, welder: true },
    split: false,
  });
  if (answer.refused) throw new Error(answer.what);
  return answer;
}
const routeOf = (i: Inputs): forging.RoutePlan => {
  const found = plan(i).routes.find(({ route }) => route === word(i, "route"));
  if (!found) throw new Error(`no route ${word(i, "route")}`);
  return found;
};

export const formulas: Formulas = {
  "cap of a ball": (i) => shape.capVolumeMm3(num(i, "a"), num(i, "h")),
  "ball of a cap": (i) => shape.ballRadiusMm(num(i, "a"), num(i, "h")),
  "slice of a ball": (i) => shape.ballSliceVolumeMm3(num(i, "a"), num(i, "b"), num(i, "h")),
  "truncated cone": (i) => shape.coneVolumeMm3(num(i, "R"), num(i, "r"), num(i, "h")),
  "cap of an ellipsoid": (i) =>
    shape.ellipsoidCapVolumeMm3(num(i, "a"), num(i, "b"), num(i, "c"), num(i, "h")),
  "volume of an ingot": (i) => shape.pieceVolumeMm3(ingotOf(i)),
  "cylinder with a round bottom": (i) =>
    shape.pieceVolumeMm3({ shape: "puck", diameterMm: num(i, "d"), heightMm: num(i, "H") }) +
    shape.capVolumeMm3(num(i, "d") / 2, num(i, "cap")),
  "tapered bar": (i) => shape.bladeBodyVolumeMm3(bladeOf(i)),
  "blade section": (i) =>
    shape.sectionMm2(
      word(i, "section") as shape.BladeSection,
      num(i, "w"),
      num(i, "t"),
      (i.edgeMm as number | undefined) ?? 0,
    ),
  octagon: (i) => shape.octagonMm2(num(i, "s")),
  "square of a round": (i) => shape.squareOfRoundMm(num(i, "d")),
  "rounded rectangle": (i) => shape.roundedRectangleMm2(num(i, "a"), num(i, "b"), num(i, "r")),
  "spread share": (i) => forging.spreadShare(num(i, "biteRatio"), 1),
  "spread share, fuller form": (i) =>
    forging.spreadShareFull(num(i, "biteRatio"), 1, num(i, "heightRatio")),
  "width after a squeeze": (i) => forging.squeezed(bar(i), num(i, "h1"), num(i, "b")).widthMm,
  "elongation of a squeeze": (i) => forging.squeezed(bar(i), num(i, "h1"), num(i, "b")).lengthMm,
  "section after a squeeze": (i) => {
    const after = forging.squeezed(bar(i), num(i, "h1"), num(i, "b"));
    return (after.widthMm * after.heightMm) / (num(i, "w0") * num(i, "h0"));
  },
  "rolling spread for comparison": (i) =>
    (num(i, "h0") / num(i, "h1")) ** forging.spreadShare(num(i, "b"), num(i, "w0")),
  "upsetting by the handbook": upsetN,
  "disc pressure, sliding, slab": (i) =>
    forging.slabDiscFactor(num(i, "mu"), num(i, "d"), num(i, "h")),
  "disc pressure, sliding, short form": (i) =>
    forging.siebelFactor(num(i, "mu"), num(i, "d"), num(i, "h")),
  "disc pressure, sticking": (i) => forging.stickingDiscFactor(num(i, "d"), num(i, "h")),
  "upsetting by the slab, MN": (i) => {
    const [d0, h0, h] = [num(i, "d0"), num(i, "h0"), num(i, "h")];
    const d = d0 * Math.sqrt(h0 / h);
    return (
      (num(i, "MPa") * (Math.PI / 4) * d ** 2 * forging.siebelFactor(num(i, "mu"), d, h)) / 1e6
    );
  },
  "flat tool, sliding": (i) => forging.slidingToolFactor(num(i, "mu"), num(i, "b"), num(i, "h")),
  "flat tool, sticking": (i) => forging.stickingToolFactor(num(i, "b"), num(i, "h")),
  "narrow tool on a thick body": (i) => forging.bitePressureFactor(num(i, "b"), num(i, "h")),
  "work of a squeeze": (i) =>
    forging.forgingWorkJ(
      num(i, "MPa"),
      num(i, "mm3"),
      Math.log(num(i, "ratio")),
      num(i, "Q"),
      num(i, "eta"),
    ),
  "energy of a blow": (i) => forging.blowEnergyJ(num(i, "kg"), num(i, "mPerS")),
  "share left by the anvil": (i) =>
    forging.anvilShare(num(i, "anvilKg"), num(i, "hammerKg"), num(i, "rebound")),
  "warming by work": (i) =>
    forging.warmingK(num(i, "MPa"), num(i, "strain"), num(i, "rho"), num(i, "c")),
  "cooling by radiation": radiation,
  "cooling by radiation and air": (i) => {
    // The product's own heat flow, summed in small steps with the row's constant heat.
    const face = {
      emissivity: num(i, "emissivity"),
      convectionWPerM2K: num(i, "air"),
      contactShare: 0,
    };
    const perM2 = (num(i, "rho") * num(i, "c") * num(i, "sideMm")) / 4 / 1000;
    let seconds = 0;
    for (let tempC = num(i, "endC"); tempC < num(i, "startC"); tempC++) {
      seconds += perM2 / forging.heatFlowWPerM2(tempC + 0.5, face);
    }
    return seconds;
  },
  "heat flow over the difference": (i) =>
    forging.heatFlowWPerM2(num(i, "tempC"), {
      emissivity: num(i, "emissivity"),
      convectionWPerM2K: 0,
      contactShare: 0,
    }) /
    (num(i, "tempC") - 20),
  "biot number": (i) =>
    forging.biotNumber(
      { thicknessMm: num(i, "sideMm"), widthMm: num(i, "sideMm") },
      num(i, "tempC"),
    ),
  "mass from sizes": (i) =>
    forging.massFromPiece(ingotOf(i), num(i, "carbonPct")) / (i.unit === "kg" ? G_PER_KG : 1),
  "void of an ingot": (i) =>
    forging.voidCheck(ingotOf(i), num(i, "massG"), num(i, "carbonPct")).voidPct,
  "cells through the ingot": (i) => (num(i, "t0Mm") * 1000) / num(i, "cellUm"),
  "band on the blade": (i) => routeOf(i).pattern.bandThicknessUm,
  "density that the sizes and the scale give": (i) =>
    (num(i, "massG") / shape.pieceVolumeMm3(ingotOf(i))) * KG_PER_M3_PER_G_PER_MM3,
  "share of the bar cut off": (i) => {
    const { stages } = routeOf(i);
    const cut = stages.find(({ name }) => name === "cut");
    const whole = stages.find(({ name }) => name === "bar");
    return (100 * (cut?.losses.pipeG ?? 0)) / (whole?.massG ?? 1);
  },
};
