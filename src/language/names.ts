/** Names of ingots, as typed, without `the`, `ingot`, `number`, `no` and `#`. */
import { means, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";

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
  while (
    parts[i]?.type === "mark" &&
    /^(called|named|name|name is|name it|number|no\.|nr|is called|call|no)$/.test(
      (parts[i] as { words: string }).words,
    )
  ) {
    called = called || /call|name/.test((parts[i] as { words: string }).words);
    i += 1;
  }
  if (
    parts[i]?.type === "stop" &&
    parts[i]?.type === "stop" &&
    (parts[i] as { sign: string }).sign === "." &&
    called
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
    const ends =
      next === undefined ||
      next.type === "stop" ||
      next.type === "figure" ||
      next.type === "time" ||
      means(next, "ingotshape") !== undefined ||
      next.type === "mark";
    return ends ? { name: cleanName(sentence.raw(part.from, part.to)), parts: [part] } : undefined;
  }
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
    )
      return undefined;
    if (part.type === "figure" && part.chain !== undefined && i > at + 1) break;
    const kind = means(part, "kind");
    if (kind !== undefined && kind !== "ingot") break;
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
