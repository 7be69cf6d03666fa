/** The stages of an ingot: what was planned beside what was measured. */
import type { FinishFacts, IngotState, PieceState, Placed, SizeFacts } from "../logbook/index.js";
import type { CardSize } from "./labels.js";

/** Of a plan drawn for the whole ingot, what the card shows. */
export interface PlannedStage {
  readonly name: string;
  readonly cold: PlannedPiece;
  readonly massG: number;
  readonly heats: number;
  readonly pipeLies?: CardPipe;
}
/** Where the pipe zone lies on a piece, from the tang end. `out`: taken out whole. */
export interface CardPipe {
  readonly place: "top" | "spine" | "face" | "end" | "tang" | "out";
  readonly fromMm: number;
  readonly toMm: number;
  readonly depthMm: number;
}
export type PlannedPiece =
  | { readonly shape: "disc"; readonly diameterMm: number; readonly heightMm: number }
  | {
      readonly shape: "ring";
      readonly outerDiameterMm: number;
      readonly innerDiameterMm: number;
      readonly heightMm: number;
    }
  | {
      readonly shape: "block" | "bar" | "blade";
      readonly thicknessMm: number;
      readonly widthMm: number;
      readonly lengthMm: number;
    };

export interface MeasuredStage {
  readonly size: CardSize;
  readonly massG?: number;
  /** Heats done by then. */
  readonly afterHeats: number;
  readonly at: string;
}

export interface CardStage {
  /** `flatten`, `punch`, `bar`, …, of the plan; left out for a size that no planned stage is near to. */
  readonly name?: string;
  readonly planned?: CardSize;
  readonly measured?: MeasuredStage;
  /** On the planned piece. */
  readonly pipeLies?: CardPipe;
}

/** A bar stands beside a planned one when their sections differ by no more than this factor. Judgement, 1.3 to 2. */
const NEAR_FACTOR = 1.6;

/** Stages in the order they happened: each planned one with the measured size that belongs to it, each measured one once. */
export function cardStages(
  state: IngotState,
  planned: readonly PlannedStage[] | undefined,
): readonly CardStage[] {
  const measured = measuredStages(state);
  if (planned === undefined) return measured.map((stage) => ({ measured: stage }));
  const stages: CardStage[] = [];
  let next = 0;
  let done = 0;
  for (const { name, cold, pipeLies } of planned) {
    const size = plannedSize(cold);
    const zone = pipeLies === undefined ? {} : { pipeLies };
    const hit = nearest(measured, size, next);
    if (hit === undefined) {
      stages.push({ name, planned: size, ...zone });
      continue;
    }
    stages.splice(done, 0, ...measured.slice(next, hit).map((stage) => ({ measured: stage })));
    stages.push({ name, planned: size, measured: measured[hit] as MeasuredStage, ...zone });
    next = hit + 1;
    done = stages.length;
  }
  // What was measured has happened; planned stages still to come stand after it.
  stages.splice(done, 0, ...measured.slice(next).map((stage) => ({ measured: stage })));
  return stages;
}

function nearest(
  measured: readonly MeasuredStage[],
  planned: CardSize,
  from: number,
): number | undefined {
  let best: { index: number; apart: number } | undefined;
  for (let index = from; index < measured.length; index++) {
    const apart = distance(planned, (measured[index] as MeasuredStage).size);
    if (apart <= Math.log(NEAR_FACTOR) && (best === undefined || apart <= best.apart)) {
      best = { index, apart };
    }
  }
  return best?.index;
}

/** How far apart a planned and a measured size are, 0 for the same; infinite when they are not of one kind. */
function distance(planned: CardSize, measured: CardSize): number {
  const bars = isBar(planned) && isBar(measured);
  // There is one disc, one ring and one blade in a plan: whatever it measures, it is that stage.
  if (!bars) return planned.shape === measured.shape ? 0 : Number.POSITIVE_INFINITY;
  const [a, b] = [section(planned), section(measured)];
  return a === undefined || b === undefined ? Number.POSITIVE_INFINITY : Math.abs(Math.log(a / b));
}

const isBar = ({ shape }: CardSize): boolean => shape === "bar" || shape === "block";
const section = ({ thicknessMm, widthMm }: CardSize): number | undefined =>
  thicknessMm === undefined || widthMm === undefined ? undefined : thicknessMm * widthMm;

export function plannedSize(cold: PlannedPiece): CardSize {
  if (cold.shape !== "ring") return cold;
  const { shape, heightMm, innerDiameterMm, outerDiameterMm } = cold;
  return { shape, diameterMm: outerDiameterMm, innerDiameterMm, heightMm };
}

/** Every size that was told, with what was not said again carried on; the finished blade last. */
export function measuredStages(state: IngotState): readonly MeasuredStage[] {
  const stages: MeasuredStage[] = [];
  let before: CardSize | undefined;
  for (const size of state.sizes) {
    const told = sizeOf(size, before);
    if (told === undefined) continue;
    before = told;
    const stage = {
      size: told,
      ...(size.value.massG === undefined ? {} : { massG: size.value.massG }),
      afterHeats: size.afterHeats,
      at: size.at,
    };
    const last = stages.at(-1);
    // Two messages after the same heat about the same piece are one size, told in two parts.
    if (last?.afterHeats === stage.afterHeats && last.size.shape === told.shape) stages.pop();
    stages.push(stage);
  }
  return [...stages, ...state.finishes.flatMap(bladeStage)];
}

function bladeStage({ afterHeats, at, value }: Placed<FinishFacts>): readonly MeasuredStage[] {
  const { lengthMm, massG, thicknessMm, widthMm } = value;
  const size = known({ thicknessMm, widthMm, lengthMm });
  if (Object.keys(size).length === 0) return [];
  const mass = massG === undefined ? {} : { massG };
  return [{ size: { shape: "blade", ...size }, ...mass, afterHeats, at }];
}

function sizeOf({ value }: Placed<SizeFacts>, before: CardSize | undefined): CardSize | undefined {
  const said = known({
    thicknessMm: value.thicknessMm,
    widthMm: value.widthMm,
    lengthMm: value.lengthMm,
    diameterMm: value.diameterMm,
    heightMm: value.heightMm,
  });
  if (Object.keys(said).length === 0) return undefined;
  const shape: PieceState["shape"] = value.shape ?? shapeOf(value, before);
  return before?.shape === shape ? { ...before, ...said } : { shape, ...said };
}

/** As the log folds it: round things go on as disc or ring, the rest as block or bar. */
function shapeOf(value: SizeFacts, before: CardSize | undefined): PieceState["shape"] {
  const round =
    value.diameterMm !== undefined ||
    (value.heightMm !== undefined && value.lengthMm === undefined && value.widthMm === undefined);
  if (round) return before?.shape === "ring" ? "ring" : "disc";
  return before?.shape === "block" ? "block" : "bar";
}

function known<T extends object>(value: T): { [K in keyof T]?: NonNullable<T[K]> } {
  return Object.fromEntries(Object.entries(value).filter(([, each]) => each !== undefined)) as {
    [K in keyof T]?: NonNullable<T[K]>;
  };
}
