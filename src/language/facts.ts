/** Seventh step, for the clauses that tell of steel: marks open frames (heat, crack, removal, ingot, …), figures go to the
 * open frame if it takes them, else to the size, the weight or the heat. One file a kind of frame: `fact-….ts`. */
import type { ReadingContext } from "./context.js";
import { takeFigure } from "./fact-figure.js";
import { takeMark } from "./fact-mark.js";
import { type FactReader, type Talk, understood } from "./fact-reader.js";
import { heatsOf, type Ledger, newHeat, put } from "./ledger.js";
import { type Mark, means, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";

/** Reads one clause into the ledger. */
export function readFacts(
  parts: readonly Part[],
  ledger: Ledger,
  context: ReadingContext,
  talk: Talk,
  sentence: Sentence,
  all: readonly Part[] = parts,
): void {
  const r: FactReader = {
    parts,
    all,
    ledger,
    context,
    talk,
    sentence,
    disc: parts.some((part) => means(part, "shape") === "disc"),
    direction: undefined,
    place: undefined,
    severity: undefined,
    justHeat: false,
  };
  for (let i = 0; i < parts.length; i += 1) {
    const part = parts[i];
    if (!part) continue;
    if (part.type === "time") {
      ledger.at = part.at;
      continue;
    }
    if (part.type === "colour") {
      const next = parts[i + 1];
      const heats = heatsOf(ledger);
      const words = sentence.raw(part.from, part.to);
      for (const heat of heats) put(ledger, heat, "colour", words);
      ledger.trace.push(`colour: ${words}${means(next, "kind") === "heat" ? " heat" : ""}`);
      continue;
    }
    if (part.type === "number of heat") {
      const heats = ledger.heats;
      const first = heats[0];
      const { chain } = ledger;
      // `drew and straightened, h16`: of operations in a row the first has the number.
      if (chain && chain.number === undefined && first?.number === undefined)
        put(ledger, chain, "number", part.number);
      else if (first && first.number === undefined) put(ledger, first, "number", part.number);
      else {
        const group = [...heats];
        const heat = newHeat(ledger, true);
        heat.number = part.number;
        if (parts[i - 1]?.type === "number of heat") ledger.heats = [...group, heat];
      }
      r.justHeat = true;
      continue;
    }
    if (part.type === "figure") {
      if (part.used) continue;
      takeFigure(r, part, i);
      if (part.used) r.justHeat = false;
      continue;
    }
    if (part.type === "unknown" && namesIngot(r, i)) continue;
    if (part.type !== "mark" || understood.has(part)) continue;
    takeMark(r, part, i);
  }
}

/** `new ingot, Moth, cone`, `I call it Luna`, `name of Possum`: a strange word where the name is missing. */
function namesIngot(r: FactReader, i: number): boolean {
  const { ledger, parts, sentence } = r;
  const { frame } = ledger;
  const part = parts[i];
  if (!part || frame?.kind !== "ingot" || frame.name !== undefined) return false;
  const before = parts[i - 1];
  const called =
    before?.type === "mark" &&
    /(^| )(name|names|called|named|call)( it| of| is)?$|^of$/.test(before.words) &&
    (before.words !== "of" ||
      (parts[i - 2]?.type === "mark" && /name/.test((parts[i - 2] as Mark).words)));
  const alone = frame.isNew === true && parts.every((one) => one === part || one.type === "stop");
  if (!called && !alone) return false;
  frame.name = sentence.raw(part.from, part.to);
  understood.add(part);
  ledger.touched += 1;
  return true;
}

export { type Talk, understood } from "./fact-reader.js";
