/** What the log teaches, as short lines: each figure with its range and the number of ingots behind it. */
import type { Learned, LearnedFigure, RouteComparison } from "../logbook/index.js";
import { ROUTE_LABELS } from "./labels.js";
import { wrapped } from "./lines.js";

export function learnedWords(learned: Learned): string {
  const { lossPerHeat, minutesPerHeat, routes, spread, stageHeats } = learned;
  const lines = [
    figure("loss", lossPerHeat, percent, " % a heat"),
    figure("time", minutesPerHeat, whole, " min a heat"),
    figure("spread", spread, hundredths, ""),
    figure("flattening", stageHeats.flatten, tenths, " heats"),
    figure("to the bar", stageHeats.block, tenths, " heats"),
    figure("bar to blade", stageHeats.draw, tenths, " heats"),
  ];
  const byRoute = Object.entries(routes).flatMap(([name, route]) =>
    route.ingots === 0
      ? []
      : [
          "",
          `${ROUTE_LABELS[name as keyof typeof ROUTE_LABELS]}: ${route.ingots} ${plural(route.ingots)}, ${route.blades} done`,
          ...[
            figure("pipe loss", route.pipe, percent, " %"),
            figure("ground away", route.grinding, percent, " %"),
            figure("blade", route.yield, percent, " % of the ingot"),
            figure("heats", route.heats, whole, ""),
            figure("cracks", tenfold(route.cracksPerHeat), tenths, " in 10 heats"),
          ],
        ],
  );
  const compared = learned.comparisons.map(comparisonWords);
  return [...lines, ...byRoute, "", ...compared]
    .flatMap((line) => (line === "" ? [""] : wrapped(line, "  ")))
    .join("\n");
}

/** "your loss: 1.7 % a heat, 1.3 to 2.2, from 6 ingots". */
function figure(
  label: string,
  { high, ingots, likely, low }: LearnedFigure,
  show: (value: number) => string,
  unit: string,
): string {
  const range = `${show(likely)}${unit}, ${show(low)} to ${show(high)}`;
  return ingots === 0
    ? `common ${label}: ${range}, none of yours yet`
    : `your ${label}: ${range}, from ${ingots} ${plural(ingots)}`;
}

const COUNT_WORDS = {
  yield: "most blade from an ingot",
  cracks: "fewest cracks",
  heats: "fewest heats",
} as const;

export function comparisonWords(comparison: RouteComparison): string {
  const what = COUNT_WORDS[comparison.by];
  if (comparison.verdict === "too-early") return `${what}: too early to say`;
  const { chance, route, than } = comparison;
  return `${what}: ${ROUTE_LABELS[route]}, before ${ROUTE_LABELS[than]}, ${Math.floor(chance * 100)} % sure`;
}

const plural = (count: number): string => (count === 1 ? "ingot" : "ingots");
const rounded = (value: number, digits: number): string =>
  String(Math.round(value * 10 ** digits) / 10 ** digits);
const percent = (share: number): string => rounded(share * 100, share < 0.1 ? 1 : 0);
const whole = (value: number): string => rounded(value, 0);
const tenths = (value: number): string => rounded(value, 1);
const hundredths = (value: number): string => rounded(value, 2);
const tenfold = (figure: LearnedFigure): LearnedFigure => ({
  ingots: figure.ingots,
  likely: figure.likely * 10,
  low: figure.low * 10,
  high: figure.high * 10,
});
