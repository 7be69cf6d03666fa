/** A voice note that can be taken in two ways: asked about, or put right by one thumb. */
import { expect, test } from "vitest";
import { misheard, readWays, twoWays, waysOf } from "../../src/conversation/two-ways.js";
import { read } from "../../src/language/index.js";

const context = { now: "2026-03-05T10:00:00Z", timezone: "UTC", units: "mm" } as const;
const reading = (words: string) => read(words, context);
const FIFTEEN = "ground off fifteen grams";
const FIFTY = "ground off fifty grams";

test("both sentences stand in the text and come apart again", () => {
  expect(waysOf(twoWays(FIFTEEN, FIFTY, true))).toEqual({ text: FIFTEEN, other: FIFTY });
  expect(waysOf(twoWays(FIFTEEN, FIFTY, false))).toEqual({ text: FIFTEEN });
  expect(waysOf(FIFTEEN)).toEqual({ text: FIFTEEN });
});

test("in doubt nothing is kept: two buttons, each with its figure", () => {
  const { drafts, ask } = readWays(twoWays(FIFTEEN, FIFTY, true), reading);
  expect(drafts).toEqual([]);
  expect(ask?.about).toBe("heard");
  expect(ask?.choices.map(({ label }) => label)).toEqual(["off 15 grams", "off 50 grams"]);
  expect(ask?.choices.map(({ drafts: [draft] }) => draft?.body)).toMatchObject([
    { massG: 15 },
    { massG: 50 },
  ]);
});

test("two sentences that say the same are no question", () => {
  const found = readWays(twoWays("heat 4 at 950", "heat four at nine fifty", true), reading);
  expect(found.ask).toBeUndefined();
  expect(found.drafts).not.toEqual([]);
});

test("what was kept can be put right: taken back, and the other in its place", () => {
  const found = misheard(twoWays(FIFTEEN, FIFTY, false), reading);
  expect(found?.reading.drafts[0]?.body).toMatchObject({ massG: 15 });
  expect(found?.instead?.label).toBe("off 50 grams");
  expect(found?.instead?.drafts.map(({ body }) => body)).toMatchObject([
    { kind: "undo" },
    { massG: 50 },
  ]);
});
