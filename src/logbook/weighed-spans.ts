/** From one weighing to the next: what went off the ingot between them, and what of it is known. */
import type { IngotState, Placed, RemovalFacts } from "./ingot-state.js";

export interface WeighedSpan {
  /** Heats done when it begins and when it ends. */
  readonly fromHeats: number;
  readonly toHeats: number;
  readonly startG: number;
  readonly endG: number;
  /** Ground, cut, punched or chiselled off between, where the mass is known. */
  readonly removedG: number;
  /** Removals between whose mass nobody knows. */
  readonly unweighed: number;
  /** What is gone and was not taken off by hand; below zero when the weighings disagree with the removals. */
  readonly lostG: number;
  /** `finish`: the mass at its end is the finished blade's. */
  readonly end: "weighing" | "finish";
  readonly endAt: string;
}

export interface WeighedLog {
  /** Mass that the account begins with. `weighed`: the ingot's own. `first`: from the first weighing, as the ingot's was not said. */
  readonly startG: number;
  readonly basis: "weighed" | "first";
  readonly spans: readonly WeighedSpan[];
  /** Removals after the last weighing. */
  readonly after: readonly Placed<RemovalFacts>[];
}

type MassOf = (removal: Placed<RemovalFacts>) => number | undefined;
const saidMass: MassOf = (removal) => removal.value.massG;

/**
 * The weighings of an ingot as spans, or undefined when nothing was ever weighed.
 * `massOf` says what a removal took, g; unless given, only what was weighed counts.
 * Exact: over all spans `startG = Σ removedG + Σ lostG + last endG`.
 */
export function weighedLog(state: IngotState, massOf: MassOf = saidMass): WeighedLog | undefined {
  const ends: SpanEnd[] = state.weighings.map((weighing) => ({ ...weighing, end: "weighing" }));
  const { finish } = state;
  const bladesG = bladesMassG(state);
  if (finish !== undefined && bladesG !== undefined) {
    ends.push({
      afterHeats: finish.afterHeats,
      at: finish.at,
      massG: bladesG,
      removedG: Number.POSITIVE_INFINITY,
      end: "finish",
    });
  }
  const ingotG = state.facts.massG;
  const [first] = ends;
  if (ingotG === undefined && first === undefined) return undefined;
  let used = 0;
  const known = (list: readonly Placed<RemovalFacts>[]): number =>
    list.reduce((sum, removal) => sum + (massOf(removal) ?? 0), 0);

  let heats = 0;
  let massG = ingotG ?? 0;
  let startG = massG;
  const spans: WeighedSpan[] = [];
  for (const [index, end] of ends.entries()) {
    const until = removalsBefore(state, end);
    const between = state.removals.slice(used, until);
    used = Math.max(used, until);
    const toHeats = heatsBy(state, end.afterHeats);
    const removedG = known(between);
    if (ingotG === undefined && index === 0) {
      startG = end.massG + removedG;
      massG = startG;
      heats = toHeats;
    }
    spans.push({
      fromHeats: heats,
      toHeats,
      startG: massG,
      endG: end.massG,
      removedG,
      unweighed: between.filter((removal) => massOf(removal) === undefined).length,
      lostG: massG - removedG - end.massG,
      end: end.end,
      endAt: end.at,
    });
    heats = toHeats;
    massG = end.massG;
  }
  return {
    startG,
    basis: ingotG === undefined ? "first" : "weighed",
    spans,
    after: state.removals.slice(used),
  };
}

/** Mass of all blades of the ingot together, g; undefined unless each was weighed. */
export function bladesMassG({ finishes }: IngotState): number | undefined {
  if (finishes.length === 0) return undefined;
  const massG = finishes.reduce((sum, { value }) => sum + (value.massG ?? Number.NaN), 0);
  return Number.isNaN(massG) ? undefined : massG;
}

interface SpanEnd {
  readonly afterHeats: number;
  readonly at: string;
  readonly massG: number;
  readonly removedG: number;
  readonly end: WeighedSpan["end"];
}

/** How many removals came before a weighing; in one and the same message its own sum of removals decides. */
function removalsBefore({ removals }: IngotState, end: SpanEnd): number {
  let removedG = 0;
  for (const [index, { at, value }] of removals.entries()) {
    removedG += value.massG ?? 0;
    if (end.end === "finish") continue;
    if (at > end.at || (at === end.at && removedG > end.removedG)) return index;
  }
  return removals.length;
}

/** Heats done when `afterHeats` of them had been reported: the number said wins when some were not reported. */
export function heatsBy(state: IngotState, afterHeats: number): number {
  const number = state.heats[afterHeats - 1]?.value.number ?? 0;
  return Math.max(number, afterHeats);
}

/**
 * Share of its mass that the piece lost in each heat, from the spans between weighings whose every removal was weighed.
 * Shape: f = 1 − Π((end + removed)/start)^(1/Σ heats). Undefined without such a span. Below zero when the scale read more.
 */
export function lossPerHeat(
  log: WeighedLog,
): { readonly fraction: number; readonly heats: number; readonly lostG: number } | undefined {
  const spans = scaleSpans(log);
  const heats = spans.reduce((sum, { fromHeats, toHeats }) => sum + toHeats - fromHeats, 0);
  if (heats === 0) return undefined;
  const logs = spans.reduce((sum, { startG, lostG }) => sum + Math.log(1 - lostG / startG), 0);
  return {
    fraction: 1 - Math.exp(logs / heats),
    heats,
    lostG: spans.reduce((sum, { lostG }) => sum + lostG, 0),
  };
}

/** Spans that tell of scale alone: heats in them, all that was taken off weighed, steel left at the end. */
export const scaleSpans = (log: WeighedLog): readonly WeighedSpan[] =>
  log.spans.filter(
    (span) =>
      span.toHeats > span.fromHeats &&
      span.unweighed === 0 &&
      span.end === "weighing" &&
      span.lostG < span.startG,
  );
