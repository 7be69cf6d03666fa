/** Figures asked for between heats: seconds left, force of a bite, where the pipe is, which blade, what a cut leaves. */
import { blowsForPass, cutAdvice, forceForBite, toolOf, workingTime } from "../forging/index.js";
import type { IngotState } from "../logbook/index.js";
import { forgingWindow } from "../steel/index.js";
import {
  formatDuration,
  formatForce,
  formatLength,
  formatMass,
  formatPercent,
  formatSize,
  formatTemperature,
} from "../units/index.js";
import { pipeWords } from "./pipe-words.js";
import { CARBON_UNTIL_SAID_PCT, pieceNow, planFor, shopFor } from "./plan-for.js";
import { routeWords } from "./read-back.js";
import type { Asked } from "./turn-input.js";
import { askForBody } from "./words.js";

interface Section {
  readonly thicknessMm: number;
  readonly widthMm: number;
  readonly lengthMm?: number;
}
/** A bite's reduction when only the bite was asked about. Common practice, 10 to 25 %. */
const ASKED_REDUCTION = 0.2;
const NO_SECTION = "Which size? Say: how long have I got at 12 by 30";

/** The section asked about, else the one on the anvil. */
function sectionOf({ question, state }: Asked): Section | undefined {
  const { thicknessMm, widthMm, lengthMm } = question;
  if (thicknessMm !== undefined) {
    const along = lengthMm === undefined ? {} : { lengthMm };
    return { thicknessMm, widthMm: widthMm ?? thicknessMm, ...along };
  }
  const piece = state === undefined ? undefined : pieceNow(state);
  switch (piece?.shape) {
    case "bar":
    case "block":
      return piece;
    case "disc":
      return { thicknessMm: piece.heightMm, widthMm: piece.diameterMm, lengthMm: piece.diameterMm };
    default:
      return undefined;
  }
}

const carbonOf = ({ question, state }: Asked): number =>
  question.carbonPct ?? state?.facts.carbonPct ?? CARBON_UNTIL_SAID_PCT;

/** `how long have I got at 12 by 30`. */
export function time(asked: Asked): string[] {
  const section = sectionOf(asked);
  if (section === undefined) return [NO_SECTION];
  const carbonPct = carbonOf(asked);
  const window = forgingWindow({ carbonPct });
  const said = asked.question.temperatureC ?? asked.state?.heats.at(-1)?.value.temperatureC;
  const startC = said ?? window.workToC;
  const { units } = asked;
  const from = formatTemperature(startC, units);
  const to = formatTemperature(window.floorC, units);
  if (startC <= window.floorC) return [`${from} is under ${to} already: reheat.`];
  const { low, likely, high } = workingTime({
    ...section,
    startC,
    floorC: window.floorC,
    carbonPct,
  });
  return [
    `About ${formatDuration(likely)} (${formatDuration(low)} to ${formatDuration(high)})`,
    `${sectionWords(section, asked)}, from ${from} to ${to}`,
  ];
}

const sectionWords = ({ thicknessMm, widthMm }: Section, { units }: Asked): string =>
  formatSize([thicknessMm, widthMm], units);

/** `what force for a 40 bite`: kN under a press, blows of this shop's hammer otherwise. */
export function force(asked: Asked): string[] {
  const section = sectionOf(asked);
  if (section === undefined) return ["Which size? Say: what force for a 40 bite at 22 by 36"];
  const { question, units, state, shop } = asked;
  const carbonPct = carbonOf(asked);
  const window = forgingWindow({ carbonPct });
  const tempC = question.temperatureC ?? state?.heats.at(-1)?.value.temperatureC ?? window.workToC;
  const biteMm = question.biteMm ?? section.thicknessMm;
  const where = `${formatLength(biteMm, units)} bite on ${sectionWords(section, asked)} at ${formatTemperature(tempC, units)}`;
  const tool = toolOf(shopFor(shop));
  const { pressKn } = shop;
  const bite = { ...section, biteMm, tempC, carbonPct, tool };
  if (tool !== "press" || pressKn === undefined) return [blows(asked, bite), where];
  const { low, likely, high, biteInReachMm } = forceForBite(bite, pressKn);
  const reach =
    likely <= pressKn
      ? `Your press: ${formatForce(pressKn, units)}.`
      : biteInReachMm === undefined
        ? `⚠ Over your press, ${formatForce(pressKn, units)}, at any bite. Hotter, or thinner first.`
        : `⚠ Over your press, ${formatForce(pressKn, units)}. Bite ${formatLength(biteInReachMm, units)} or less.`;
  return [
    `About ${formatForce(likely, units)} (${formatForce(low, units)} to ${formatForce(high, units)})`,
    where,
    `${reach} Its rating plate decides.`,
  ];
}

function blows(
  { shop }: Asked,
  bite: Section & { readonly biteMm: number; readonly tempC: number; readonly carbonPct: number },
): string {
  const { blows: count } = blowsForPass(
    {
      volumeMm3: bite.thicknessMm * bite.widthMm * bite.biteMm,
      reduction: ASKED_REDUCTION,
      tempC: bite.tempC,
      carbonPct: bite.carbonPct,
    },
    shopFor(shop),
  );
  const hammer = shop.hammerKg === undefined ? "hand hammer" : "power hammer";
  return `About ${Math.max(1, Math.round(count))} blows of the ${hammer} for ${formatPercent(100 * ASKED_REDUCTION)} down`;
}

/** `where is the pipe now`. */
export function pipe({ shop, units }: Asked, state: IngotState): string[] {
  const plan = planFor(state, shop);
  if (plan === undefined) return [askForBody(units)];
  if (plan.refused) return [plan.what];
  const route = plan.routes[0];
  return route === undefined ? [] : pipeWords(plan, route, state, units);
}

/** `what blade can I get`: the longest of the wanted width and thickness, by route. */
export function blade({ shop, units }: Asked, state: IngotState): string[] {
  const plan = planFor(state, shop);
  if (plan === undefined) return [askForBody(units)];
  if (plan.refused) return [plan.what];
  const { widthMm, thicknessMm } = plan.goal;
  const routes = plan.routes.filter(({ feasible }) => feasible).slice(0, 3);
  return [
    `Longest at ${formatSize([widthMm, thicknessMm], units)}, tang apart:`,
    ...routes.map(
      ({ route, split, largestBladeMm }) =>
        `${largestBladeMm > 0 ? formatLength(largestBladeMm, units) : "none"}: ${routeWords(route, split)}`,
    ),
  ];
}

/** `what if I cut 30 off`. */
export function cut({ question, shop, units }: Asked, state: IngotState): string[] {
  const piece = pieceNow(state);
  const cutMm = question.lengthMm;
  if (piece === undefined || (piece.shape !== "bar" && piece.shape !== "block")) {
    return ["No bar on the anvil yet. Say its size: 22x36x180"];
  }
  if (cutMm === undefined) return ["How much? Say: what if I cut 30 off"];
  if (cutMm >= piece.lengthMm)
    return [`The bar is only ${formatLength(piece.lengthMm, units)} long.`];
  const plan = planFor(state, shop);
  if (plan === undefined || plan.refused) return [];
  const advice = cutAdvice({ piece, cutMm, carbonPct: carbonOf({ question, state } as Asked) });
  const after = planFor(
    {
      ...state,
      piece: { ...piece, lengthMm: advice.leftMm, at: "", afterHeats: state.heats.length },
    },
    shop,
  );
  const route = after === undefined || after.refused ? undefined : after.routes[0];
  return [
    `Cuts off ${formatMass(advice.massG, units)}, leaves ${formatLength(advice.leftMm, units)}`,
    ...(route === undefined
      ? []
      : [
          route.fits
            ? `Still fits, ${formatMass(route.spareG.likely, units)} to spare`
            : `⚠ No longer fits: longest blade ${formatLength(route.largestBladeMm, units)}`,
        ]),
  ];
}
