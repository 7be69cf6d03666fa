/** Rows of an invented log for tests: facts in order, with times. */
import { type Entry, type Fact, foldIngot, type IngotState } from "../../src/logbook/index.js";

export interface Said {
  readonly at: string;
  readonly fact: Fact;
  readonly ingotId?: string;
  readonly takenBackBy?: string;
}

export const rows = (said: readonly Said[], smithId = "s1"): readonly Entry[] =>
  said.map(({ at, fact, ingotId, takenBackBy }, index) => ({
    id: `e${index + 1}`,
    seq: index + 1,
    place: index + 1,
    chatId: "c1",
    smithId,
    messageId: `m${index + 1}`,
    ...(ingotId === undefined ? {} : { ingotId }),
    kind: fact.kind,
    at: new Date(at).toISOString(),
    arrived: new Date(at).toISOString(),
    ...(takenBackBy === undefined ? {} : { takenBackBy }),
    implied: [],
    confidence: 1,
    fact,
  }));

/** Facts of one ingot, a minute apart unless `stepMin` says else. */
export function ingotOf(
  facts: readonly Fact[],
  from = "2026-05-12T07:00:00Z",
  stepMin = 1,
): IngotState {
  const start = Date.parse(from);
  return foldIngot(
    "i1",
    rows(
      facts.map((fact, index) => ({
        at: new Date(start + index * stepMin * 60_000).toISOString(),
        fact,
        ingotId: "i1",
      })),
    ),
  );
}
