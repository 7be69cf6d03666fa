/** Where the pipe zone lies now, from where to where along the piece, how deep. */
import type { PipePlace, Plan, RoutePlan } from "../forging/index.js";
import type { IngotState } from "../logbook/index.js";
import { type ChatUnits, formatLength, formatMass, lengthFigure } from "../units/index.js";

const PLACE_WORDS: Readonly<Record<PipePlace, string>> = {
  top: "in the middle of the top",
  spine: "along the spine",
  face: "in the middle of a face",
  end: "at the end to be cut off",
  tang: "in the tang",
  out: "out, all of it",
};

export function pipeWords(
  plan: Plan,
  route: RoutePlan,
  state: IngotState,
  units: ChatUnits,
): string[] {
  const { place, fromMm, toMm, depthMm } = route.pipeNow;
  if (place === "out") return [`The pipe zone is ${PLACE_WORDS.out}.`];
  const { pipe } = plan.ingot;
  const guessed = state.facts.pipeDepthMm === undefined ? " (usual share taken, not measured)" : "";
  return [
    `Pipe zone ${PLACE_WORDS[place]}`,
    `${lengthFigure(fromMm, units)} to ${formatLength(toMm, units)}${place === "top" ? " across" : " from the tang end"}, ${formatLength(depthMm, units)} deep`,
    `About ${formatMass(pipe.massG, units)} of the ingot${guessed}`,
  ];
}
