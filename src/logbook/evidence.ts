/** What one ingot's log says about the shop's figures. */
import type { IngotState, Placed, RemovalFacts, SizeFacts } from "./ingot-state.js";
import type { RouteName, StageHeats } from "./learned-priors.js";
import { bladesMassG, heatsBy, lossPerHeat, weighedLog } from "./weighed-spans.js";

/** Heats told of further apart than this have a break between them, min. Common practice, 30 to 60. */
const BREAK_MIN = 45;
/** A share of the loss is believed from this many grams on: below, the scale's digit hides it. Judgement, 1 to 5. */
const LEAST_LOSS_G = 2;

export interface IngotEvidence {
  readonly route?: RouteName;
  readonly finished: boolean;
  readonly heats: number;
  readonly cracks: number;
  /** Share of its mass lost in each heat. */
  readonly lossPerHeat?: number;
  readonly minutesPerHeat?: number;
  /** Growth of width over loss of thickness, logarithms. */
  readonly spread?: number;
  readonly stageHeats: Readonly<Partial<Record<StageHeats, number>>>;
  /** Shares of the ingot's mass; only of finished, weighed ingots. */
  readonly pipe?: number;
  readonly grinding?: number;
  readonly yield?: number;
}

export function ingotEvidence(state: IngotState): IngotEvidence {
  const route = state.route?.route;
  const found = {
    lossPerHeat: lossEvidence(state),
    minutesPerHeat: minutesEvidence(state),
    spread: spreadEvidence(state),
    ...shares(state),
  };
  return {
    ...(route === undefined ? {} : { route }),
    finished: state.finish !== undefined,
    heats: heatsBy(state, state.heats.length),
    cracks: state.cracks.length,
    stageHeats: stageHeats(state),
    ...(Object.fromEntries(
      Object.entries(found).filter(([, each]) => each !== undefined),
    ) as Partial<Record<keyof typeof found, number>>),
  };
}

function lossEvidence(state: IngotState): number | undefined {
  const log = weighedLog(state);
  const loss = log === undefined ? undefined : lossPerHeat(log);
  return loss !== undefined && loss.lostG >= LEAST_LOSS_G ? loss.fraction : undefined;
}

/** Geometric mean of the gaps between one heat and the next. */
function minutesEvidence({ heats }: IngotState): number | undefined {
  const gaps = heats.slice(1).flatMap((heat, index) => {
    const before = heats[index];
    if (before === undefined || heat.value.number !== before.value.number + 1) return [];
    const minutes = (Date.parse(heat.at) - Date.parse(before.at)) / 60_000;
    return minutes > 0 && minutes <= BREAK_MIN ? [minutes] : [];
  });
  return geometricMean(gaps);
}

/** Pairs of bar sizes between which it grew wider and thinner and no heat was said to be on edge. */
function spreadEvidence({ heats, sizes }: IngotState): number | undefined {
  const bars = sizes.filter(({ value }) => isBar(value));
  const found = bars.slice(1).flatMap((size, index) => {
    const before = bars[index];
    if (before === undefined) return [];
    const between = heats.slice(before.afterHeats, size.afterHeats);
    if (between.some(({ value }) => value.operation === "edge")) return [];
    const wider = Math.log((size.value.widthMm ?? 0) / (before.value.widthMm ?? 0));
    const thinner = Math.log((before.value.thicknessMm ?? 0) / (size.value.thicknessMm ?? 0));
    return wider > 0 && thinner > 0 && wider < thinner ? [wider / thinner] : [];
  });
  return geometricMean(found);
}

const isBar = ({ shape, thicknessMm, widthMm }: SizeFacts): boolean =>
  shape !== "disc" && shape !== "ring" && thicknessMm !== undefined && widthMm !== undefined;

/** Heats from stage to stage, where the sizes tell them apart. */
function stageHeats(state: IngotState): IngotEvidence["stageHeats"] {
  const round = state.sizes.findLast(({ value }) => isRound(value));
  const bar = state.sizes.find(
    ({ afterHeats, value }) => isBar(value) && afterHeats >= (round?.afterHeats ?? 0),
  );
  const at = (size: Placed<SizeFacts>): number => heatsBy(state, size.afterHeats);
  const end = state.finish === undefined ? undefined : heatsBy(state, state.finish.afterHeats);
  return {
    ...(round === undefined || at(round) === 0 || bar === undefined ? {} : { flatten: at(round) }),
    ...(round === undefined || bar === undefined ? {} : { block: at(bar) - at(round) }),
    ...(bar === undefined || end === undefined ? {} : { draw: end - at(bar) }),
  };
}

const isRound = ({ shape, diameterMm }: SizeFacts): boolean =>
  shape === "disc" || shape === "ring" || (shape === undefined && diameterMm !== undefined);

/** Where the steel of a finished, weighed ingot went. */
function shares(state: IngotState): Pick<IngotEvidence, "pipe" | "grinding" | "yield"> {
  const ingotG = state.facts.massG;
  const bladeG = bladesMassG(state);
  const log = weighedLog(state);
  if (ingotG === undefined || bladeG === undefined || log === undefined) return {};
  const sum = (list: readonly Placed<RemovalFacts>[]): number =>
    list.reduce((total, { value }) => total + (value.massG ?? 0), 0);
  const pipeG = sum(state.removals.filter((removal) => isPipeRemoval(state, removal)));
  const groundG = sum(
    state.removals.filter(
      (removal) =>
        !isPipeRemoval(state, removal) &&
        (removal.value.method === "grind" || removal.value.method === "file"),
    ),
  );
  const last = log.spans.at(-1);
  const shapedG = last?.end === "finish" ? Math.max(0, last.lostG) : 0;
  return {
    ...(pipeG > 0 ? { pipe: pipeG / ingotG } : {}),
    ...(groundG + shapedG > 0 ? { grinding: (groundG + shapedG) / ingotG } : {}),
    yield: bladeG / ingotG,
  };
}

/** Taken off where the pipe lies on this route, and no crack taken out with it. */
export function isPipeRemoval(
  state: IngotState,
  { entryId, value }: Placed<RemovalFacts>,
): boolean {
  const { method, place } = value;
  if (state.cracks.some(({ takenOutBy }) => takenOutBy === entryId)) return false;
  const route = state.route?.route;
  if (place === "top") return true;
  if (route === "ring") return method === "punch";
  return route !== undefined && place === route;
}

function geometricMean(values: readonly number[]): number | undefined {
  if (values.length === 0) return undefined;
  return Math.exp(values.reduce((sum, each) => sum + Math.log(each), 0) / values.length);
}
