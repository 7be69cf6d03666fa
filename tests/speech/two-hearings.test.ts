/** What two hearings of one note come to, without any sound. */
import { describe, expect, test } from "vitest";
import { isForTheLog, isOpen } from "../../src/speech/certainty.js";
import { overFloor } from "../../src/speech/floor.js";
import { levelsDb, loudDb } from "../../src/speech/sounding.js";
import { type Hearing, ofOne, ofTwo, wantsAnother } from "../../src/speech/two-hearings.js";
import { seeded } from "./corpus/seeded.js";

const heard = (changes: Partial<Hearing> = {}): Hearing => ({
  text: "ground off thirty grams",
  figures: [30],
  other: "ground off thirteen grams",
  margin: 600,
  fit: 8,
  alone: false,
  forLog: true,
  asked: false,
  lead: undefined,
  ...changes,
});
const thirteen = { text: "ground off thirteen grams", figures: [13] };

describe("who is heard again", () => {
  test.each([
    ["a note that fits and is far ahead", {}, 20, false],
    ["a note that fits poorly", {}, 7, true],
    ["a note that fits well enough", {}, 9, false],
    ["clearly talk", { forLog: false, lead: -9 }, 3, false],
    ["talk that plain talk is not far ahead of", { forLog: false, lead: -5 }, 3, true],
    ["a refused note that fits well: words do not fill it", { forLog: false }, 9, false],
    ["an answer that is asked about anyway", { asked: true, alone: true, margin: 400 }, 3, false],
    ["a soft note that is asked about, but may be refused", { margin: 100 }, 3, true],
    ["a note that is not far ahead", { margin: 400 }, 20, true],
    ["a note that is asked about anyway", { margin: 100 }, 20, false],
    ["a note with no other figure near", { other: undefined, margin: 0 }, 20, true],
    ["a refused one", { forLog: false }, -3, true],
    ["a hopeless one", { forLog: false }, -20, false],
  ])("%s", (_, changes, fit, again) => {
    expect(wantsAnother(heard({ ...changes, fit }))).toBe(again);
  });
});

describe("agreement keeps", () => {
  test("the same figures in both are kept unasked", () => {
    expect(ofTwo(heard(), heard({ fit: 7 }))).toMatchObject({ doubtful: false });
  });
  test("what the first ears refused is kept when the second follow it with the same figures", () => {
    const second = heard({ fit: 6 });
    expect(ofTwo(heard({ forLog: false, fit: -3 }), second)).toEqual({
      heard: second,
      other: second.other,
      doubtful: false,
    });
  });
  test("words that fit much better are taken from the second ears, figures being the same", () => {
    const second = heard({ text: "filed off thirty grams", fit: 14 });
    expect(ofTwo(heard(), second)?.heard).toBe(second);
    expect(ofTwo(heard(), { ...second, fit: 9 })?.heard.text).toBe(heard().text);
  });
  test("a near figure is asked about, agreed or not", () => {
    for (const second of [heard({ margin: 100, fit: 7 }), heard({ fit: 20 })])
      expect(ofTwo(heard({ margin: 100 }), second)).toMatchObject({
        doubtful: true,
        other: heard().other,
      });
  });
});

describe("disagreement asks", () => {
  test("a figure that differs is put to the smith with both sentences", () => {
    expect(ofTwo(heard(), heard({ ...thirteen, fit: 7 }))).toMatchObject({
      heard: { figures: [30] },
      other: thirteen.text,
      doubtful: true,
    });
  });
  test("the sentence that fits much better comes first", () => {
    expect(ofTwo(heard(), heard({ ...thirteen, fit: 15 }))).toMatchObject({
      heard: { figures: [13] },
      other: heard().text,
      doubtful: true,
    });
  });
  test("a figure more is a figure that differs", () => {
    expect(ofTwo(heard(), heard({ figures: [30, 4], fit: 7 }))?.doubtful).toBe(true);
  });
});

describe("refused", () => {
  const refused = heard({ forLog: false, fit: -3 });
  test("what both refuse, same figures or not", () => {
    expect(ofTwo(refused, refused)).toBeUndefined();
    expect(ofTwo(refused, heard({ ...thirteen, forLog: false }))).toBeUndefined();
  });
  test("other figures that fit only the second ears, and those poorly", () => {
    expect(ofTwo(refused, heard({ ...thirteen, fit: 1 }))).toBeUndefined();
    expect(ofTwo(refused, heard({ ...thirteen, fit: 6 }))).toMatchObject({ doubtful: true });
  });
  test("what only the first ears can follow, and those poorly", () => {
    expect(ofTwo(heard({ fit: 3 }), undefined)).toBeUndefined();
    expect(ofTwo(heard({ fit: 9 }), undefined)).toEqual(ofOne(heard({ fit: 9 })));
    expect(
      ofTwo(heard({ fit: 3 }), heard({ ...thirteen, forLog: false, fit: -2 })),
    ).toBeUndefined();
  });
});

describe("a figure that was asked for may fit poorly", () => {
  const answer = heard({ text: "three oh nine", figures: [309], asked: true, fit: -4 });
  test("it is kept where the second ears find nothing", () => {
    expect(ofTwo(answer, undefined)).toEqual(ofOne(answer));
  });
  test("it is asked about where the second ears hear another and do not follow it", () => {
    const second = heard({ ...thirteen, forLog: false, fit: -11 });
    expect(ofTwo(answer, second)).toMatchObject({
      heard: { figures: [309] },
      other: thirteen.text,
      doubtful: true,
    });
  });
  test("poorer still, it is asked about with the figure next to it", () => {
    const poor = { ...answer, fit: -10, other: "three oh eight" };
    expect(wantsAnother(poor)).toBe(false);
    expect(ofOne(poor)).toMatchObject({ other: "three oh eight", doubtful: true });
  });
  test("what stands beside it is a figure, not a sentence", () => {
    const talk = heard({ text: "the eighth heat", figures: [8], forLog: false, fit: -11 });
    expect(ofTwo({ ...answer, other: "three oh eight" }, talk)?.other).toBe("three oh eight");
  });
  test("what no ears follow is refused all the same", () => {
    expect(ofTwo({ ...answer, forLog: false }, undefined)).toBeUndefined();
    expect(ofTwo({ ...answer, forLog: false }, { ...answer, forLog: false })).toBeUndefined();
  });
});

describe("for the log, weighed against plain talk", () => {
  const note = { fit: 2, covered: 1.2, words: 4, lead: 3, asked: false, rival: true };
  test.each([
    ["a note", {}, true],
    ["a note heard softly, far ahead of plain talk", { fit: -5 }, true],
    ["talk that fits the grammar, and plain talk much better", { fit: 7, lead: -12 }, false],
    ["behind in both", { fit: -5, lead: -3 }, false],
    ["words that do not fill the sound", { covered: 0.7 }, false],
    ["one word alone that fits poorly", { words: 1 }, false],
    ["a figure that was asked for", { fit: -5, lead: undefined, asked: true }, true],
    ["an answer that fits poorly", { fit: -10, lead: undefined, asked: true }, true],
    ["the same with no figure beside it", { fit: -10, asked: true, rival: false }, false],
    ["an answer that fits worse than poorly", { fit: -13, asked: true }, false],
    ["no plain talk found, the grammar behind bare phones", { fit: -1, lead: undefined }, false],
  ])("%s", (_, changes, is) => {
    expect(isForTheLog({ ...note, ...changes })).toBe(is);
  });
  test("only what could be either is weighed", () => {
    const open = (fit: number, asked = false): boolean =>
      isOpen({ fit, asked, covered: 1.2, words: 4 });
    expect(isOpen({ fit: 5, asked: false, covered: 0.7, words: 4 })).toBe(false);
    expect([open(-20), open(-5), open(5), open(25), open(5, true)]).toEqual([
      false,
      true,
      true,
      false,
      false,
    ]);
  });
});

test("the floor is faint, the same each time, and leaves a voice as it is", () => {
  const chance = seeded(3);
  const voice = Float32Array.from({ length: 16_000 }, (_, i) =>
    i < 8000 ? 0 : (chance() - 0.5) * 0.6,
  );
  const once = overFloor(voice, 16_000);
  expect(overFloor(voice, 16_000)).toEqual(once);
  const pause = loudDb(levelsDb(once.subarray(0, 8000), 16_000).levels);
  const loud = loudDb(levelsDb(voice, 16_000).levels);
  // Hand-set: 40 dB below, give or take the swing of a frame.
  expect(loud - pause).toBeGreaterThan(37);
  expect(loud - pause).toBeLessThan(42);
  expect(Math.max(...once.map((value, i) => Math.abs(value - (voice[i] ?? 0))))).toBeLessThan(0.01);
});
