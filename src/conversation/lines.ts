/** A reply for a glance from a metre away: at most five short lines, the one that matters bold. */
import type { ReplyBody } from "../logbook/index.js";

export const MOST_LINES = 5;

/** A line that wants to be in the reply; a lower rank stays when there are too many. */
export interface RankedLine {
  readonly rank: number;
  readonly text: string;
  readonly bold?: boolean;
}

/** What must never be dropped comes first. */
export const RANK = {
  readBack: 0,
  danger: 1,
  next: 2,
  unread: 3,
  issue: 3,
  verdict: 4,
  ask: 4,
  hold: 5,
  spare: 6,
  safety: 6.5,
  aside: 7,
} as const;

/** Keeps the `MOST_LINES` of the lowest rank, in the order given. */
export function shortest(lines: readonly RankedLine[]): ReplyBody["lines"] {
  const kept = new Set(
    [...lines.entries()]
      .sort(([i, a], [j, b]) => a.rank - b.rank || i - j)
      .slice(0, MOST_LINES)
      .map(([index]) => index),
  );
  return lines
    .filter((_, index) => kept.has(index))
    .map(({ text, bold }) => (bold === true ? { text, bold } : { text }));
}
