/** Forgetting a smith whose ingot others worked on: theirs stays, whole and readable. */

import { afterEach, beforeEach, expect, test } from "vitest";
import { createHandler, type Handler } from "../../src/conversation/index.js";
import { KeptDatabase as Database } from "../../src/store/kept-database.js";
import { type Desk, openDesk } from "./desk.js";

let desk: Desk;
let handler: Handler;
let count = 0;
beforeEach(async () => {
  desk = await openDesk();
  handler = createHandler({ store: desk.store, newId: desk.newId, timezone: "UTC" });
});
afterEach(() => desk.close());

async function say(smithId: string, text: string, chatId = "-50"): Promise<void> {
  desk.pass(60_000);
  await handler.handle({
    id: desk.newId(),
    sourceKey: `messenger:${chatId}:${count++}`,
    edge: "messenger",
    chatId,
    smithId,
    smithName: `Name of ${smithId}`,
    kind: "text",
    text,
    sentAt: desk.now(),
    receivedAt: desk.now(),
  });
}
function soundness(): unknown {
  const db = new Database(desk.file, { readonly: true });
  const found = [db.pragma("integrity_check", { simple: true }), db.pragma("foreign_key_check")];
  db.close();
  return found;
}

test("what is given out is everything of the person and nothing of another", async () => {
  await say("1", "new ingot, puck 60 by 25");
  await say("1", "note my own words");
  await say("2", "new ingot, puck 50 by 20");
  const records = await desk.access.recordsOf("1");
  expect(Object.keys(records)).toEqual(
    expect.arrayContaining(["smith", "message", "entry", "ingot", "note", "reply"]),
  );
  expect(records.message).toHaveLength(2);
  const text = JSON.stringify(records);
  expect(text).toContain("my own words");
  expect(text).not.toContain("Name of 2");
  expect(await desk.access.recordsOf("nobody")).toEqual({});
});

test("a smith alone is removed without a trace; another in the same group is untouched", async () => {
  await say("1", "new ingot, puck 60 by 25");
  await say("1", "note my own words");
  await say("2", "new ingot, puck 50 by 20");
  await say("2", "heat 1 at 950");
  const before = (await desk.store.everything()).filter(({ smithId }) => smithId === "2");
  expect(await desk.access.forget("1")).toBeGreaterThan(5);
  expect(await desk.access.recordsOf("1")).toEqual({});
  expect(await desk.store.everything()).toEqual(before);
  expect(soundness()).toEqual(["ok", []]);
  await say("2", "heat 2 at 940");
  expect((await desk.store.everything()).length).toBeGreaterThan(before.length);
});

test("an ingot that others worked on stays, without author and words", async () => {
  await say("1", "new ingot, puck 60 by 25");
  await say("1", "note my own words");
  await say("2", "switch to ingot 1");
  await say("2", "heat 1 at 950, now 40 by 40 by 50");
  const before = await desk.store.everything();
  const others = before.filter(({ smithId }) => smithId === "2");
  expect(others.some(({ kind }) => kind === "heat")).toBe(true);
  await desk.access.forget("1");
  const after = await desk.store.everything();
  expect(after.filter(({ smithId }) => smithId === "2")).toEqual(others);
  const kept = after.filter(({ smithId }) => smithId !== "2");
  expect(kept.map(({ kind, smithId }) => [kind, smithId])).toEqual([["ingot", "somebody"]]);
  expect(JSON.stringify(after)).not.toContain("Name of 1");
  expect(JSON.stringify(after)).not.toContain("my own words");
  expect(soundness()).toEqual(["ok", []]);
});

test("the log's own rows cannot be removed before and after", async () => {
  await say("1", "new ingot, puck 60 by 25");
  await say("2", "new ingot, puck 50 by 20");
  const refuse = (): void => {
    const db = new Database(desk.file);
    try {
      db.exec("DELETE FROM entry");
    } finally {
      db.close();
    }
  };
  expect(refuse).toThrow(/not removed/);
  await desk.access.forget("1");
  expect(refuse).toThrow(/not removed/);
});
