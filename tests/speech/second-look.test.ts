/** Figures that sound alike, weighed by what the shop knows. */
import { expect, test } from "vitest";
import type { ReadingContext } from "../../src/language/index.js";
import { lookAgain } from "../../src/speech/second-look.js";
import { soundDistance } from "../../src/speech/sound-alike.js";
import { togetherLog } from "../../src/speech/together.js";

const PHONES: Readonly<Record<string, string>> = {
  fifteen: "F IH F T IY N",
  fifty: "F IH F T IY",
  one: "W AH N",
  two: "T UW",
  three: "TH R IY",
  four: "F AO R",
  five: "F AY V",
  six: "S IH K S",
  seven: "S EH V AH N",
  eight: "EY T",
  nine: "N AY N",
  ten: "T EH N",
  eleven: "IH L EH V AH N",
  twelve: "T W EH L V",
  thirteen: "TH ER T IY N",
  fourteen: "F AO R T IY N",
  sixteen: "S IH K S T IY N",
  seventeen: "S EH V AH N T IY N",
  eighteen: "EY T IY N",
  nineteen: "N AY N T IY N",
  twenty: "T W EH N T IY",
  thirty: "TH ER D IY",
  forty: "F AO R T IY",
  sixty: "S IH K S T IY",
  seventy: "S EH V AH N T IY",
  eighty: "EY T IY",
  ninety: "N AY N T IY",
  hundred: "HH AH N D R AH D",
  and: "AH N D",
};
const phones = (word: string): readonly string[] =>
  PHONES[word]?.split(" ") ?? [word.toUpperCase()];
/** 15 × 30 × 100 mm of steel: 351 g. */
const known: ReadingContext = {
  now: "2026-03-05T10:00:00Z",
  timezone: "UTC",
  units: "mm",
  ingot: {
    heats: 3,
    massG: 351,
    piece: { shape: "bar", thicknessMm: 18, widthMm: 30, lengthMm: 83 },
  },
};

test("fifteen and fifty are near, fifteen and eight are far", () => {
  const apart = (a: string, b: string): number => soundDistance(phones(a), phones(b), 9);
  expect(apart("fifteen", "fifteen")).toBe(0);
  expect(apart("fifteen", "fifty")).toBeLessThan(1);
  expect(apart("fifteen", "eight")).toBeGreaterThan(2.5);
  expect(soundDistance(phones("fifteen"), phones("eight"), 1)).toBe(1);
});

test("steel keeps its volume: three sizes against the weight", () => {
  const fits = togetherLog({ thick: 15, wide: 30, long: 100 }, known);
  expect(fits).toBeGreaterThan(togetherLog({ thick: 15, wide: 30, long: 130 }, known) + 1);
  expect(fits).toBeGreaterThan(togetherLog({ thick: 50, wide: 30, long: 100 }, known) + 1);
});

test("of fifteen and fifty the one that the steel allows comes first", () => {
  const words = "fifty by thirty by one hundred".split(" ");
  const figures = [
    { kind: "thick", from: 0, to: 1 },
    { kind: "wide", from: 2, to: 3 },
    { kind: "long", from: 4, to: 6 },
  ] as const;
  const found = lookAgain(known, phones)(words, figures);
  expect(found[0]?.values).toEqual([15, 30, 100]);
  expect(found[0]?.words.join(" ")).toMatch(/^fifteen by thirty by/);
});
