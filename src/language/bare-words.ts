import type { Part } from "./parts.js";
import type { Sentence } from "./sentence.js";

export const trimmed = (text: string): string =>
  text.replace(/^[\s,.;:!?()\-–—/]+/, "").replace(/[\s,.;:!?()\-–—/]+$/, "");

export const isTalk = (part: Part): boolean =>
  part.type === "mark" && part.means.every((one) => one.startsWith("filler:") || one === "say:no");

export const bare = (part: Part): boolean =>
  part.type === "stop" ||
  part.type === "time" ||
  isTalk(part) ||
  (part.type === "mark" &&
    part.means.every((one) => one.startsWith("filler:") || one.startsWith("approx:")));

export function rawOf(clause: readonly Part[], sentence: Sentence): string {
  let start = 0;
  while (
    start < clause.length - 1 &&
    clause[start]?.type === "mark" &&
    clause[start] !== undefined &&
    /^(ok|okay|well|um|uh|er|erm|so|and|right|oh|then|yes|yeah|thanks|but|ah|hmm|hm|yep|great|alright|you know)$/.test(
      (clause[start] as { words: string }).words,
    )
  )
    start += 1;
  const first = clause[start];
  const last = clause[clause.length - 1];
  return first && last ? trimmed(sentence.raw(first.from, last.to)) : "";
}
