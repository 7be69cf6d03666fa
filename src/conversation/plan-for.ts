/** From what the log knows of an ingot and a shop to the planner's request. */
import {
  type Plan,
  type PlanRefusal,
  type PlanRequest,
  planForging,
  type Shop,
  type WorkState,
} from "../forging/index.js";
import { type IngotState, isPipeRemoval, withoutUndefined } from "../logbook/index.js";
import { type Piece, pieceVolumeMm3 } from "../shape/index.js";
import { densityGPerMm3 } from "../steel/index.js";
import { meltOf, steelOfMelt } from "./melts-now.js";
import type { ShopNow } from "./shop-now.js";

/** Taken where the smith did not say; stated in the first reply. */
export const CARBON_UNTIL_SAID_PCT = 1.5;

/** What the planner takes for this shop; by hand and without a welded handle until something is said. */
export function shopFor(shop: ShopNow): Shop {
  const power = shop.pressKn !== undefined || shop.hammerKg !== undefined;
  return {
    ...withoutUndefined({ pressKn: shop.pressKn, hammerKg: shop.hammerKg }),
    handHammer: shop.handHammer ?? !power,
    welder: shop.welder ?? false,
    ...(shop.learned === undefined ? {} : { learned: shop.learned }),
  } as Shop;
}

/** The plan from what is on the anvil now; undefined when nothing is known of the ingot's body. */
export function planFor(state: IngotState, shop: ShopNow): Plan | PlanRefusal | undefined {
  const request = planRequest(state, shop);
  return request === undefined ? undefined : planForging(request);
}

/** What the planner is asked; undefined when nothing is known of the ingot's body. */
export function planRequest(state: IngotState, shop: ShopNow): PlanRequest | undefined {
  const { facts, goal, route } = state;
  if (facts.massG === undefined && facts.diameterMm === undefined && state.piece === undefined) {
    return undefined;
  }
  const { name: _name, melt: _melt, ...ingot } = facts;
  const blade = goal ?? {};
  const massG = ingot.massG ?? (ingot.diameterMm === undefined ? massNow(state) : undefined);
  const now = workState(state);
  return {
    ingot: withoutUndefined({
      ...steelOfMelt(meltOf(state, shop)),
      ...withoutUndefined(ingot),
      massG,
    }),
    ...(goal === undefined ? {} : { blade: withoutUndefined(blade) }),
    shop: shopFor(shop),
    ...(route?.route === undefined ? {} : { route: route.route }),
    ...(route?.split === undefined ? {} : { split: route.split }),
    ...(now === undefined ? {} : { now }),
  } as PlanRequest;
}

/** What lies on the anvil, or undefined while it is still the ingot. */
export function workState(state: IngotState): WorkState | undefined {
  const piece = pieceNow(state);
  if (piece === undefined) return undefined;
  const weighed = state.weighings.at(-1);
  // A weight counts until the piece is measured after a later heat.
  const current = weighed !== undefined && weighed.afterHeats >= (state.piece?.afterHeats ?? 0);
  const temperatures = state.heats.flatMap(({ value }) => value.temperatureC ?? []);
  const lostG = lostSoFarG(state);
  // What was taken off without a weight would pass for scale.
  const allWeighed = state.removals.every(({ value }) => value.massG !== undefined);
  const open = state.cracks.filter(({ takenOutBy }) => takenOutBy === undefined);
  return {
    piece,
    heatsDone: heatsDone(state),
    cracks: open.map(({ value }) => value),
    ...(current ? { massG: massNow(state) } : takenOffSince(state, piece)),
    ...(lostG === undefined || !allWeighed ? {} : { lostG, removedG: weighed?.removedG ?? 0 }),
    ...(isPipeOut(state) ? { pipeTaken: true } : {}),
    ...(temperatures.length === 0
      ? {}
      : { meanTempC: temperatures.reduce((sum, each) => sum + each, 0) / temperatures.length }),
  } as WorkState;
}

/** Share of the ingot that a groove takes at least when it takes the pipe out. Common practice, 2 to 12 %; docs/learned.md. */
const LEAST_GROOVE_SHARE = 0.02;

/** Punched; or ground or chiselled out, by the place or, where none was said and no crack went with it, by the mass. */
function isPipeOut(state: IngotState): boolean {
  const { removals, cracks, route, facts } = state;
  if (removals.some(({ value }) => value.method === "punch")) return true;
  if (route?.route === "end") return false;
  const least = LEAST_GROOVE_SHARE * (facts.massG ?? Number.POSITIVE_INFINITY);
  return removals.some((removal) => {
    const { method, place, massG = 0 } = removal.value;
    if (method !== "grind" && method !== "chisel") return false;
    const ofCrack = cracks.some(({ takenOutBy }) => takenOutBy === removal.entryId);
    return !ofCrack && massG >= least && (place === undefined || isPipeRemoval(state, removal));
  });
}

/** Heats reported: the highest number, or how many there are. */
export const heatsDone = (state: IngotState): number =>
  Math.max(state.heats.length, ...state.heats.map(({ value }) => value.number));

/** Ingot's mass less what is left of it; undefined until the piece was weighed after the start. */
export function lostSoFarG(state: IngotState): number | undefined {
  const first = state.facts.massG ?? state.weighings[0]?.massG;
  const last = state.weighings.at(-1);
  if (first === undefined || last === undefined || last.afterHeats === 0) return undefined;
  return Math.max(0, first - (massNow(state) ?? last.massG));
}

/** Last mass known: weighed, else the ingot's own, less what was taken off since. */
export function massNow(state: IngotState): number | undefined {
  const weighed = state.weighings.at(-1);
  const removed = state.removals.reduce((sum, { value }) => sum + (value.massG ?? 0), 0);
  if (weighed !== undefined) {
    const cutG = cutSinceG(state, weighed.at);
    return Math.max(0, weighed.massG - (removed - weighed.removedG) - cutG);
  }
  return state.facts.massG === undefined ? undefined : state.facts.massG - removed;
}

/** A piece measured and not weighed since: its sizes less what was ground, filed or chiselled off after that. */
function takenOffSince(state: IngotState, piece: Piece): { massG?: number } {
  const since = state.piece?.at ?? "";
  const offG = state.removals
    .filter(({ at, value }) => at > since && value.method !== "cut")
    .reduce((sum, { value }) => sum + (value.massG ?? 0), 0);
  if (offG === 0) return {};
  const carbonPct = state.facts.carbonPct ?? CARBON_UNTIL_SAID_PCT;
  return { massG: Math.max(1, pieceVolumeMm3(piece) * densityGPerMm3(carbonPct) - offG) };
}

/** Mass of lengths cut off after a moment that nobody weighed: length × section of the bar. */
function cutSinceG(state: IngotState, since: string): number {
  const { thicknessMm, widthMm } = state.piece ?? {};
  if (thicknessMm === undefined || widthMm === undefined) return 0;
  const lengthMm = state.removals
    .filter(({ at, value }) => at > since && value.method === "cut" && value.massG === undefined)
    .reduce((sum, { value }) => sum + (value.lengthMm ?? 0), 0);
  const carbonPct = state.facts.carbonPct ?? CARBON_UNTIL_SAID_PCT;
  return lengthMm * thicknessMm * widthMm * densityGPerMm3(carbonPct);
}

/** The piece with all its sizes; the one that was not said follows from the mass. */
export function pieceNow(state: IngotState): Piece | undefined {
  const { piece } = state;
  if (piece === undefined) return undefined;
  const massG = massNow(state) ?? ingotShapeMassG(state);
  const volumeMm3 =
    massG === undefined
      ? undefined
      : massG / densityGPerMm3(state.facts.carbonPct ?? CARBON_UNTIL_SAID_PCT);
  const { thicknessMm, widthMm, lengthMm, diameterMm, heightMm } = piece;
  const missing = (area: number | undefined): number | undefined =>
    volumeMm3 === undefined || area === undefined ? undefined : volumeMm3 / area;
  switch (piece.shape) {
    case "disc": {
      const height = heightMm ?? missing(diameterMm && (Math.PI * diameterMm ** 2) / 4);
      const across =
        diameterMm ??
        (heightMm && volumeMm3 ? Math.sqrt((4 * volumeMm3) / (Math.PI * heightMm)) : undefined);
      if (across === undefined || height === undefined) return undefined;
      const hole = punchedMm(state);
      return hole !== undefined && hole < across
        ? { shape: "ring", outerDiameterMm: across, innerDiameterMm: hole, heightMm: height }
        : { shape: "disc", diameterMm: across, heightMm: height };
    }
    case "ring": {
      const inner = diameterMm && thicknessMm ? diameterMm - 2 * thicknessMm : undefined;
      return diameterMm === undefined || heightMm === undefined || inner === undefined || inner <= 0
        ? undefined
        : { shape: "ring", outerDiameterMm: diameterMm, innerDiameterMm: inner, heightMm };
    }
    default: {
      const length = lengthMm ?? missing(thicknessMm && widthMm && thicknessMm * widthMm);
      const width = widthMm ?? missing(thicknessMm && lengthMm && thicknessMm * lengthMm);
      const thickness = thicknessMm ?? missing(widthMm && lengthMm && widthMm * lengthMm);
      return length === undefined || width === undefined || thickness === undefined
        ? undefined
        : { shape: piece.shape, thicknessMm: thickness, widthMm: width, lengthMm: length };
    }
  }
}

/** The hole that was punched, where its size was said: a disc with a hole is a ring begun. */
const punchedMm = (state: IngotState): number | undefined =>
  state.removals.findLast(({ value }) => value.method === "punch" && value.diameterMm !== undefined)
    ?.value.diameterMm;

function ingotShapeMassG(state: IngotState): number | undefined {
  const { shape = "bowl", diameterMm, heightMm, bottomDiameterMm, carbonPct } = state.facts;
  if (diameterMm === undefined || heightMm === undefined) return undefined;
  const bottom = bottomDiameterMm === undefined ? {} : { bottomDiameterMm };
  return (
    pieceVolumeMm3({ shape, diameterMm, heightMm, ...bottom }) *
    densityGPerMm3(carbonPct ?? CARBON_UNTIL_SAID_PCT)
  );
}
