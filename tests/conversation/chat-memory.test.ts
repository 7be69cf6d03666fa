/** Two processes on one log: neither answers with what it knew before the other wrote. */
import { afterEach, beforeEach, expect, test } from "vitest";
import { createHandler, type Handler } from "../../src/conversation/index.js";
import { type Desk, openDesk } from "../chat/desk.js";

let desk: Desk;
let one: Handler;
let other: Handler;
let count = 0;
beforeEach(async () => {
  desk = await openDesk();
  const handler = (): Handler =>
    createHandler({ store: desk.store, newId: desk.newId, timezone: "UTC" });
  one = handler();
  other = handler();
});
afterEach(() => desk.close());

async function say(handler: Handler, text: string): Promise<string> {
  desk.pass(60_000);
  count += 1;
  await handler.handle({
    id: desk.newId(),
    sourceKey: `terminal:anvil:${count}`,
    edge: "terminal",
    chatId: "anvil",
    smithId: "odo",
    kind: "text",
    text,
    sentAt: desk.now(),
    receivedAt: desk.now(),
  });
  const replies = await desk.store.unsent(10, "anvil");
  for (const reply of replies) await desk.store.markSent(reply.id, desk.now());
  return replies.flatMap(({ body }) => body.lines.map((line) => line.text)).join("\n");
}

/** The same talk by one process alone, in a log of its own. */
async function alone(words: readonly string[]): Promise<readonly string[]> {
  const own = await openDesk();
  const before = desk;
  desk = own;
  try {
    const handler = createHandler({ store: own.store, newId: own.newId, timezone: "UTC" });
    const answers: string[] = [];
    for (const text of words) answers.push(await say(handler, text));
    return answers;
  } finally {
    desk = before;
    await own.close();
  }
}

const TALK = [
  "melt 3, 450 g iron, 7 g charcoal",
  "new ingot from melt 3, puck 60 by 25, 450 g",
  "goal 150 by 28 single edge",
  "heat 1 at 950, drew it to 22 by 36 by 70",
  "charge for 500 g at 1.6 carbon",
  "now 440 g",
  "melt 4, 500 g iron, 9 g charcoal",
  "finished, blade 140 long, 210 g",
  "new ingot from melt 4, puck 62 by 24, 500 g",
  "goal 150 by 28 single edge",
  "next",
  "no, melt 4 was 520 g",
  "next",
];

test("two processes that take turns answer as one alone does", async () => {
  const expected = await alone(TALK);
  const answers: string[] = [];
  for (const [turn, text] of TALK.entries()) {
    answers.push(await say(turn % 2 === 0 ? one : other, text));
  }
  expect(answers).toEqual(expected);
});

test("a blade that another process logged teaches this one", async () => {
  const talk = [...TALK.slice(0, 7), "next", ...TALK.slice(7)];
  const expected = await alone(talk);
  const answers: string[] = [];
  // All but the finishing of the blade by one process, which had read the shop before it.
  for (const text of talk) {
    answers.push(await say(text.startsWith("finished") ? other : one, text));
  }
  expect(answers).toEqual(expected);
});
