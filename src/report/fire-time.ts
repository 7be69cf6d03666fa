/** How long the fire was in use, from when the heats were told of. */

/** Heats further apart than this have a break between them, min. Common practice, 30 to 60. */
export const BREAK_MIN = 45;
const MINUTE_MS = 60_000;

export interface FireTime {
  readonly from: string;
  readonly to: string;
  /** Breaks left out; undefined when the heats were told of all at once. */
  readonly minutes?: number;
}

/**
 * Time at the fire, min, from the moments at which heats were told of and how long they were said to take.
 * Shape: gaps up to `BREAK_MIN`, and for the first heat after each break its said time or the middle gap; at least the said times together.
 * Error: as good as the smith's habit of telling at once.
 */
export function fireTime(
  heats: readonly { readonly at: string; readonly durationMin?: number | undefined }[],
): FireTime | undefined {
  const sorted = [...heats].sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  const [first] = sorted;
  const last = sorted.at(-1);
  if (first === undefined || last === undefined) return undefined;
  const gaps = gapsMin(sorted);
  const close = gaps.filter((gap) => gap > 0 && gap <= BREAK_MIN);
  const typical = median(close);
  let minutes = 0;
  for (const [index, heat] of sorted.entries()) {
    const gap = gaps[index - 1];
    minutes += gap === undefined || gap > BREAK_MIN ? (heat.durationMin ?? typical ?? 0) : gap;
  }
  const saidMin = sorted.reduce((sum, { durationMin }) => sum + (durationMin ?? 0), 0);
  const most = Math.max(minutes, saidMin);
  return { from: first.at, to: last.at, ...(most > 0 ? { minutes: most } : {}) };
}

/** Minutes from each heat to the next. */
export function gapsMin(heats: readonly { readonly at: string }[]): readonly number[] {
  return heats
    .slice(1)
    .map((heat, index) => (Date.parse(heat.at) - Date.parse(heats[index]?.at ?? "")) / MINUTE_MS);
}

function median(values: readonly number[]): number | undefined {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  if (sorted.length === 0) return undefined;
  return sorted.length % 2 === 1
    ? sorted[Math.floor(middle)]
    : ((sorted[middle - 1] ?? 0) + (sorted[middle] ?? 0)) / 2;
}
