/** Formula names of the melt room. */
import * as melt from "../../src/melt/index.js";
import { type Formulas, num, word } from "./formulas.js";
import type { Inputs } from "./rows.js";

const whole = { low: 1, likely: 1, high: 1 };
const ironAndCast = (i: Inputs): readonly melt.ChargeItem[] => [
  { what: "bar iron", massG: num(i, "ironG"), carbonPct: num(i, "ironPct") },
  { what: "cast iron", massG: num(i, "castG"), carbonPct: num(i, "castPct") },
];

export const formulas: Formulas = {
  "melt: carbon of a mixture": (i) =>
    melt.carbonOfMelt(ironAndCast(i), { metalRecovery: whole }).carbonPct.likely,
  "melt: carbon of a mixture, usual recovery": (i) =>
    melt.carbonOfMelt(ironAndCast(i)).carbonPct.likely,
  "melt: cast iron a kg": (i) =>
    melt.castIronPerKgIron(num(i, "targetPct"), num(i, "ironPct"), num(i, "castPct")),
  "melt: charcoal for a target": (i) =>
    melt.carbonSourceG(
      num(i, "ironG"),
      num(i, "targetPct"),
      num(i, "ironPct"),
      num(i, "fixedPct"),
      num(i, "recovery"),
    ),
  "melt: carbon from charcoal": (i) => {
    const share = num(i, "recovery");
    return melt.carbonOfMelt(
      [
        { what: "bar iron", massG: num(i, "ironG"), carbonPct: num(i, "ironPct") },
        { what: "charcoal", massG: num(i, "charcoalG"), carbonPct: num(i, "fixedPct") },
      ],
      { metalRecovery: whole, recovery: { low: share, likely: share, high: share } },
    ).carbonPct.likely;
  },
  "melt: carbon burnt by rust": () => melt.CARBON_PER_RUST,
  "melt: carbon burnt by scale": () => melt.CARBON_PER_SCALE,
  "melt: heat of fusion": () => melt.FUSION_J_PER_KG / 1000,
  "melt: density of the liquid": (i) =>
    melt.liquidDensityGPerCm3(num(i, "carbonPct"), num(i, "tempC")),
  "melt: recovery under the charge": (i) => {
    const ends = melt.CARBON_RECOVERY[word(i, "lid") as melt.Lid];
    return 100 * ends[word(i, "end") as "low" | "likely" | "high"];
  },
  "melt: liquidus": (i) => melt.meltHeat(num(i, "carbonPct")).liquidusC,
  "melt: rate through freezing": (i) =>
    melt.rateFromFreezingTime(num(i, "carbonPct"), num(i, "minutes")),
  "melt: cells at a rate": (i) => {
    const rate = num(i, "kPerMin");
    return melt.cellsOfMelt({ low: rate, likely: rate, high: rate }).likely;
  },
};
