/** The pipe zone as a region of the steel: kept as shares of the piece, which deforming evenly does not change. */
import type { PipePlace, PipeZone } from "./types.js";

export interface Zone {
  readonly place: PipePlace;
  /** Along the piece from the tang end, shares of its length. */
  readonly from: number;
  readonly to: number;
  /** From the surface it opens on, share of that side's depth. */
  readonly depth: number;
}

export const NO_ZONE: Zone = { place: "out", from: 0, to: 0, depth: 0 };

/** In mm on a piece of a length, with the depth that belongs to its place. */
export const zoneOn = (
  zone: Zone,
  size: { readonly lengthMm: number; readonly depthMm: number },
): PipeZone => ({
  place: zone.place,
  fromMm: zone.from * size.lengthMm,
  toMm: zone.to * size.lengthMm,
  depthMm: zone.depth * size.depthMm,
});

/** After cutting a share off each end, as shares of what is left. */
export function zoneAfterCuts(zone: Zone, cutFrom: number, cutTo: number): Zone {
  const left = 1 - cutFrom - cutTo;
  if (zone.place === "out" || left <= 0) return NO_ZONE;
  const within = (share: number) => Math.min(1, Math.max(0, (share - cutFrom) / left));
  const from = within(zone.from);
  const to = within(zone.to);
  return to - from < 1e-9 ? NO_ZONE : { ...zone, from, to };
}
