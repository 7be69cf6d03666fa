/** The working state while the drafts of one message are gone through, and adding a row to it. */
import type { Correction } from "./correct.js";
import type { AskedOf, DecideInput, Issue } from "./decision.js";
import type { Fact } from "./entry.js";
import { evolve, foldIngot } from "./fold.js";
import type { IngotState } from "./ingot-state.js";
import type { Entry, NewEntry } from "./log-store.js";
import type { Draft } from "./reading.js";

/** The working state while the drafts of one message are gone through. */
export interface Work {
  readonly entries: NewEntry[];
  readonly takeBacks: { entryId: string; by: string }[];
  readonly states: Map<string, IngotState>;
  inHand: string | undefined;
  opened: { name: string; implied: boolean } | undefined;
  switchedTo: string | undefined;
  /** Id of the ingot that this message gave up. */
  gaveUp: string | undefined;
  opens: number;
  readonly questions: AskedOf[];
  readonly corrections: Correction[];
  readonly undone: Entry[];
  readonly issues: Issue[];
}

export function add(
  input: DecideInput,
  work: Work,
  draft: Draft,
  fact: Fact,
  ingotId: string | undefined,
  id: string = input.newId(),
): void {
  const { at: saidAt, ...body } = fact;
  const entry: NewEntry = {
    id,
    chatId: input.message.chatId,
    smithId: input.message.smithId,
    messageId: input.message.id,
    ...(ingotId === undefined ? {} : { ingotId }),
    kind: fact.kind,
    at: toUtc(saidAt ?? input.edited[0]?.at ?? input.message.sentAt),
    arrived: toUtc(input.message.receivedAt),
    implied: draft.implied,
    confidence: draft.confidence,
    fact: body as Fact,
  };
  const grown = ingotId === undefined ? undefined : grownBy(input, work, ingotId, entry);
  work.entries.push(entry);
  if (ingotId === undefined) return;
  if (grown === undefined) refold(input, work, ingotId);
  else work.states.set(ingotId, grown);
}

/** The state with one row more, where that row is the latest of all: the usual case, without folding anew. */
function grownBy(
  { logs }: DecideInput,
  work: Work,
  ingotId: string,
  entry: NewEntry,
): IngotState | undefined {
  const state = work.states.get(ingotId);
  const latest = logs.get(ingotId)?.at(-1)?.at ?? "";
  const last = work.entries.findLast((each) => each.ingotId === ingotId)?.at ?? "";
  if (state === undefined || work.takeBacks.length > 0) return undefined;
  if (entry.at < latest || entry.at < last) return undefined;
  const seq = Number.MAX_SAFE_INTEGER;
  return evolve(state, { ...entry, seq, place: seq });
}

/** The state of an ingot with the rows of this message in their place. */
export function refold(input: DecideInput, work: Work, ingotId: string): void {
  const taken = new Map(work.takeBacks.map(({ entryId, by }) => [entryId, by]));
  const log = (input.logs.get(ingotId) ?? []).map((entry) => {
    const takenBackBy = taken.get(entry.id);
    return takenBackBy === undefined ? entry : { ...entry, takenBackBy };
  });
  const places = new Map(log.map((entry) => [entry.id, entry.place]));
  const fresh = work.entries
    .filter((entry) => entry.ingotId === ingotId)
    .map((entry, index) => {
      const seq = Number.MAX_SAFE_INTEGER - 1000 + index;
      const place = entry.replaces === undefined ? seq : (places.get(entry.replaces) ?? seq);
      return { ...entry, seq, place };
    });
  work.states.set(ingotId, foldIngot(ingotId, [...log, ...fresh]));
}

/** A row that only takes others back. */
export function takeBackRow(input: DecideInput, kind: "undo" | "correct" | "edit"): NewEntry {
  return {
    id: input.newId(),
    chatId: input.message.chatId,
    smithId: input.message.smithId,
    messageId: input.message.id,
    kind,
    at: toUtc(input.message.sentAt),
    arrived: toUtc(input.message.receivedAt),
    implied: [],
    confidence: 1,
  };
}

export const toUtc = (iso: string): string => new Date(iso).toISOString();
