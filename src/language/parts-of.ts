/** Sixth step: the row of items with figures joined, labelled and made rough. */
import type { Item } from "./items.js";
import { labelled, roughly } from "./part-labels.js";
import { joined, listed, renewed } from "./part-lists.js";
import type { Fig, Part } from "./parts.js";

const SIZES = /^(thickness|width|length|height|diameter)Mm$/;
/** `three quarters thick, one and a quarter wide, seven long`: beside fractions, which are inches, a small bare figure is inches too. */
function inchesShared(parts: readonly Part[]): void {
  const sizes = parts.filter(
    (part): part is Fig =>
      part.type === "figure" && part.dimension === undefined && SIZES.test(part.label ?? ""),
  );
  if (sizes.filter((fig) => fig.inches).length < 2) return;
  for (const fig of sizes) if (fig.value < LARGEST_IN) fig.inches = true;
}
/** Pieces of this trade are shorter, inches. Common practice, no source; 12 to 30. */
const LARGEST_IN = 25;

/** The whole step. */
export function partsOf(items: readonly Item[]): Part[] {
  const ingotTalk = items.some(
    (item) =>
      item.type === "mark" &&
      (item.means.includes("kind:ingot") ||
        item.means.some((one) => one.startsWith("ingotshape:") && one !== "ingotshape:bowl")),
  );
  const parts = labelled(renewed(joined(items)), ingotTalk);
  inchesShared(parts);
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
