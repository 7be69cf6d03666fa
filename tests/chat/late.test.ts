/** Messages that arrive late and out of order land where they belong. */
import { expect, test } from "vitest";
import { createHandler } from "../../src/conversation/index.js";
import { openDesk } from "./desk.js";

const OPENING = "ingot bowl 64 by 30, 450 g";
const FORGING = [
  "heat 1 at 950, now 34 by 36 by 48",
  "heat 2 at 940, now 30 by 34 by 57",
  "crack 2 deep on the spine",
  "ground 5 g off",
  "heat 3 at 930, now 26 by 32 by 69",
  "heat 4 at 920, now 22 by 30 by 86",
];

/** What is known of the ingot, row by row in the order it happened, after this order of arrival. */
async function knownAfter(arrival: readonly number[]): Promise<unknown[]> {
  const desk = await openDesk();
  const handler = createHandler({ store: desk.store, newId: desk.newId, timezone: "UTC" });
  const start = Date.parse(desk.now());
  const say = async (text: string, minute: number): Promise<void> => {
    desk.pass(1000);
    await handler.handle({
      id: desk.newId(),
      sourceKey: `messenger:7:${minute}`,
      edge: "messenger",
      chatId: "7",
      smithId: "7",
      kind: "text",
      text,
      sentAt: new Date(start + minute * 60_000).toISOString(),
      receivedAt: desk.now(),
    });
  };
  await say(OPENING, 0);
  for (const index of arrival) await say(String(FORGING[index]), index + 1);
  const opened = (await desk.store.everything()).find(({ kind }) => kind === "ingot");
  const rows = await desk.store.ingotLog("7", String(opened?.ingotId));
  await desk.close();
  return rows
    .filter(({ takenBackBy }) => takenBackBy === undefined)
    .map(({ kind, at, fact }) => ({ kind, at, fact }));
}

test("the log of an ingot is the same in whichever order its messages came", async () => {
  const inOrder = await knownAfter([0, 1, 2, 3, 4, 5]);
  expect(inOrder.length).toBeGreaterThanOrEqual(10);
  for (const arrival of [
    [5, 4, 3, 2, 1, 0],
    [1, 0, 3, 2, 5, 4],
    [2, 5, 0, 4, 1, 3],
  ]) {
    expect(await knownAfter(arrival), arrival.join()).toEqual(inOrder);
  }
});
