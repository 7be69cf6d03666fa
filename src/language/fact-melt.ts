/** Melts and new ingots: the words that begin them, cooling, names. */
import { type FactReader, fresh, understood } from "./fact-reader.js";
import { type Body, put } from "./ledger.js";
import { nameAfter } from "./names.js";
import { type Mark, means } from "./parts.js";

export function meltMark(r: FactReader, part: Mark, i: number): void {
  const { ledger, parts } = r;
  const frame = ledger.frame;
  if (frame?.kind === "ingot" && part.words === "melt") return;
  const melt =
    frame?.kind === "melt"
      ? frame
      : (ledger.bodies.find((body) => body.kind === "melt") ?? fresh(r, { kind: "melt" }));
  ledger.frame = melt;
  ledger.soft = false;
  if (/charge/.test(part.words)) ledger.meltMode = "charge";
  let after = i + 1;
  while (
    parts[after]?.type === "mark" &&
    /^(was|is|number|no|no\.|nr)$/.test((parts[after] as Mark).words)
  )
    after += 1;
  const next = parts[after];
  if (
    part.words === "melt" &&
    next?.type === "figure" &&
    next.dimension === undefined &&
    next.q.whole &&
    next.label === undefined &&
    next.chain === undefined
  )
    put(ledger, melt, "number", next.value, next);
  return;
}

/** A capital that only begins a sentence goes. */
const uncapped = (words: string): string =>
  /^\p{Lu}\p{Ll}+$/u.test(words) ? words.toLowerCase() : words;

export function cooling(r: FactReader, i: number, melt: Body): void {
  const { ledger, parts, sentence } = r;
  const from = parts[i]?.to ?? 0;
  let to = from;
  for (let k = i + 1; k < parts.length; k += 1) {
    const part = parts[k];
    if (
      !part ||
      part.type === "stop" ||
      part.type === "figure" ||
      means(part, "noun") === "ingotG" ||
      (part.type === "mark" && part.words === "melt") ||
      means(part, "kind") === "ingot"
    )
      break;
    if (part.type === "mark" && /^(and|then)\b/.test(part.words)) break;
    to = part.to;
    if (part.type === "unknown" || part.type === "mark") understood.add(part);
  }
  const said = sentence.raw(from, to);
  const words = /^(an?|the|and)$/i.test(said) ? "" : said;
  if (words !== "") put(ledger, melt, "cooling", words);
  else {
    const before = parts[i - 1];
    if (
      before &&
      (before.type === "unknown" || before.type === "mark") &&
      means(before, "kind") === undefined
    ) {
      put(ledger, melt, "cooling", uncapped(sentence.raw(before.from, before.to)));
      understood.add(before);
    }
  }
}

export function ingotMark(r: FactReader, i: number): void {
  const { ledger, parts, sentence } = r;
  const frame = ledger.frame;
  const lead = parts.slice(Math.max(0, i - 3), i);
  // `this ingot runs 5/8 deep`: no name follows.
  const pointed = lead.some(
    (one) => one.type === "mark" && /^(this|that|this here|my|our)$/.test(one.words),
  );
  const named = nameAfter(parts, i, sentence);
  const name = pointed && named && /^[a-z']+$/.test(named.name) ? undefined : named;
  const isNew =
    /\b(new|fresh)\b|\bnewingot\b/.test(sentence.lower(parts[0]?.from ?? 0, parts[i]?.to ?? 0)) ||
    parts.slice(0, i).some((one) => means(one, "ingotshape") !== undefined);
  if (
    frame?.kind === "melt" &&
    /ingot out|result/.test(sentence.lower(parts[i]?.from ?? 0, (parts[i]?.to ?? 0) + 1))
  )
    return;
  const body = frame?.kind === "ingot" ? frame : fresh(r, { kind: "ingot" });
  if (isNew) body.isNew = true;
  for (const one of parts.slice(0, i))
    if (means(one, "ingotshape") !== undefined) body.shape = means(one, "ingotshape");
  if (name) {
    body.name = name.name;
    for (const one of name.parts) {
      understood.add(one);
      if (one.type === "figure") one.used = true;
    }
  }
  ledger.touched += 1;
}
