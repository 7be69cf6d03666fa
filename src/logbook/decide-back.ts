/** What a message takes back, corrects or replaces; nothing is ever removed from the log. */
import { correctLast } from "./correct.js";
import { refold, takeBackRow, toUtc, type Work } from "./decide-work.js";
import type { DecideInput } from "./decision.js";
import type { DraftOf } from "./entry.js";
import type { ChatView } from "./log-store.js";
import { takeBack } from "./take-back.js";

/** The last turns without what this message has taken back already: an edit, an undo before a correction. */
function lastTurnsLeft(input: DecideInput, work: Work): ChatView["lastTurns"] {
  const taken = new Set(work.takeBacks.map(({ entryId }) => entryId));
  return input.view.lastTurns
    .map((turn) => ({ ...turn, entries: turn.entries.filter(({ id }) => !taken.has(id)) }))
    .filter(({ entries }) => entries.length > 0);
}

export function undo(input: DecideInput, work: Work, count: number): void {
  const turns = lastTurnsLeft(input, work).slice(0, count);
  if (turns.length === 0) {
    work.issues.push({ code: "nothing-to-undo" });
    return;
  }
  const row = takeBackRow(input, "undo");
  work.entries.push(row);
  for (const turn of turns) {
    const { takeBacks, restored } = takeBack(turn.entries, row.id, input.replaced, input.newId);
    work.takeBacks.push(...takeBacks);
    work.entries.push(...restored);
    work.undone.push(...turn.entries);
  }
  const touched = new Set(work.undone.flatMap(({ ingotId }) => (ingotId ? [ingotId] : [])));
  for (const ingotId of touched) if (work.states.has(ingotId)) refold(input, work, ingotId);
}

export function correct(input: DecideInput, work: Work, body: DraftOf<"correct">): void {
  const correction = correctLast(body, lastTurnsLeft(input, work), input.named);
  if (correction === undefined) {
    work.issues.push({
      code: "nothing-to-correct",
      ...(body.from === undefined ? {} : { from: body.from }),
      ...(body.to === undefined ? {} : { to: body.to }),
    });
    return;
  }
  if (correction.problem !== undefined) {
    work.issues.push(
      correction.problem.code === "no-such-ingot"
        ? { ...correction.problem, rest: [] }
        : correction.problem,
    );
    return;
  }
  const row = takeBackRow(input, "correct");
  work.entries.push(row);
  work.corrections.push(correction);
  const touched = new Set<string>();
  for (const { old, fact, ingotId } of correction.changes) {
    work.takeBacks.push({ entryId: old.id, by: row.id });
    const home = ingotId ?? old.ingotId;
    work.entries.push({
      id: input.newId(),
      chatId: old.chatId,
      smithId: old.smithId,
      messageId: input.message.id,
      ...(home === undefined ? {} : { ingotId: home }),
      kind: fact.kind,
      at: old.at,
      arrived: toUtc(input.message.receivedAt),
      replaces: old.id,
      implied: old.implied,
      confidence: 1,
      fact,
    });
    if (home !== undefined) touched.add(home);
    if (old.ingotId !== undefined) touched.add(old.ingotId);
    if (ingotId !== undefined) work.inHand = ingotId;
  }
  for (const ingotId of touched) if (work.states.has(ingotId)) refold(input, work, ingotId);
}

export const editedIngot = (input: DecideInput): string | undefined =>
  input.edited.find((entry) => entry.ingotId !== undefined)?.ingotId;

export function takeBackEdited(input: DecideInput, work: Work): void {
  const row = takeBackRow(input, "edit");
  work.entries.push(row);
  for (const entry of input.edited) {
    if (entry.takenBackBy === undefined && entry.fact !== undefined) {
      work.takeBacks.push({ entryId: entry.id, by: row.id });
    }
  }
  for (const ingotId of new Set(input.edited.flatMap((entry) => entry.ingotId ?? []))) {
    if (work.states.has(ingotId)) refold(input, work, ingotId);
  }
}

/** What an edit says stands where the first words stood, in their order. */
export function keepPlaces(input: DecideInput, work: Work): void {
  const old = input.edited.filter(({ takenBackBy, fact }) => takenBackBy === undefined && fact);
  let index = 0;
  for (const [position, entry] of work.entries.entries()) {
    if (entry.fact === undefined) continue;
    const replaced = old[Math.min(index, old.length - 1)];
    index += 1;
    if (replaced !== undefined) work.entries[position] = { ...entry, replaces: replaced.id };
  }
  for (const ingotId of work.states.keys()) {
    if (work.entries.some((entry) => entry.ingotId === ingotId)) refold(input, work, ingotId);
  }
}
