/** Where each gram of an ingot went: parts that add up to its mass. */
import {
  type IngotState,
  isPipeRemoval,
  type Placed,
  type RemovalFacts,
  type WeighedLog,
  weighedLog,
} from "../logbook/index.js";
import { pieceVolumeMm3 } from "../shape/index.js";
import { densityGPerMm3 } from "../steel/index.js";

export type PartKind =
  /** Taken off where the pipe lies on this route. */
  | "pipe"
  | "ground"
  | "filed"
  | "chiselled"
  | "cut"
  | "punched"
  /** Taken off, nobody said how. */
  | "taken"
  /** Gone between two weighings with heats between, everything taken off by hand weighed. */
  | "scale"
  /** Gone between two weighings, scale and what was taken off not weighed apart. */
  | "unweighed"
  | "blade"
  /** Still on the piece as last weighed, or a finished blade that was not weighed. */
  | "left"
  /** Below zero: the weighings and what was taken off come to more than there was. */
  | "surplus";

export interface MassPart {
  readonly kind: PartKind;
  readonly massG: number;
  /** Worked out from a cut's sizes, not weighed. */
  readonly approx: boolean;
}

export interface MassBar {
  readonly totalG: number;
  /** `weighed`: the ingot's own mass; `first`: its first weighing, later on; `sizes`: its shape, not weighed. */
  readonly basis: "weighed" | "first" | "sizes";
  /** In the order in which they are drawn; they add up to `totalG`. */
  readonly parts: readonly MassPart[];
}

const ORDER: readonly PartKind[] = [
  "blade",
  "left",
  "pipe",
  "cut",
  "punched",
  "chiselled",
  "ground",
  "filed",
  "taken",
  "scale",
  "unweighed",
  "surplus",
];

/**
 * Parts of the ingot's mass, or undefined when nothing is known of it.
 * `Σ parts = totalG` to within floating point; only `surplus` may be below zero. `shapeMassG` stands in for a mass nobody weighed.
 */
export function massBar(
  state: IngotState,
  carbonPct: number,
  shapeMassG?: number,
): MassBar | undefined {
  const massOf = (removal: Placed<RemovalFacts>): number | undefined =>
    removal.value.massG ?? estimatedG(state, removal, carbonPct);
  const said = weighedLog(state, massOf);
  const log = said ?? fromShape(state, shapeMassG);
  if (log === undefined) return undefined;
  const sums = new Map<PartKind, { massG: number; approx: boolean }>();
  const add = (kind: PartKind, massG: number, approx = false): void => {
    if (massG === 0) return;
    const before = sums.get(kind) ?? { massG: 0, approx: false };
    sums.set(kind, { massG: before.massG + massG, approx: before.approx || approx });
  };
  for (const removal of state.removals) {
    const massG = massOf(removal);
    if (massG !== undefined) {
      add(partOf(state, removal), massG, removal.value.massG === undefined);
    }
  }
  for (const [kind, massG] of lostParts(log)) add(kind, massG);
  addEnd(log, massOf, add);
  const parts = ORDER.flatMap((kind): MassPart[] => {
    const sum = sums.get(kind);
    return sum === undefined ? [] : [{ kind, ...sum }];
  });
  return { totalG: log.startG, basis: said === undefined ? "sizes" : log.basis, parts };
}

/** Less than this is floating point, not steel, g. */
const NOTHING_G = 1e-9;

/** What went between weighings by itself. A weighing that reads more than the one before is set against the losses beside it. */
function lostParts(log: WeighedLog): readonly [PartKind, number][] {
  let scaleG = 0;
  let unweighedG = 0;
  let tooMuchG = 0;
  for (const { end, fromHeats, lostG, toHeats, unweighed } of log.spans) {
    if (lostG < 0) tooMuchG -= lostG;
    else if (end === "weighing" && toHeats > fromHeats && unweighed === 0) scaleG += lostG;
    else unweighedG += lostG;
  }
  const fromScale = Math.min(scaleG, tooMuchG);
  const fromUnweighed = Math.min(unweighedG, tooMuchG - fromScale);
  const parts: [PartKind, number][] = [
    ["scale", scaleG - fromScale],
    ["unweighed", unweighedG - fromUnweighed],
    ["surplus", fromScale + fromUnweighed - tooMuchG],
  ];
  return parts.filter(([, massG]) => Math.abs(massG) > NOTHING_G);
}

/** The blade, or what is still on the piece. */
function addEnd(
  log: WeighedLog,
  massOf: (removal: Placed<RemovalFacts>) => number | undefined,
  add: (kind: PartKind, massG: number) => void,
): void {
  const last = log.spans.at(-1);
  const endG = last?.endG ?? log.startG;
  if (last?.end === "finish") {
    add("blade", endG);
    return;
  }
  const afterG = log.after.reduce((sum, removal) => sum + (massOf(removal) ?? 0), 0);
  const leftG = endG - afterG;
  add(leftG >= 0 ? "left" : "surplus", leftG);
}

const fromShape = (state: IngotState, massG: number | undefined): WeighedLog | undefined =>
  massG === undefined
    ? undefined
    : { startG: massG, basis: "weighed", spans: [], after: state.removals };

const BY_METHOD = {
  grind: "ground",
  file: "filed",
  chisel: "chiselled",
  cut: "cut",
  punch: "punched",
} as const;

function partOf(state: IngotState, removal: Placed<RemovalFacts>): PartKind {
  if (isPipeRemoval(state, removal)) return "pipe";
  const { method } = removal.value;
  return method === undefined ? "taken" : BY_METHOD[method];
}

/** Mass of a cut of a said length, or of a punched hole, from the sizes told before it; g. */
function estimatedG(
  state: IngotState,
  { at, value }: Placed<RemovalFacts>,
  carbonPct: number,
): number | undefined {
  const before = state.sizes.filter((size) => size.at <= at).map((size) => size.value);
  const last = <K extends keyof (typeof before)[number]>(name: K) =>
    before.findLast((size) => size[name] !== undefined)?.[name];
  const density = densityGPerMm3(carbonPct);
  if (value.method === "cut" && value.lengthMm !== undefined) {
    const thicknessMm = last("thicknessMm");
    const widthMm = last("widthMm");
    if (thicknessMm === undefined || widthMm === undefined) return undefined;
    return thicknessMm * widthMm * value.lengthMm * density;
  }
  if (value.method === "punch" && value.diameterMm !== undefined) {
    const heightMm = last("heightMm");
    if (heightMm === undefined) return undefined;
    return pieceVolumeMm3({ shape: "disc", diameterMm: value.diameterMm, heightMm }) * density;
  }
  return undefined;
}

/**
 * Parts rounded to `step` so that they still add up to the total rounded to `step`: the largest remainders are rounded up.
 * Never differs from the part by a step or more.
 */
export function roundedParts(bar: MassBar, step: number): { totalG: number; partsG: number[] } {
  const total = Math.round(bar.totalG / step);
  const exact = bar.parts.map(({ massG }) => massG / step);
  const floors = exact.map(Math.floor);
  let missing = total - floors.reduce((sum, each) => sum + each, 0);
  const byRemainder = [...exact.keys()].sort((a, b) => frac(exact[b]) - frac(exact[a]) || a - b);
  for (const index of byRemainder) {
    if (missing <= 0) break;
    floors[index] = (floors[index] ?? 0) + 1;
    missing -= 1;
  }
  return { totalG: total * step, partsG: floors.map((each) => each * step) };
}

const frac = (value: number | undefined): number => (value ?? 0) - Math.floor(value ?? 0);
