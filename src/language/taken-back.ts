/** A clause that takes something back: `scratch that`, `undo the last two`, `undo the crack`. */
import { bare } from "./bare-words.js";
import type { ReadingContext } from "./context.js";
import { type Ledger, open } from "./ledger.js";
import { type Fig, means, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";
import { namedToUndo, undoneIn } from "./undo-words.js";

/**
 * What is left to read of a clause once its undo is in the ledger: all of it if nothing is taken back, nothing if that
 * was all. `not known`: an entry is named that is not the last one. `typed`: the words of the clause.
 */
export function takenBack(
  clause: readonly Part[],
  typed: string,
  ledger: Ledger,
  context: ReadingContext,
  sentence: Sentence,
): readonly Part[] | "not known" {
  const kind = namedToUndo(typed);
  // `scratch that heat six nine ten`: taken back, and then another heat.
  const heat = clause.findIndex((part) => means(part, "kind") === "heat");
  const told =
    clause[heat + 1]?.type === "number of heat" &&
    clause.slice(heat + 2, heat + 4).some((part) => part.type === "figure");
  if (kind === "heat" && told) {
    open(ledger, { kind: "undo" });
    ledger.trace.push("rule: taken back, another heat");
    return clause.slice(heat);
  }
  if (kind !== undefined) {
    // Only the last message can be taken back by name; another entry is put right, not guessed at.
    const last = context.last ?? [];
    if (last.length === 0 || last.some((fact) => fact.kind !== kind) || /\d/.test(typed))
      return "not known";
    open(ledger, { kind: "undo" });
    ledger.trace.push(`rule: the ${kind} just said is taken back`);
    return [];
  }
  const undone = undoneIn(typed);
  if (undone) {
    open(ledger, { kind: "undo", ...(undone.count !== undefined && { count: undone.count }) });
    ledger.trace.push("rule: taken back");
    const end = (sentence.tokens[clause[0]?.from ?? 0]?.start ?? 0) + undone.length;
    const rest = clause.filter((part) => (sentence.tokens[part.from]?.start ?? 0) >= end);
    return rest.every(bare) ? [] : rest;
  }
  const undo = clause.findIndex((part) => means(part, "say") === "undo");
  if (undo < 0) return clause;
  const after = clause.slice(undo + 1);
  const count = after.find(
    (part): part is Fig =>
      part.type === "figure" &&
      part.dimension === undefined &&
      part.q.whole &&
      part.label === undefined &&
      part.chain === undefined &&
      part.value <= MOST_UNDONE,
  );
  const rest = after.filter((part) => part !== count);
  const simple = rest.every(
    (part) =>
      bare(part) ||
      (part.type === "mark" && /^(entries|messages|ones|steps|things)$/.test(part.words)) ||
      part.type === "unknown",
  );
  open(ledger, { kind: "undo", ...(count && simple && { count: count.value }) });
  ledger.trace.push("rule: undo");
  return simple ? [] : after;
}

/** More than this is no count of things to take back. Common practice, no source; 20 to 100. */
const MOST_UNDONE = 50;
