/** The shop's own figures: common practice, changed by what each ingot's log says. Closed forms; docs/learned.md. */
import {
  type Believed,
  believedCount,
  believedPositive,
  chanceAbove,
  chanceMore,
  fromPrior,
  type GammaBelief,
  learnCount,
  learnPositive,
  type NormalGamma,
  type PositivePrior,
} from "./conjugate.js";
import { type IngotEvidence, ingotEvidence } from "./evidence.js";
import type { IngotState } from "./ingot-state.js";
import {
  CRACKS_PRIOR,
  GRINDING_PRIOR,
  LOSS_PER_HEAT_PRIOR,
  MINUTES_PER_HEAT_PRIOR,
  PIPE_PRIORS,
  type RouteName,
  SPREAD_PRIOR,
  STAGE_HEATS_PRIORS,
  type StageHeats,
  YIELD_PRIOR,
} from "./learned-priors.js";

/** A figure with the range that holds it nine times in ten, and how many ingots of this shop stand behind it. */
export interface LearnedFigure extends Believed {
  readonly ingots: number;
}

export interface LearnedRoute {
  /** Ingots worked on this route, and those of them that became a blade. */
  readonly ingots: number;
  readonly blades: number;
  /** Share of the ingot's mass taken out with the pipe. */
  readonly pipe: LearnedFigure;
  readonly grinding: LearnedFigure;
  /** Blade over ingot, by mass. */
  readonly yield: LearnedFigure;
  readonly cracksPerHeat: LearnedFigure;
  /** Heats of a whole ingot to its blade. */
  readonly heats: LearnedFigure;
}

export interface Learned {
  /** Share of its mass that a piece loses in each heat. */
  readonly lossPerHeat: LearnedFigure;
  readonly minutesPerHeat: LearnedFigure;
  readonly spread: LearnedFigure;
  readonly stageHeats: Readonly<Record<StageHeats, LearnedFigure>>;
  readonly routes: Readonly<Record<RouteName, LearnedRoute>>;
  readonly comparisons: readonly RouteComparison[];
}

export type ComparedBy = "yield" | "cracks" | "heats";

/** Two routes on one count. `too-early`: the numbers do not say anything yet. */
export type RouteComparison =
  | {
      readonly by: ComparedBy;
      readonly verdict: "better";
      readonly route: RouteName;
      readonly than: RouteName;
      /** That it is so, 0 to 1. */
      readonly chance: number;
    }
  | { readonly by: ComparedBy; readonly verdict: "too-early" };

const ROUTE_NAMES: readonly RouteName[] = ["spine", "face", "end", "ring"];
/** A difference is told from this chance on. Judgement, 0.9 to 0.95. */
export const SAID_FROM_CHANCE = 0.9;
/** A route is compared from this many ingots on. Judgement, 2 to 5. */
export const COMPARED_FROM_INGOTS = 3;

/** Figures from the ingots of one shop, in any order. Without evidence each is what common practice says, from 0 ingots. */
export function learnedFigures(states: readonly IngotState[]): Learned {
  const evidence = states.map(ingotEvidence);
  const positive = (
    prior: PositivePrior,
    pick: (each: IngotEvidence) => number | undefined,
    from: readonly IngotEvidence[] = evidence,
  ): LearnedFigure => {
    const figures = from.flatMap((each) => pick(each) ?? []);
    const belief = learnPositive(fromPrior(prior), figures);
    return { ...believedPositive(belief), ingots: figures.length };
  };
  const stage = (name: StageHeats): LearnedFigure =>
    counted(
      STAGE_HEATS_PRIORS[name],
      evidence.flatMap(({ stageHeats }) => stageHeats[name] ?? []),
    );
  const route = (name: RouteName): LearnedRoute => {
    const own = evidence.filter((each) => each.route === name);
    const done = own.filter(({ finished }) => finished);
    return {
      ingots: own.length,
      blades: done.length,
      pipe: positive(PIPE_PRIORS[name], (each) => each.pipe, own),
      grinding: positive(GRINDING_PRIOR, (each) => each.grinding, own),
      yield: positive(YIELD_PRIOR, (each) => each.yield, own),
      cracksPerHeat: { ...believedCount(cracksBelief(own)), ingots: own.length },
      heats: counted(
        WHOLE_HEATS_PRIOR,
        done.map(({ heats }) => heats),
      ),
    };
  };
  return {
    lossPerHeat: positive(LOSS_PER_HEAT_PRIOR, (each) => each.lossPerHeat),
    minutesPerHeat: positive(MINUTES_PER_HEAT_PRIOR, (each) => each.minutesPerHeat),
    spread: positive(SPREAD_PRIOR, (each) => each.spread),
    stageHeats: { flatten: stage("flatten"), block: stage("block"), draw: stage("draw") },
    routes: {
      spine: route("spine"),
      face: route("face"),
      end: route("end"),
      ring: route("ring"),
    },
    comparisons: compared(evidence),
  };
}

/** All stages of an ingot to its blade; worth a third of an ingot. Common practice, no source, 10 to 36. */
const WHOLE_HEATS_PRIOR: GammaBelief = { shape: 7, rate: 1 / 3 };

function counted(prior: GammaBelief, counts: readonly number[]): LearnedFigure {
  const events = counts.reduce((sum, each) => sum + each, 0);
  return {
    ...believedCount(learnCount(prior, events, counts.length)),
    ingots: counts.length,
  };
}

const total = (evidence: readonly IngotEvidence[], pick: "heats" | "cracks"): number =>
  evidence.reduce((sum, each) => sum + each[pick], 0);

const cracksBelief = (own: readonly IngotEvidence[]): GammaBelief =>
  learnCount(CRACKS_PRIOR, total(own, "cracks"), total(own, "heats"));

/** The best route against the next best on each count. */
function compared(evidence: readonly IngotEvidence[]): readonly RouteComparison[] {
  const ofRoute = (name: RouteName) => evidence.filter((each) => each.route === name);
  const enough = (from: (own: readonly IngotEvidence[]) => number): readonly RouteName[] =>
    ROUTE_NAMES.filter((name) => from(ofRoute(name)) >= COMPARED_FROM_INGOTS);
  const yieldOf = (name: RouteName): NormalGamma =>
    learnPositive(
      fromPrior(YIELD_PRIOR),
      ofRoute(name).flatMap((each) => each.yield ?? []),
    );
  const heatsOf = (name: RouteName): GammaBelief => {
    const done = ofRoute(name).filter(({ finished }) => finished);
    return learnCount(WHOLE_HEATS_PRIOR, total(done, "heats"), done.length);
  };
  const cracksOf = (name: RouteName): GammaBelief => cracksBelief(ofRoute(name));
  const weighed = (own: readonly IngotEvidence[]): number =>
    own.filter((each) => each.yield !== undefined).length;
  const finished = (own: readonly IngotEvidence[]): number =>
    own.filter((each) => each.finished).length;
  return [
    best("yield", enough(weighed), (a, b) => chanceAbove(yieldOf(a), yieldOf(b))),
    best(
      "cracks",
      enough((own) => own.length),
      (a, b) => chanceMore(cracksOf(b), cracksOf(a)),
    ),
    best("heats", enough(finished), (a, b) => chanceMore(heatsOf(b), heatsOf(a))),
  ];
}

/** `better(a, b)`: the chance that a is better than b. */
function best(
  by: ComparedBy,
  routes: readonly RouteName[],
  better: (a: RouteName, b: RouteName) => number,
): RouteComparison {
  const sorted = [...routes].sort((a, b) => better(b, a) - 0.5);
  const [first, second] = sorted;
  if (first === undefined || second === undefined) return { by, verdict: "too-early" };
  const chance = better(first, second);
  return chance >= SAID_FROM_CHANCE
    ? { by, verdict: "better", route: first, than: second, chance }
    : { by, verdict: "too-early" };
}
