/** Names of ingots, as typed, without `the`, `ingot`, `number`, `no` and `#`. */
import type { ReadingContext } from "./context.js";
import { means, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";
import { edits, isTradeWord } from "./spelling.js";

const MOST_WORDS = 4;
const DROP = /^(the|a|ingot|number|no|nr|bar number|ingot number)$/;

/** `#7` or `the small one` → `7`, `small one`. */
export function cleanName(raw: string): string {
  const words = raw
    .replace(/[#"'.,;:!?()]/g, " ")
    .trim()
    .split(/\s+/);
  while (words.length > 1 && DROP.test((words[0] ?? "").toLowerCase())) words.shift();
  return words.join(" ");
}

/** The name that follows the word `ingot`, if one does: a word, or a number that is no size. */
export function nameAfter(
  parts: readonly Part[],
  at: number,
  sentence: Sentence,
): { name: string; parts: readonly Part[] } | undefined {
  let i = at + 1;
  let called = false;
  let numbered = false;
  while (
    parts[i]?.type === "mark" &&
    /^(called|named|name|name is|name it|number|no\.|nr|is called|call|no)$/.test(
      (parts[i] as { words: string }).words,
    )
  ) {
    numbered = /^(no|nr|number)\.?$/.test((parts[i] as { words: string }).words);
    called = called || /call|name/.test((parts[i] as { words: string }).words);
    i += 1;
  }
  if (
    parts[i]?.type === "stop" &&
    parts[i]?.type === "stop" &&
    (parts[i] as { sign: string }).sign === "." &&
    (called || numbered)
  )
    i += 1;
  const part = parts[i];
  if (!part) return undefined;
  if (part.type === "figure") {
    const next = parts[i + 1];
    const bare =
      part.dimension === undefined &&
      part.q.whole &&
      part.chain === undefined &&
      part.label === undefined &&
      !part.approx &&
      part.value < 1000;
    if (!bare) return undefined;
    // `cone ingot 60 top 44 bottom`, `new ingot 66 28 bowl`: sizes, no name.
    const sized =
      (next?.type === "mark" && /^(at |on )?(the )?(top|bottom|base|foot)$/.test(next.words)) ||
      (next?.type === "figure" &&
        next.dimension === undefined &&
        next.label === undefined &&
        next.chain === undefined &&
        part.value >= 30);
    if (sized) return undefined;
    const ends =
      next === undefined ||
      next.type === "stop" ||
      next.type === "figure" ||
      next.type === "time" ||
      means(next, "ingotshape") !== undefined ||
      next.type === "mark";
    return ends ? { name: cleanName(sentence.raw(part.from, part.to)), parts: [part] } : undefined;
  }
  // A figure below nothing is no name either.
  if (/^-\d/.test(sentence.raw(part.from, part.to))) return undefined;
  if (part.type === "unknown" || (called && part.type === "mark")) {
    const second = parts[i + 1];
    const two = second?.type === "unknown" ? [part, second] : [part];
    const end = two[two.length - 1] ?? part;
    return { name: cleanName(sentence.raw(part.from, end.to)), parts: two };
  }
  return undefined;
}

/** Everything up to the next fact, as a name: after `back to`, `switch to` … */
export function nameUntilFact(
  parts: readonly Part[],
  at: number,
  sentence: Sentence,
): { name: string; next: number } | undefined {
  let i = at;
  while (i < parts.length) {
    const part = parts[i];
    // A number is the whole name: `ingot 12 | I did heat 5`.
    const numbered = parts[i - 1];
    if (
      i > at &&
      numbered?.type === "figure" &&
      numbered.q.whole &&
      numbered.chain === undefined &&
      part?.type === "mark" &&
      means(part, "kind") === undefined
    )
      break;
    if (
      !part ||
      part.type === "stop" ||
      part.type === "time" ||
      part.type === "number of heat" ||
      part.type === "colour"
    )
      break;
    if (
      part.type === "figure" &&
      !(part.q.spoken && part.value === 1) &&
      (part.dimension !== undefined || part.inches || part.label !== undefined || part.value >= 500)
    ) {
      if (i > at && parts[i - 1]?.type !== "figure") break;
      return undefined;
    }
    if (part.type === "figure" && part.chain !== undefined && i > at + 1) break;
    if (part.type === "figure" && part.q.ordinal && i > at) break;
    const kind = means(part, "kind");
    const named = parts[i + 1];
    const cracked =
      kind === "crack" && named?.type === "mark" && /^(one|bar|ingot|piece)\b/.test(named.words);
    if (kind !== undefined && kind !== "ingot" && !cracked) break;
    if (i > at && part.type === "mark" && /^(and|then|so)\b/.test(part.words)) break;
    if (
      means(part, "op") !== undefined ||
      means(part, "removal") !== undefined ||
      means(part, "say") !== undefined ||
      means(part, "ask") !== undefined ||
      means(part, "about") !== undefined
    )
      break;
    i += 1;
  }
  const from = parts[at];
  const last = parts[i - 1];
  if (!from || !last || i === at) return undefined;
  const raw = sentence.raw(from.from, last.to);
  const name = cleanName(raw.replace(/\s+(again|now|please)$/i, ""));
  if (name === "" || name.split(/\s+/).length > MOST_WORDS || name.length > 40) return undefined;
  if (
    /^(work|it|heat|the|a|bed|home|normal|sleep|square one|mm|inches|inch|edge|with|you|me)$/i.test(
      name,
    )
  )
    return undefined;
  return { name, next: i };
}

const OTHER = /^(the )?(other|previous|last)( (one|bar|ingot|piece|blade|block|billet))?$/;
const LEAD = /^(now |and |ok |so |on |with |to |the |ingot |number |no |#)+/;
/** A slip in a name: one edit from four letters, two from seven, as in words of the trade. */
const editsIn = (name: string): number => (name.length >= 7 ? 2 : name.length >= 4 ? 1 : 0);

/** The open ingot that the words name, however typed; undefined if they name none or two alike. */
export function knownName(words: string, context: ReadingContext): string | undefined {
  const names = context.names ?? [];
  const said = words.toLowerCase().trim();
  const plain = said.replace(LEAD, "");
  const same = names.find((name) => [said, plain].includes(name.toLowerCase()));
  if (same !== undefined) return same;
  if (OTHER.test(said)) {
    if (context.previous !== undefined) return context.previous;
    const others = names.filter((name) => name !== context.ingot?.name);
    return names.length === 2 && others.length === 1 ? others[0] : undefined;
  }
  if (plain === "" || /\d/.test(plain)) return undefined;
  if (plain.split(/\s+/).every(isTradeWord)) return undefined;
  const near = names
    .map((name) => ({ name, apart: edits(plain, name.toLowerCase(), 2) }))
    .filter(({ name, apart }) => apart <= editsIn(name))
    .sort((a, b) => a.apart - b.apart);
  const [first, second] = near;
  return first && (second === undefined || first.apart < second.apart) ? first.name : undefined;
}

const LONGEST_LEAD = 5;

/** A known name that begins the clause: `Rook: heat 4 at 950`, `the small one, 22 by 36`. */
export function nameAhead(
  parts: readonly Part[],
  context: ReadingContext,
  sentence: Sentence,
): { name: string; next: number } | undefined {
  const first = parts[0];
  const last = parts[parts.length - 1];
  if (!first || !last || (context.names ?? []).length === 0) return undefined;
  const end = Math.min(last.to, first.from + LONGEST_LEAD);
  for (let to = end; to > first.from; to -= 1) {
    const next = parts.findIndex((part) => part.from >= to);
    const before = parts[next < 0 ? parts.length - 1 : next - 1];
    if (!before || before.to > to) continue;
    const words = sentence.lower(first.from, to);
    // A bare number or a word that means something else names an ingot only if it is all that is said.
    const alone = next < 0;
    if (!alone && (/^[\d.,/ ]+$/.test(words) || words.split(/\s+/).every(isTradeWord))) {
      if (!(context.names ?? []).some((name) => name.toLowerCase() === words.replace(LEAD, "")))
        continue;
      if (/^[\d.,/ ]+$/.test(words) && parts[next]?.type !== "stop") continue;
    }
    if (alone && /^[\d.,/ ]+$/.test(words)) return undefined;
    const name = knownName(words, context);
    if (name !== undefined) return { name, next: next < 0 ? parts.length : next };
  }
  return undefined;
}
