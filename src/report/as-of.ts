/** An ingot as it stood at a moment: what was told of later left out. */
import { type IngotState, nextPiece, type PieceState } from "../logbook/index.js";

/** `until` is the first moment that no longer counts, ISO 8601 in UTC. Goal, route and facts stay as they are now. */
export function asOf(state: IngotState, until: string): IngotState {
  const before = <T extends { readonly at: string }>(list: readonly T[]): readonly T[] =>
    list.filter(({ at }) => at < until);
  const removals = before(state.removals);
  const done = new Set(removals.map(({ entryId }) => entryId));
  const { finish: _finish, givenUp, piece, ...rest } = state;
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
    ...(givenUp === undefined || givenUp.at >= until ? {} : { givenUp }),
    ...(piece === undefined ? {} : pieceBefore(state, piece, until)),
  };
}

/** The piece as last measured before `until`; what was cut off it since is not taken from its length. */
function pieceBefore(state: IngotState, piece: PieceState, until: string): { piece?: PieceState } {
  if (piece.at < until) return { piece };
  const { piece: _piece, ...empty } = state;
  let before: PieceState | undefined;
  for (const { afterHeats, at, value } of state.sizes) {
    if (at >= until || !hasSide(value)) continue;
    const so = before === undefined ? empty : { ...empty, piece: before };
    before = { ...nextPiece(so, { at }, { kind: "size", ...value }), afterHeats };
  }
  return before === undefined ? {} : { piece: before };
}

const hasSide = ({
  diameterMm,
  heightMm,
  lengthMm,
  thicknessMm,
  widthMm,
}: IngotState["sizes"][number]["value"]): boolean =>
  [diameterMm, heightMm, lengthMm, thicknessMm, widthMm].some((mm) => mm !== undefined);
