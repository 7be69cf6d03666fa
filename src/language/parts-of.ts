/** Sixth step: the row of items with figures joined, labelled and made rough. */
import type { Item } from "./items.js";
import { labelled, roughly } from "./part-labels.js";
import { joined, listed, renewed } from "./part-lists.js";
import type { Part } from "./parts.js";

/** The whole step. */
export function partsOf(items: readonly Item[]): Part[] {
  const ingotTalk = items.some(
    (item) =>
      item.type === "mark" &&
      (item.means.includes("kind:ingot") ||
        item.means.some((one) => one.startsWith("ingotshape:") && one !== "ingotshape:bowl")),
  );
  const parts = labelled(renewed(joined(items)), ingotTalk);
  roughly(parts);
  listed(parts);
  for (let i = 1; i < parts.length; i += 1) {
    const part = parts[i];
    const before = parts[i - 1];
    if (part?.type === "figure" && before?.type === "mark" && /(^| )to$/.test(before.words))
      part.target = true;
  }
  return parts;
}
