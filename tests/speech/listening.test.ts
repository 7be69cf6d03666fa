/** The whole way, with the room's own voice: said, encoded, heard again in a thread. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createEars, type Ears, speakNote } from "../../src/speech/index.js";
import { wavFile } from "../../src/speech/wav.js";
import { figuresIn } from "./corpus/score.js";
import { seeded } from "./corpus/seeded.js";

let ears: Ears;
beforeAll(async () => {
  ears = createEars();
  await ears.ready();
});
afterAll(() => ears.close());
const context = {
  now: "2026-03-05T10:00:00Z",
  timezone: "UTC",
  units: "mm",
  ingot: {
    heats: 3,
    massG: 1120,
    piece: { shape: "bar", thicknessMm: 25, widthMm: 36, lengthMm: 160 },
  },
} as const;

describe("what is said is heard", () => {
  test.each([
    [
      "heat four nine fifty, drew it to twenty two by thirty six by one eighty",
      [4, 950, 22, 36, 180],
    ],
    ["ground off thirty grams", [30]],
    ["crack four deep, on the spine", [4]],
  ])("%s", async (words, figures) => {
    const heard = await ears.hearBytes(await speakNote(words), context);
    expect(heard).toMatchObject({ kind: "words" });
    if (heard.kind !== "words") return;
    // `four nine fifty` reads as 4 and 950 only behind `heat`: here as a row of number words.
    expect(figuresIn(heard.text)).toEqual(figuresIn(words.replace(",", "")));
    expect(figures.length === 0 || heard.confidence > 0.5).toBe(true);
    expect(heard.words.map(({ word }) => word).join(" ")).toBe(heard.text);
  });
});

test("talk is refused", async () => {
  const note = await speakNote("could you pass me the other gloves please");
  expect(await ears.hearBytes(note, context)).toMatchObject({
    kind: "trouble",
    trouble: "not-for-the-log",
  });
});

test("noise alone is refused", async () => {
  const chance = seeded(1);
  const noise = Float32Array.from({ length: 48_000 }, () => (chance() - 0.5) * 0.2);
  expect(await ears.hearBytes(wavFile(noise, 48_000), context)).toMatchObject({ kind: "trouble" });
});

test("others never wait: the caller's thread goes on while a note is heard", async () => {
  const hearing = ears.hearBytes(
    await speakNote("heat four at nine hundred and fifty degrees"),
    context,
  );
  let longest = 0;
  let done = false;
  void hearing.then(() => {
    done = true;
  });
  while (!done) {
    const from = performance.now();
    await new Promise((resolve) => setTimeout(resolve, 5));
    longest = Math.max(longest, performance.now() - from);
  }
  expect((await hearing).kind).toBe("words");
  expect(longest).toBeLessThan(500);
});

test("the queue has an end, and says so at once", async () => {
  const few = createEars({ queue: 1 });
  const note = new Uint8Array([1, 2, 3]);
  const answers = await Promise.all([1, 2, 3].map(() => few.hearBytes(note)));
  expect(answers.filter((one) => one.kind === "trouble" && one.trouble === "busy")).toHaveLength(1);
  await few.close();
});

test("a missing file and a folder are one trouble", async () => {
  expect(await ears.hear("/nowhere/note.ogg")).toMatchObject({ trouble: "missing" });
  expect(await ears.hear("tests")).toMatchObject({ trouble: "missing" });
});
