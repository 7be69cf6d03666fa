/**
 * The state of an ingot is a pure fold of its standing entries in the order they happened, so a late
 * voice note or an edit lands where it belongs and everything after it follows.
 */
import type { Fact } from "./entry.js";
import { givenUp } from "./given-up.js";
import {
  type Crack,
  emptyIngot,
  type FinishFacts,
  type IngotState,
  type PieceState,
  type Placed,
} from "./ingot-state.js";
import type { Entry } from "./log-store.js";
import { withoutUndefined } from "./shop.js";

/** Order of happening: `at`, then place, then arrival. */
export const byHappening = (a: Entry, b: Entry): number =>
  a.at < b.at ? -1 : a.at > b.at ? 1 : a.place - b.place || a.seq - b.seq;

/** Entries that nobody took back and that state something. */
export const standing = (entries: readonly Entry[]): readonly Entry[] =>
  entries.filter((entry) => entry.takenBackBy === undefined && entry.fact !== undefined);

/** State of the ingot `ingotId` from its rows, in any order. Rows of other ingots are passed over. */
export function foldIngot(ingotId: string, entries: readonly Entry[]): IngotState {
  return [...standing(entries)]
    .filter((entry) => entry.ingotId === ingotId)
    .sort(byHappening)
    .reduce(evolve, emptyIngot(ingotId));
}

/** One entry more. */
export function evolve(state: IngotState, entry: Entry): IngotState {
  const { fact } = entry;
  if (fact === undefined) return state;
  const placed = <T>(value: T) => ({
    entryId: entry.id,
    at: entry.at,
    afterHeats: state.heats.length,
    value,
  });
  const opened = state.openedAt === undefined ? { ...state, openedAt: entry.at } : state;
  switch (fact.kind) {
    case "ingot": {
      const facts = { ...opened.facts, ...said(fact) };
      const weighed =
        fact.massG !== undefined && opened.heats.length === 0 && opened.piece === undefined
          ? [weighing(opened, entry.at, fact.massG)]
          : [];
      return {
        ...opened,
        facts,
        name: fact.name ?? opened.name,
        weighings: [...opened.weighings, ...weighed],
      };
    }
    case "goal":
      return { ...opened, goal: { ...opened.goal, ...said(fact) } };
    case "route":
      return { ...opened, route: { ...opened.route, ...said(fact) } };
    case "heat": {
      const again = toldAgain(opened, fact, entry.at);
      if (again !== undefined) return again;
      const last = opened.heats.at(-1);
      const number = heatNumber(opened, fact);
      if (last !== undefined && last.value.number === number && sameHeat(last.value, fact)) {
        const merged = { ...last, value: { ...last.value, ...said(fact), number } };
        return { ...opened, heats: [...opened.heats.slice(0, -1), merged] };
      }
      return { ...opened, heats: [...opened.heats, placed({ ...said(fact), number })] };
    }
    case "size":
      return withSize(opened, entry, fact);
    case "crack":
      return { ...opened, cracks: withCrack(opened, placed(said(fact))) };
    case "removal":
      return {
        ...opened,
        removals: withRemoval(opened, placed(said(fact))),
        cracks: takenOut(opened.cracks, fact, entry.id),
        ...shortened(opened, fact),
      };
    case "finish": {
      const finishes = withFinish(opened, placed(said(fact)));
      const finish = finishes.at(-1);
      return { ...opened, finishes, ...(finish === undefined ? {} : { finish }) };
    }
    case "note": {
      const notes = [...opened.notes, placed(fact.note)];
      return givenUp(fact.note, [opened.name]) === undefined
        ? { ...opened, notes }
        : { ...opened, notes, givenUp: placed(fact.note) };
    }
    case "melt":
    case "switch":
    case "setting":
      return state;
  }
}

/**
 * The number said; else the next one. Only a working is said (`drew it down`) and the heat in hand has
 * no working and no size yet: it is that heat's.
 */
export function heatNumber(state: IngotState, fact: Extract<Fact, { kind: "heat" }>): number {
  if (fact.number !== undefined) return fact.number;
  const last = state.heats.at(-1);
  if (last === undefined) return 1;
  const onlyWorking =
    fact.operation !== undefined &&
    fact.temperatureC === undefined &&
    fact.colour === undefined &&
    fact.durationMin === undefined;
  const sizedSince = state.sizes.some((size) => size.afterHeats === state.heats.length);
  return onlyWorking && last.value.operation === undefined && !sizedSince
    ? last.value.number
    : last.value.number + 1;
}

/** A number counts on for one working day; the same number later is another heat. Common practice, 8 to 16 h. */
const SAME_DAY_MS = 12 * 3_600_000;

/** `heat 2 was at 940`: a heat that is in the log already, told again by its number. */
function toldAgain(
  state: IngotState,
  fact: Extract<Fact, { kind: "heat" }>,
  at: string,
): IngotState | undefined {
  const index = state.heats.findLastIndex(({ value }) => value.number === fact.number);
  const heat = state.heats[index];
  if (fact.number === undefined || heat === undefined) return undefined;
  if (Date.parse(at) - Date.parse(heat.at) > SAME_DAY_MS) return undefined;
  const value = { ...heat.value, ...said(fact), number: fact.number };
  return { ...state, heats: state.heats.with(index, { ...heat, value }) };
}

/** A further word on the heat in hand (its working) is not another heat. */
function sameHeat(
  last: IngotState["heats"][number]["value"],
  fact: Extract<Fact, { kind: "heat" }>,
): boolean {
  return (
    (last.temperatureC === undefined || fact.temperatureC === undefined) &&
    (last.operation === undefined ||
      fact.operation === undefined ||
      last.operation === fact.operation)
  );
}

/**
 * A further word on a finished blade is added to it; what contradicts it is another blade while more are wanted, else the last word
 * counts.
 */
function withFinish(state: IngotState, next: Placed<FinishFacts>): IngotState["finishes"] {
  const last = state.finishes.at(-1);
  if (last === undefined) return [next];
  const before: Record<string, unknown> = { ...last.value };
  const adds = Object.entries(next.value).every(
    ([name, value]) => name === "approx" || before[name] === undefined || before[name] === value,
  );
  const wanted = state.goal?.count ?? (state.route?.split === true ? 2 : 1);
  const again = Object.keys(next.value).some((name) => name in before);
  if (state.finishes.length < wanted && (!adds || again)) return [...state.finishes, next];
  const value = adds ? { ...last.value, ...next.value } : next.value;
  return [...state.finishes.slice(0, -1), { ...(adds ? last : next), value }];
}

function said<F extends Fact>(fact: F): Omit<F, "kind" | "at"> {
  const { kind: _kind, at: _at, ...rest } = fact;
  return withoutUndefined(rest);
}

function weighing(state: IngotState, at: string, massG: number) {
  const removedG = state.removals.reduce((sum, { value }) => sum + (value.massG ?? 0), 0);
  return { at, afterHeats: state.heats.length, massG, removedG };
}

const DIMENSIONS = ["thicknessMm", "widthMm", "lengthMm", "diameterMm", "heightMm"] as const;

function withSize(
  state: IngotState,
  entry: Entry,
  fact: Extract<Fact, { kind: "size" }>,
): IngotState {
  const sizes = [
    ...state.sizes,
    { entryId: entry.id, at: entry.at, afterHeats: state.heats.length, value: said(fact) },
  ];
  const weighings =
    fact.massG === undefined
      ? state.weighings
      : [...state.weighings, weighing(state, entry.at, fact.massG)];
  if (DIMENSIONS.every((name) => fact[name] === undefined)) return { ...state, sizes, weighings };
  return { ...state, sizes, weighings, piece: nextPiece(state, entry, fact) };
}

/** The piece after a size was said: the same shape keeps what was not said again. */
export function nextPiece(
  state: IngotState,
  entry: { readonly at: string },
  fact: Extract<Fact, { kind: "size" }>,
): PieceState {
  const shape = fact.shape ?? impliedShape(state, fact);
  const kept = state.piece?.shape === shape ? state.piece : undefined;
  const dimensions = Object.fromEntries(
    DIMENSIONS.flatMap((name) => {
      const value = fact[name] ?? kept?.[name];
      return value === undefined ? [] : [[name, value]];
    }),
  );
  return { shape, ...dimensions, at: entry.at, afterHeats: state.heats.length };
}

/** `bar` unless said; a diameter without a length goes on with the disc or the ring in hand. */
function impliedShape(
  state: IngotState,
  fact: Extract<Fact, { kind: "size" }>,
): PieceState["shape"] {
  const inHand = state.piece?.shape;
  if (fact.diameterMm !== undefined) return inHand === "ring" ? "ring" : "disc";
  if (fact.heightMm !== undefined && fact.lengthMm === undefined && fact.widthMm === undefined) {
    return inHand === "ring" ? "ring" : "disc";
  }
  return inHand === "block" ? "block" : "bar";
}

/** A crack, or more of the one just reported: same place, same heat, nothing said twice differently. */
function withCrack(state: IngotState, crack: Crack): readonly Crack[] {
  const last = state.cracks.at(-1);
  const { place } = crack.value;
  const more =
    last !== undefined &&
    last.takenOutBy === undefined &&
    last.afterHeats === crack.afterHeats &&
    (place === undefined || place === last.value.place) &&
    (["depthMm", "lengthMm", "positionMm", "severity"] as const).every(
      (name) => last.value[name] === undefined || crack.value[name] === undefined,
    );
  if (!more) return [...state.cracks, crack];
  return [...state.cracks.slice(0, -1), { ...last, value: { ...last.value, ...crack.value } }];
}

const REMOVAL_FIGURES = ["massG", "lengthMm", "depthMm", "diameterMm"] as const;

/** A removal, or the figure of the one just reported without any. */
function withRemoval(
  state: IngotState,
  removal: IngotState["removals"][number],
): IngotState["removals"] {
  const last = state.removals.at(-1);
  const same =
    last !== undefined &&
    last.afterHeats === removal.afterHeats &&
    last.value.method === removal.value.method &&
    (removal.value.place === undefined || removal.value.place === last.value.place) &&
    REMOVAL_FIGURES.every((name) => last.value[name] === undefined);
  if (!same) return [...state.removals, removal];
  return [...state.removals.slice(0, -1), { ...last, value: { ...last.value, ...removal.value } }];
}

/** Cracks that a removal took out: those at the place it names, or the only one open. */
function takenOut(
  cracks: readonly Crack[],
  fact: Extract<Fact, { kind: "removal" }>,
  entryId: string,
): readonly Crack[] {
  const open = cracks.filter((crack) => crack.takenOutBy === undefined);
  const hit =
    fact.place === undefined
      ? open.length === 1
        ? open
        : []
      : open.filter((crack) => crack.value.place === fact.place);
  if (fact.method === "cut" && fact.place === undefined) {
    return cracks;
  }
  // `lost 5 g` tells of weight; `that crack is gone` has neither way nor figure.
  const figured = [fact.massG, fact.lengthMm, fact.depthMm].some((figure) => figure !== undefined);
  if (fact.method === undefined && fact.place === undefined && figured) return cracks;
  return cracks.map((crack) => (hit.includes(crack) ? { ...crack, takenOutBy: entryId } : crack));
}

/** A cut of a said length makes the bar that much shorter, until it is measured again. */
function shortened(
  state: IngotState,
  fact: Extract<Fact, { kind: "removal" }>,
): { piece?: PieceState } {
  const lengthMm = state.piece?.lengthMm;
  if (fact.method !== "cut" || fact.lengthMm === undefined || lengthMm === undefined) return {};
  if (fact.lengthMm >= lengthMm || state.piece === undefined) return {};
  return { piece: { ...state.piece, lengthMm: lengthMm - fact.lengthMm } };
}
