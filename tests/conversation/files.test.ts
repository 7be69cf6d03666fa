/** Files asked for in the chat: which words ask, and what the reply then carries. */
import { expect, test } from "vitest";
import { fileAsked } from "../../src/conversation/file-asked.js";
import { Talk } from "./talk.js";

test.each([
  ["picture of Rook", "card", "png", "Rook"],
  ["Send me the card", "card", "png", undefined],
  ["/card", "card", "png", undefined],
  ["card Rook.", "card", "png", "Rook"],
  ["Rook's card", "card", "png", "Rook"],
  ["can you send me a picture of ingot 7?", "card", "png", "7"],
  ["print the card", "card", "page", undefined],
  ["/sheet", "day", "png", undefined],
  ["picture of the day", "day", "png", undefined],
  ["print the day sheet", "day", "page", undefined],
  ["/export", "export", "csv", undefined],
  ["send me the export as json", "export", "json", undefined],
])("%s asks for a file", (words, kind, as, ingot) => {
  const asked = fileAsked(words);
  expect(asked).toMatchObject({ kind, as });
  expect(asked?.question?.ingot).toBe(ingot);
});

test.each([
  "drawing out",
  "drawing down to 22",
  "heat 4 at 950",
  "sheet metal test",
  "took a picture",
  "page 3 is torn",
  "pictures",
  "next",
])("%s asks for none", (words) => {
  expect(fileAsked(words)).toBeUndefined();
});

test("the card goes out with the words under it, for the ingot that was named", async () => {
  const talk = await Talk.start();
  await talk.say("new ingot Rook 64 across 30 high 450 g");
  await talk.say("new ingot Wren 60 across 28 high 400 g");
  const lines = await talk.say("picture of Rook");
  expect(lines[0]).toMatch(/^INGOT Rook/);
  const rook = (await talk.store.findIngot("chat", "Rook"))?.ingotId;
  expect(talk.last?.body.attach).toEqual({ kind: "card", id: rook, as: "png" });
});

test("the card goes out by itself when a blade is done, and not with any other report", async () => {
  const talk = await Talk.start();
  await talk.say("new ingot Rook 64 across 30 high 450 g");
  await talk.say("heat 1 at 900");
  expect(talk.last?.body.attach).toBeUndefined();
  await talk.say("blade done 150 by 28 by 3.5, 160 g");
  expect(talk.last?.body.attach?.kind).toBe("card");
});

test("no file goes out for an ingot that is not there", async () => {
  const talk = await Talk.start();
  const lines = await talk.say("picture of Rook");
  expect(lines[0]).toMatch(/No ingot called Rook/);
  expect(talk.last?.body.attach).toBeUndefined();
});

test("the sheet is of the shop's own day, the export in the form asked", async () => {
  const talk = await Talk.start({ at: "2026-05-12T22:30:00.000Z" });
  await talk.say("heat 1 at 900");
  await talk.say("/sheet");
  // 22:30 in UTC is past midnight in Berlin.
  expect(talk.last?.body.attach).toEqual({ kind: "day", id: "2026-05-13", as: "png" });
  await talk.say("/export json");
  expect(talk.last?.body.attach).toEqual({ kind: "export", as: "json" });
});
