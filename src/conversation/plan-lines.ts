/** The full plan in lines, on request: routes compared, then the stages of the one that is followed. */

import { type RoutePlan, reasonText, type Stage } from "../forging/index.js";
import type { IngotState } from "../logbook/index.js";
import { learnedWords } from "../report/index.js";
import {
  type ChatUnits,
  formatForce,
  formatLength,
  formatMass,
  formatSize,
  formatTemperature,
} from "../units/index.js";
import { pieceWords, sentence, spareText, stageWords } from "./forge.js";
import { planFor } from "./plan-for.js";
import { routeWords } from "./read-back.js";
import type { ShopNow } from "./shop-now.js";
import { askForBody, counted } from "./words.js";

const MOST_ROUTES = 5;

export function planLines(state: IngotState, shop: ShopNow, units: ChatUnits): string[] {
  const plan = planFor(state, shop);
  if (plan === undefined) return [askForBody(units)];
  if (plan.refused) return [plan.what];
  const [top] = plan.routes;
  if (top === undefined) return ["No route for this piece."];
  const { floorC, ceilingC } = plan.window;
  const assumed = plan.assumptions.map(({ field, value, unit }) =>
    assumedWords(field, value, unit, units),
  );
  return [
    `Ingot ${state.name}: ${sentence(routeWords(top.route, top.split))}`,
    spareText(state, top, units),
    `Work between ${formatTemperature(floorC, units)} and ${formatTemperature(ceilingC, units)}`,
    "",
    ...top.stages.flatMap((stage, index) =>
      stageLines(stage, index + 1, units, shop.pressKn !== undefined),
    ),
    "",
    ...reasons("For", top, units),
    ...reasons("Against", top, units),
    `Pattern: ${Math.round(top.pattern.cellsThickness)} growth cells through the blade, bands ${Math.round(top.pattern.bandThicknessUm)} µm`,
    ...(plan.routes.length > 1 ? ["", "Routes:"] : []),
    ...(plan.routes.length > 1
      ? plan.routes.slice(0, MOST_ROUTES).map((route) => routeLine(route, units))
      : []),
    ...yourFigures(shop),
    ...(assumed.length > 0 ? ["", `Assumed: ${assumed.join(", ")}`] : []),
  ];
}

function stageLines(stage: Stage, number: number, units: ChatUnits, press: boolean): string[] {
  const heats = Math.max(1, Math.round(stage.heats));
  return [
    `${number}. ${stageWords(stage, units)} · ${formatMass(stage.massG, units)} · ${counted(heats, "heat")}`,
    `   hot ${pieceWords(stage.hot, units).replace(/^\S+ /, "")} ${press ? ` · ${formatForce(stage.forceKn, units)}` : ""}`,
    ...stage.watch.slice(0, 2).map((reason) => `   ${reasonText(reason, units)}`),
  ];
}

/** The shop's own figures that this plan reckons with. */
function yourFigures({ taught }: ShopNow): string[] {
  if (taught === undefined || taught.lossPerHeat.ingots === 0) return [];
  return ["", "Reckoned with your own figures:", ...learnedWords(taught).split("\n").slice(0, 1)];
}

const reasons = (label: string, route: RoutePlan, units: ChatUnits): string[] => {
  const list = label === "For" ? route.why : route.against;
  return list.slice(0, 3).map((reason) => `${label}: ${reasonText(reason, units)}`);
};

function routeLine(route: RoutePlan, units: ChatUnits): string {
  const outcome = !route.feasible
    ? `not here: ${route.against[0] === undefined ? "" : reasonText(route.against[0], units)}`
    : route.fits
      ? `fits, ${formatMass(route.spareG.likely, units)} to spare`
      : route.largestBladeMm > 0
        ? `longest blade ${formatLength(route.largestBladeMm, units)}`
        : "too little steel";
  return `${route.rank}. ${routeWords(route.route, route.split)}: ${outcome}`;
}

function assumedWords(
  field: string,
  value: number | string,
  unit: string | undefined,
  units: ChatUnits,
): string {
  const words = field
    .replace(/(Mm|G|Pct|C|KPerMin)$/, "")
    .replace(/[A-Z]/g, (l) => ` ${l.toLowerCase()}`);
  if (typeof value === "string") return `${words} ${value}`;
  if (unit === "mm") return `${words} ${formatSize([value], units)}`;
  if (unit === "g") return `${words} ${formatMass(value, units)}`;
  if (unit === "°C") return `${words} ${formatTemperature(value, units)}`;
  return `${words} ${Math.round(value * 100) / 100}${unit === undefined ? "" : ` ${unit}`}`;
}
