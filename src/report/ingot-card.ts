/** The summary of one ingot as data: what it was, what was done to it, where its steel went. */
import {
  type Crack,
  type FinishFacts,
  type GoalFacts,
  heatsBy,
  type IngotFacts,
  type IngotState,
  isPipeRemoval,
  lossPerHeat,
  type Placed,
  type RemovalFacts,
  type RouteFacts,
  type ShopSettings,
  weighedLog,
} from "../logbook/index.js";
import { type IngotPiece, pieceVolumeMm3 } from "../shape/index.js";
import { densityGPerMm3, forgingWindow } from "../steel/index.js";
import { type CardPipe, type CardStage, cardStages, type PlannedStage } from "./card-stages.js";
import { type MassBar, massBar } from "./mass-bar.js";

/** Carbon taken where nobody said it, wt%. Common practice for crucible steel, 1.2 to 1.8; the card says that it is assumed. */
export const ASSUMED_CARBON_PCT = 1.5;

export interface HeatWindow {
  readonly floorC: number;
  readonly ceilingC: number;
}

/** Of a plan for the whole ingot, the part that the card shows; a route of the planner has these fields. */
export interface PlannedRoute {
  readonly route: "spine" | "face" | "end" | "ring";
  readonly split: boolean;
  readonly stages: readonly PlannedStage[];
  readonly heats: { readonly low: number; readonly likely: number; readonly high: number };
  readonly pattern?: CardPattern;
  readonly pipeLies?: CardPipe;
}
export interface CardPattern {
  readonly cellsThickness: number;
  readonly cellsWidth: number;
  readonly bandThicknessUm: number;
  readonly bandWidthUm: number;
}
export type HeatWhere = "inside" | "over" | "under" | "not-said";
export interface CardHeat {
  readonly number: number;
  readonly at: string;
  readonly tempC?: number;
  readonly colour?: string;
  readonly operation?: string;
  readonly durationMin?: number;
  readonly where: HeatWhere;
}
export interface CardHeats {
  /** Heats done, told of or not. */
  readonly count: number;
  readonly told: number;
  /** Minutes in the fire and under the hammer, where they were said. */
  readonly saidMin?: number;
  readonly window: HeatWindow;
  readonly list: readonly CardHeat[];
}

export interface CardCrack {
  readonly value: Crack["value"];
  readonly afterHeats: number;
  readonly at: string;
  /** Left out while the crack is open. */
  readonly takenOut?: RemovalFacts;
}

export interface IngotCard {
  readonly name: string;
  readonly openedAt?: string;
  readonly finishedAt?: string;
  /** When it was given up; the note that says so is among the notes. */
  readonly givenUpAt?: string;
  readonly ingot: IngotFacts;
  readonly carbonPct: number;
  /** Said, worked out from the charge of its melt, or assumed. */
  readonly carbonFrom: "said" | "melt" | "assumed";
  /** The pipe zone that the plan reckons with, where nobody measured one. */
  readonly pipeTakenAs?: { readonly depthMm: number; readonly diameterMm: number };
  /** What the sizes alone would weigh, g, and how much lighter the ingot is than that, %; both only where it can be known. */
  readonly shapeMassG?: number;
  readonly voidPct?: number;
  readonly goal?: GoalFacts;
  readonly route?: RouteFacts;
  readonly planned?: PlannedRoute;
  readonly stages: readonly CardStage[];
  readonly heats: CardHeats;
  readonly cracks: readonly CardCrack[];
  /** Heats done when steel was first taken off where the pipe lies. */
  readonly pipeOutAfterHeats?: number;
  /** What was taken off that no crack of the card shows. */
  readonly removals: readonly Placed<RemovalFacts>[];
  readonly mass?: MassBar;
  /** Of its mass in each heat, 0 to 1, from weighings with every removal weighed. */
  readonly loss?: { readonly fraction: number; readonly heats: number; readonly lostG: number };
  readonly blades: readonly FinishFacts[];
  readonly notes: readonly string[];
}

/**
 * The card of an ingot. `plan` is the plan for the whole ingot (not from the piece now on), its route chosen;
 * without it nothing planned is shown and the window comes from the carbon alone.
 */
export function ingotCard(input: {
  readonly state: IngotState;
  readonly shop?: ShopSettings;
  readonly planned?: PlannedRoute | undefined;
  readonly window?: HeatWindow | undefined;
  /** Carbon by the balance of its melt, wt%. */
  readonly meltCarbonPct?: number | undefined;
  /** As the plan takes it where it was not measured. */
  readonly pipe?: { readonly depthMm: number; readonly diameterMm: number } | undefined;
}): IngotCard {
  const { meltCarbonPct, planned, state } = input;
  const carbonPct = state.facts.carbonPct ?? meltCarbonPct ?? ASSUMED_CARBON_PCT;
  const window = input.window ?? forgingWindow({ carbonPct });
  const shapeMassG = massOfShape(state.facts, carbonPct);
  const mass = massBar(state, carbonPct, shapeMassG);
  const log = weighedLog(state);
  const loss = log === undefined ? undefined : lossPerHeat(log);
  const weighedG = state.facts.massG;
  const takers = new Set(state.cracks.flatMap(({ takenOutBy }) => takenOutBy ?? []));
  return {
    name: state.name,
    ...given({
      openedAt: state.openedAt,
      finishedAt: state.finish?.at,
      givenUpAt: state.givenUp?.at,
    }),
    ingot: state.facts,
    carbonPct,
    carbonFrom:
      state.facts.carbonPct !== undefined
        ? "said"
        : meltCarbonPct !== undefined
          ? "melt"
          : "assumed",
    ...given({
      pipeTakenAs: state.facts.pipeDepthMm === undefined ? input.pipe : undefined,
      shapeMassG,
      voidPct:
        shapeMassG === undefined || weighedG === undefined
          ? undefined
          : (1 - weighedG / shapeMassG) * 100,
      goal: state.goal,
      route: state.route,
      planned,
    }),
    stages: cardStages(state, planned?.stages),
    heats: cardHeats(state, window),
    cracks: state.cracks.map((crack) => cardCrack(state, crack)),
    removals: state.removals.filter(({ entryId }) => !takers.has(entryId)),
    ...given({
      mass,
      loss,
      pipeOutAfterHeats: state.removals.find((removal) => isPipeRemoval(state, removal))
        ?.afterHeats,
    }),
    blades: state.finishes.map(({ value }) => value),
    notes: state.notes.map(({ value }) => value),
  };
}

function given<T extends object>(fields: T): { [K in keyof T]?: NonNullable<T[K]> } {
  return Object.fromEntries(Object.entries(fields).filter(([, each]) => each !== undefined)) as {
    [K in keyof T]?: NonNullable<T[K]>;
  };
}

/** Mass of the ingot's shape in sound steel, g; undefined without both sizes. A shape nobody said is a bowl. */
function massOfShape(facts: IngotFacts, carbonPct: number): number | undefined {
  const { bottomDiameterMm, diameterMm, heightMm, shape = "bowl" } = facts;
  if (diameterMm === undefined || heightMm === undefined) return undefined;
  const piece: IngotPiece = {
    shape,
    diameterMm,
    heightMm,
    ...(bottomDiameterMm === undefined ? {} : { bottomDiameterMm }),
  };
  return pieceVolumeMm3(piece) * densityGPerMm3(carbonPct);
}

function cardHeats(state: IngotState, window: HeatWindow): CardHeats {
  const list = state.heats.map(({ at, value }): CardHeat => {
    const { colour, durationMin, number, operation, temperatureC } = value;
    return {
      number,
      at,
      ...given({ tempC: temperatureC, colour, operation, durationMin }),
      where: whereIn(window, temperatureC),
    };
  });
  const saidMin = list.reduce((sum, { durationMin }) => sum + (durationMin ?? 0), 0);
  return {
    count: heatsBy(state, state.heats.length),
    told: state.heats.length,
    ...(saidMin > 0 ? { saidMin } : {}),
    window: { floorC: window.floorC, ceilingC: window.ceilingC },
    list,
  };
}

export function whereIn(window: HeatWindow, tempC: number | undefined): HeatWhere {
  if (tempC === undefined) return "not-said";
  if (tempC > window.ceilingC) return "over";
  return tempC < window.floorC ? "under" : "inside";
}

function cardCrack(state: IngotState, crack: Crack): CardCrack {
  const removal = state.removals.find(({ entryId }) => entryId === crack.takenOutBy);
  return {
    value: crack.value,
    afterHeats: crack.afterHeats,
    at: crack.at,
    ...(removal === undefined ? {} : { takenOut: removal.value }),
  };
}
