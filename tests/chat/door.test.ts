import { readFileSync } from "node:fs";
import { afterEach, beforeEach, expect, test } from "vitest";
import { createMessenger, type Messenger } from "../../src/chat/index.js";
import { KeptDatabase as Database } from "../../src/store/kept-database.js";
import { type Desk, jumpingClock, keptLog, openDesk } from "./desk.js";
import { createEchoHandler, type EchoHandler } from "./echo-handler.js";
import { openWire, presses, says, TOKEN, type Wire } from "./wire.js";

let desk: Desk;
let wire: Wire;
let handler: EchoHandler;
let messenger: Messenger;
let printed: string[];
const log = keptLog();

beforeEach(async () => {
  desk = await openDesk();
  wire = openWire();
  handler = createEchoHandler(desk.store, desk.newId);
  printed = [];
  await start();
});
afterEach(async () => {
  await messenger.stop();
  wire.close();
  await desk.close();
});

async function start(): Promise<void> {
  messenger = createMessenger({
    token: TOKEN,
    libraryClient: true,
    handler,
    store: desk.store,
    access: desk.access,
    privacy: desk.access,
    newId: desk.newId,
    now: desk.now,
    logger: log,
    print: (line) => printed.push(line),
    clock: jumpingClock(),
  });
  await messenger.start();
}

const codeIn = (text: unknown): string => String(/start=([\w-]{22})/.exec(String(text))?.[1]);
const texts = (chat: string): string[] => wire.sent(chat).map(({ body }) => String(body.text));
async function take(...updates: { update_id: number }[]): Promise<void> {
  wire.updates.push(...updates);
  await wire.until(() => wire.updates.length === 0);
}
async function own(id = 7): Promise<void> {
  await take(says(`/start ${codeIn(printed.join("\n"))}`, { from: id, name: "Odo" }));
}

test("without an owner a pairing link is printed; who opens it owns the bot; it works once", async () => {
  expect(printed.join("\n")).toContain("https://t.me/forge_bot?start=");
  const code = codeIn(printed.join("\n"));
  await own(7);
  await take(says(`/start ${code}`, { from: 8 }));
  expect(await desk.access.people()).toMatchObject([{ id: "7", name: "Odo", role: "owner" }]);
  expect(texts("8")).toEqual([
    "This is a private forge log. Ask its owner for an invitation link.",
  ]);
  expect(handler.taken).toEqual([]);
});

test("the code is kept as a hash only, and never logged", async () => {
  const code = codeIn(printed.join("\n"));
  await messenger.stop();
  expect(readFileSync(desk.file).includes(code)).toBe(false);
  expect(readFileSync(`${desk.file}-wal`).includes(code)).toBe(false);
  expect(log.lines.join("\n")).not.toContain(code);
  await start();
});

test("a new start makes the pairing link of the last one void", async () => {
  const old = codeIn(printed.join("\n"));
  await messenger.stop();
  await start();
  await take(says(`/start ${old}`, { from: 8 }));
  expect(await desk.access.people()).toEqual([]);
  expect(codeIn(printed.at(-1))).not.toBe(old);
});

test("a link that has expired lets nobody in", async () => {
  desk.pass(24 * 3_600_000 + 1);
  await own(8);
  expect(await desk.access.people()).toEqual([]);
});

test("the owner invites, lists and removes", async () => {
  await own(7);
  await take(says("/invite"));
  const code = codeIn(texts("7").at(-1));
  await take(says(`/start ${code}`, { from: 8, name: "Wenna" }));
  await take(says("heat 4", { from: 8 }));
  expect(handler.taken.map(({ smithId }) => smithId)).toEqual(["8"]);
  await take(says("/people"));
  const list = wire.sent("7").at(-1)?.body;
  expect(String(list?.text)).toBe("Odo: owner, since 2026-03-02\nWenna: smith, since 2026-03-02");
  const data = String(/"(door-remove:8)"/.exec(JSON.stringify(list?.reply_markup))?.[1]);
  await take(presses(data, "q0", { from: 8 }));
  expect(await desk.access.people()).toHaveLength(2);
  await take(presses(data, "q1", { from: 7 }));
  await take(says("heat 5", { from: 8 }));
  expect(await desk.access.people()).toHaveLength(1);
  expect(handler.taken).toHaveLength(1);
});

test("only the owner invites; a smith's /invite is a word like any other", async () => {
  await own(7);
  await take(says("/invite"));
  await take(says(`/start ${codeIn(texts("7").at(-1))}`, { from: 8 }));
  const before = texts("8").length;
  await take(says("/invite", { from: 8 }));
  await take(says("/people", { from: 8 }));
  expect(texts("8").slice(before).join()).not.toContain("t.me");
  expect(handler.taken.map(({ text }) => text)).toEqual(["invite", "people"]);
});

test("a group is let in and out by the owner alone", async () => {
  await own(7);
  const inGroup = (text: string, from: number) => says(text, { from, chat: -50, type: "group" });
  await take(inGroup("heat 4", 9), inGroup("/letin", 9), inGroup("heat 4", 7));
  expect(handler.taken).toEqual([]);
  expect(texts("-50")).toHaveLength(1);
  await take(inGroup("/letin@forge_bot", 7), inGroup("heat 5", 9));
  expect(handler.taken).toHaveLength(1);
  await take(inGroup("/letout", 7), inGroup("heat 6", 9));
  expect(handler.taken).toHaveLength(1);
});

test("a stranger gets one line a day, and only a number is kept of them", async () => {
  const name = "Zzyzx Quux";
  await take(
    ...Array.from({ length: 20 }, () => says("let me in please", { from: 666_777, name })),
  );
  desk.pass(86_400_001);
  await take(says("again", { from: 666_777, name }));
  expect(texts("666777")).toHaveLength(2);
  expect(await desk.access.strangers("2026-03-02")).toBe(20);
  await messenger.stop();
  for (const part of [desk.file, `${desk.file}-wal`]) {
    for (const trace of ["666777", "Zzyzx", "let me in"]) {
      expect(readFileSync(part).includes(trace)).toBe(false);
    }
  }
  await start();
});

test("after five wrong codes in an hour even the right one is not tried", async () => {
  const code = codeIn(printed.join("\n"));
  const wrong = (index: number): string => `${String(index).padStart(4, "0")}${code.slice(4)}`;
  await take(...[1, 2, 3, 4, 5].map((index) => says(`/start ${wrong(index)}`, { from: 9 })));
  await take(says(`/start ${code}`, { from: 9 }));
  expect(await desk.access.people()).toEqual([]);
  desk.pass(3_600_001);
  await take(says(`/start ${code}`, { from: 9 }));
  expect(await desk.access.people()).toHaveLength(1);
});

test("a configured owner is the owner, and an owner before stays as a smith", async () => {
  await own(7);
  await desk.access.setOwner("9", desk.now());
  expect((await desk.access.people()).map(({ id, role }) => [id, role])).toEqual([
    ["9", "owner"],
    ["7", "smith"],
  ]);
});

test("forget me: the records are given out, then removed once confirmed, by their owner alone", async () => {
  await own(7);
  await take(says("my secret recipe"), says("forget me"));
  const asked = wire.sent("7").at(-1)?.body;
  expect(wire.calls.some(({ method }) => method === "sendDocument")).toBe(true);
  const yes = String(/"(forget:yes:[\w-]+)"/.exec(JSON.stringify(asked?.reply_markup))?.[1]);
  await take(presses(yes, "q1", { from: 8 }));
  expect((await desk.access.recordsOf("7")).message).toHaveLength(1);
  await take(presses(yes, "q2", { from: 7 }));
  expect(Object.keys(await desk.access.recordsOf("7"))).toEqual(["person"]);
  await messenger.stop();
  for (const part of [desk.file, `${desk.file}-wal`]) {
    expect(readFileSync(part).includes("secret recipe")).toBe(false);
  }
  const db = new Database(desk.file, { readonly: true });
  expect(
    db.prepare("SELECT count(*) FROM sqlite_schema WHERE type = 'trigger'").pluck().get(),
  ).toBeGreaterThan(10);
  db.close();
  await start();
});
