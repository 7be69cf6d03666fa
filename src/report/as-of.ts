/** An ingot as it stood at a moment: what was told of later left out. */
import type { IngotState } from "../logbook/index.js";

/** `until` is the first moment that no longer counts, ISO 8601 in UTC. Goal, route and facts stay as they are now. */
export function asOf(state: IngotState, until: string): IngotState {
  const before = <T extends { readonly at: string }>(list: readonly T[]): readonly T[] =>
    list.filter(({ at }) => at < until);
  const removals = before(state.removals);
  const done = new Set(removals.map(({ entryId }) => entryId));
  const { finish: _finish, piece, ...rest } = state;
  const finishes = before(state.finishes);
  const finish = finishes.at(-1);
  return {
    ...rest,
    heats: before(state.heats),
    sizes: before(state.sizes),
    weighings: before(state.weighings),
    cracks: before(state.cracks).map(({ takenOutBy, ...crack }) =>
      takenOutBy !== undefined && done.has(takenOutBy) ? { ...crack, takenOutBy } : crack,
    ),
    removals,
    notes: before(state.notes),
    finishes,
    ...(finish === undefined ? {} : { finish }),
    ...(piece !== undefined && piece.at < until ? { piece } : {}),
  };
}
