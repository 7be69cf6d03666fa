/** One day of a shop as data: melts, ingots, heats, losses, cracks, blades, what comes next. */
import {
  type Crack,
  chargeMassG,
  type Entry,
  type FinishFacts,
  foldMelts,
  type GoalFacts,
  heatsBy,
  type IngotState,
  isEnded,
  type MeltState,
  type RouteFacts,
  weighedLog,
} from "../logbook/index.js";
import { materialNamed } from "../melt/index.js";
import { forgingWindow } from "../steel/index.js";
import { asOf } from "./as-of.js";
import { measuredStages, type PlannedPiece, plannedSize } from "./card-stages.js";
import { dateIn, dayBounds } from "./day-bounds.js";
import { type FireTime, fireTime } from "./fire-time.js";
import { ASSUMED_CARBON_PCT, type HeatWhere, type HeatWindow, whereIn } from "./ingot-card.js";
import type { CardSize } from "./labels.js";

export interface DayMelt extends MeltState {
  readonly chargeG?: number;
}

export interface DayIngot {
  readonly name: string;
  readonly opened: boolean;
  readonly finished: boolean;
  /** It ended without a blade, or the blade was lost. */
  readonly givenUp: boolean;
  readonly heatsToday: number;
  /** All of them, to the end of the day. */
  readonly heats: number;
  readonly over: number;
  readonly under: number;
  /** The day's heats, one by one. */
  readonly marks: readonly { readonly at: string; readonly where: HeatWhere }[];
  /** At the end of the day. */
  readonly size?: CardSize;
  readonly massG?: number;
  readonly openCracks: number;
  readonly route?: RouteFacts;
  readonly goal?: GoalFacts;
  /** The next size of its plan, if one was handed in and the ingot has not ended. */
  readonly next?: { readonly stage: string; readonly size: CardSize };
}

export interface DayLosses {
  /** Gone in the fire between weighings, nothing unweighed taken off; counted on the day of the later weighing. */
  readonly scaleG: number;
  /** Ground, cut, punched, chiselled, where it was weighed. */
  readonly takenOffG: number;
  /** Removals that nobody weighed. */
  readonly unweighed: number;
}

export interface DaySheet {
  /** YYYY-MM-DD as the shop counts it. */
  readonly date: string;
  readonly timezone: string;
  readonly melts: readonly DayMelt[];
  readonly ingots: readonly DayIngot[];
  readonly heats: number;
  readonly fire?: FireTime;
  readonly losses: DayLosses;
  readonly cracks: readonly {
    readonly ingot: string;
    readonly value: Crack["value"];
    readonly takenOut: boolean;
  }[];
  readonly blades: readonly { readonly ingot: string; readonly value: FinishFacts }[];
  /** What the day's melts used up, most first: so much is to be had again. */
  readonly used: readonly UsedUp[];
}

export interface UsedUp {
  readonly what: string;
  /** Of the charges where it was weighed. */
  readonly massG: number;
  /** Charges where it was not. */
  readonly unweighed: number;
}

export interface DayInput {
  readonly date: string;
  readonly timezone: string;
  /** Rows of the chat; those of other days are passed over. */
  readonly entries: readonly Entry[];
  /** Ingots to show, folded from their whole logs, by id. */
  readonly states: ReadonlyMap<string, IngotState>;
  /** The next stage of an ingot's plan as it stands now, by ingot id. */
  readonly next?:
    | ReadonlyMap<string, { readonly name: string; readonly cold: PlannedPiece }>
    | undefined;
  /** Windows of the plans, by ingot id; else from the carbon alone. */
  readonly windows?: ReadonlyMap<string, HeatWindow> | undefined;
}

export function daySheet(input: DayInput): DaySheet {
  const { date, timezone } = input;
  const { from, to } = dayBounds(date, timezone);
  const dayOf = (iso: string): string => dateIn(iso, timezone);
  const within = ({ at }: { readonly at: string }): boolean => at >= from && at < to;
  const entries = input.entries.filter(within);
  const states = [...input.states].map(([id, state]) => [id, asOf(state, to)] as const);
  const ingots = states
    .filter(([id, state]) => isShown(id, state, entries, to))
    .sort(([, a], [, b]) => ((a.openedAt ?? "") < (b.openedAt ?? "") ? -1 : 1))
    .map(([id, state]) => dayIngot(input, id, state, within));
  const heats = states.flatMap(([, state]) => state.heats.filter(within));
  const fire = fireTime(heats.map(({ at, value }) => ({ at, durationMin: value.durationMin })));
  const melts = foldMelts(entries, dayOf);
  return {
    date,
    timezone,
    melts: melts.map((melt) => {
      const chargeG = chargeMassG(melt.facts);
      return chargeG === undefined ? melt : { ...melt, chargeG };
    }),
    used: usedUp(melts),
    ingots,
    heats: heats.length,
    ...(fire === undefined ? {} : { fire }),
    losses: dayLosses(
      states.map(([, state]) => state),
      within,
    ),
    cracks: states.flatMap(([, state]) =>
      state.cracks.filter(within).map((crack) => ({
        ingot: state.name,
        value: crack.value,
        takenOut: crack.takenOutBy !== undefined,
      })),
    ),
    blades: states.flatMap(([, { finishes, name }]) =>
      finishes.filter(within).map(({ value }) => ({ ingot: name, value })),
    ),
  };
}

function usedUp(melts: readonly MeltState[]): readonly UsedUp[] {
  const used = new Map<string, UsedUp>();
  for (const { what, massG } of melts.flatMap(({ facts }) => facts.charge ?? [])) {
    // One material under two names is ordered once.
    const name = materialNamed(what)?.name ?? what.toLowerCase();
    const before = used.get(name) ?? { what: name, massG: 0, unweighed: 0 };
    used.set(name, {
      what: name,
      massG: before.massG + (massG ?? 0),
      unweighed: before.unweighed + (massG === undefined ? 1 : 0),
    });
  }
  return [...used.values()].sort((a, b) => b.massG - a.massG);
}

/** Worked on that day, or opened by then and not ended. */
function isShown(id: string, state: IngotState, entries: readonly Entry[], to: string): boolean {
  const worked = entries.some((row) => row.ingotId === id && row.takenBackBy === undefined);
  const open = state.openedAt !== undefined && state.openedAt < to && !isEnded(state);
  return worked || open;
}

function dayIngot(
  { next, windows }: DayInput,
  id: string,
  state: IngotState,
  within: (placed: { readonly at: string }) => boolean,
): DayIngot {
  const window =
    windows?.get(id) ?? forgingWindow({ carbonPct: state.facts.carbonPct ?? ASSUMED_CARBON_PCT });
  const today = state.heats.filter(within);
  const marks = today.map(({ at, value }) => ({
    at,
    where: whereIn(window, value.temperatureC),
  }));
  const size = measuredStages(state).at(-1)?.size;
  const massG = massNowG(state);
  const stage = isEnded(state) ? undefined : next?.get(id);
  return {
    name: state.name,
    opened: state.openedAt !== undefined && within({ at: state.openedAt }),
    finished: state.finish !== undefined,
    givenUp: state.givenUp !== undefined,
    heatsToday: today.length,
    heats: heatsBy(state, state.heats.length),
    over: marks.filter(({ where }) => where === "over").length,
    under: marks.filter(({ where }) => where === "under").length,
    marks,
    ...(size === undefined ? {} : { size }),
    ...(massG === undefined ? {} : { massG }),
    openCracks: state.cracks.filter(({ takenOutBy }) => takenOutBy === undefined).length,
    ...(state.route === undefined ? {} : { route: state.route }),
    ...(state.goal === undefined ? {} : { goal: state.goal }),
    ...(stage === undefined ? {} : { next: { stage: stage.name, size: plannedSize(stage.cold) } }),
  };
}

/** As last weighed, less what was taken off and weighed since. */
function massNowG(state: IngotState): number | undefined {
  const log = weighedLog(state);
  if (log === undefined) return undefined;
  const takenG = log.after.reduce((sum, { value }) => sum + (value.massG ?? 0), 0);
  const leftG = (log.spans.at(-1)?.endG ?? log.startG) - takenG;
  return leftG > 0 ? leftG : undefined;
}

function dayLosses(
  states: readonly IngotState[],
  within: (placed: { readonly at: string }) => boolean,
): DayLosses {
  const removals = states.flatMap((state) => state.removals.filter(within));
  const spans = states.flatMap((state) => weighedLog(state)?.spans ?? []);
  const scale = spans.filter(
    (span) =>
      within({ at: span.endAt }) &&
      span.end === "weighing" &&
      span.toHeats > span.fromHeats &&
      span.unweighed === 0,
  );
  return {
    scaleG: Math.max(
      0,
      scale.reduce((sum, { lostG }) => sum + lostG, 0),
    ),
    takenOffG: removals.reduce((sum, { value }) => sum + (value.massG ?? 0), 0),
    unweighed: removals.filter(({ value }) => value.massG === undefined).length,
  };
}
