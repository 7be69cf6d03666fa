/** A speaker who puts himself right in the middle of a sentence: what was given up goes, what stands is told once. */
import { describe, expect, it } from "vitest";
import { repaired } from "../../src/language/self-repair.js";
import { normalise } from "../../src/language/text.js";
import { tokenise } from "../../src/language/tokens.js";

const HINTS = { inchChat: false, holding: false, press: false } as const;
const told = (text: string): string =>
  repaired(tokenise(normalise(text)), HINTS)
    .tokens.map((token) => token.text)
    .join(" ");

describe("a figure told again", () => {
  it.each([
    ["heat 2 at 950, no, 960", "heat 2 at 960"],
    ["heat two at nine fifty um no nine sixty", "heat two at nine sixty"],
    ["24 by, no, 22 by 36", "22 by 36"],
    ["22 by 36, sorry, 38 by 180", "22 by 38 by 180"],
    ["22 by 36 by 180, no, 23 by 37 by 182", "23 by 37 by 182"],
    ["ground 1.5 off the face, no, what am I saying, 2.5 off the face", "ground 2.5 off the face"],
    ["22 wide, no, 24", "24 wide"],
    ["lasted eight minutes, um, nine minutes I mean", "lasted nine minutes"],
    ["used to be 25 thick, 22 now", "22 thick now"],
  ])("%s", (text, want) => expect(told(text)).toBe(want));
});

describe("a word told again", () => {
  it.each([
    ["crack on the spine, no, the edge", "crack on the edge"],
    ["dull orange no sorry bright orange", "bright orange"],
    ["melt 16, sorry, melt 17", "melt 17"],
    ["back to brook, no, I mean back to rook", "back to rook"],
    ["small crack, no, a nasty crack on the rim", "nasty crack on the rim"],
  ])("%s", (text, want) => expect(told(text)).toBe(want));
});

describe("nothing is dropped", () => {
  it.each([
    "heat 9 890, no cracks, 15 x 33 x 250",
    "heat no 6 at 950",
    "no, 38 not 83",
    "crack on the spine and the edge",
    "22 wide, 36 g off",
    "i said 24 thick, i meant 25",
    "i said edge, i meant spine",
    "it is 1.6, sorry, not 1.5",
    "at 10:40, no 10 min later",
  ])("%s", (text) => {
    const tokens = tokenise(normalise(text));
    expect(repaired(tokens, HINTS).dropped).toEqual([]);
  });
});
