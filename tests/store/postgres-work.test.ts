/** Work shared by several processes, on a real server: leases, order, notes for any ears, limits kept together. */
import { afterAll, beforeAll, beforeEach, expect, test } from "vitest";
import type { NewArrival, WorkStore } from "../../src/logbook/index.js";
import { type OpenedPostgres, openPostgres } from "../../src/store/postgres/open-postgres.js";
import { openPostgresWork } from "../../src/store/postgres/work-store.js";
import { type PostgresServer, startPostgres } from "./postgres-server.js";
import { sampleMessage, sampleTurn } from "./sample-turns.js";

const LEASE_MS = 400;
const LIMITS = { inChat: 2, inAll: 3 };
const now = (): string => "2026-03-02T08:00:00.000Z";

let server: PostgresServer;
let log: OpenedPostgres;
let work: WorkStore;
beforeAll(async () => {
  server = await startPostgres();
});
afterAll(() => server.stop());
beforeEach(async () => {
  const address = await server.newDatabase();
  log = await openPostgres({ address, now });
  work = openPostgresWork({ address, leaseMs: LEASE_MS });
  await log.database.write(async (sql) => {
    for (const id of ["7", "8", "9"]) {
      await sql.run("INSERT INTO person (id, role, since) VALUES ($1, 'smith', $2)", id, now());
    }
    await sql.run("INSERT INTO group_in (chat_id, by, at) VALUES ('-50', '7', $1)", now());
    await sql.run("INSERT INTO chat_moved (to_id, from_id, at) VALUES ('-5000', '-50', $1)", now());
  });
  return async () => {
    await work.close();
    await log.close();
  };
});

const update = (updateId: number, more: Partial<NewArrival> = {}): NewArrival => ({
  wireChatId: "7",
  isPrivate: true,
  fromId: more.wireChatId ?? "7",
  updateId,
  body: JSON.stringify({ update_id: updateId }),
  ...more,
});
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const rows = async (table: string): Promise<number> =>
  (await log.database.read((sql) => sql.all(`SELECT 1 FROM ${table}`))).length;

test("what was put down is taken in the messenger's order, each once, and then gone", async () => {
  expect(await work.put(update(12), LIMITS)).toEqual({
    known: true,
    chatId: "7",
    mine: false,
    first: false,
  });
  expect(await work.put(update(11), LIMITS, "a")).toEqual({
    known: true,
    chatId: "7",
    mine: true,
    first: false,
  });
  expect((await work.put(update(11), LIMITS, "a")).mine).toBe(false);
  expect((await work.nextOf("7", "a"))?.updateId).toBe(11);
  await work.done("7", 11, "a", false);
  expect(await work.takeUp("7", "a")).toMatchObject({ updateId: 12, body: '{"update_id":12}' });
  await work.done("7", 12, "a", false);
  expect(await work.takeUp("7", "a")).toBeUndefined();
  expect(await rows("arrival")).toBe(0);
});

test("of people and groups that were not let in nothing is kept", async () => {
  const stranger = update(1, { wireChatId: "66", fromId: "66" });
  expect(await work.put(stranger, LIMITS, "a")).toEqual({
    known: false,
    chatId: "66",
    mine: false,
    first: false,
  });
  const group = { wireChatId: "-66", isPrivate: false, fromId: "7" };
  expect((await work.put(update(2, group), LIMITS, "a")).known).toBe(false);
  expect([await rows("arrival"), await rows("chat_lane")]).toEqual([0, 0]);
});

test("a group that moved is put down under its first id", async () => {
  const moved = { wireChatId: "-5000", isPrivate: false, fromId: "8" };
  expect(await work.put(update(1, moved), LIMITS, "a")).toMatchObject({
    chatId: "-50",
    mine: true,
  });
});

test("one worker has a chat in hand; another goes on when its lease has run out, not before", async () => {
  await work.put(update(1), LIMITS, "a");
  expect(await work.takeUp("7", "b")).toBeUndefined();
  expect(await work.takeWaiting("take", "b", 10)).toEqual([]);
  await pause(LEASE_MS / 2);
  expect(await work.renew("take", "a", ["7"])).toEqual(["7"]);
  await pause(LEASE_MS * 0.7);
  expect(await work.takeWaiting("take", "b", 10)).toEqual([]);
  await pause(LEASE_MS * 0.5);
  expect(await work.takeWaiting("take", "b", 10)).toEqual(["7"]);
  expect(await work.renew("take", "a", ["7"])).toEqual([]);
  // Who lost the chat can not let another's hand go.
  await work.letGo("take", "7", "a");
  expect(await work.takeUp("7", "a")).toBeUndefined();
});

test("many workers that look at once get different chats, all of them", async () => {
  await log.database.write(async (sql) => {
    for (let n = 100; n < 160; n += 1) {
      await sql.run(
        "INSERT INTO person (id, role, since) VALUES ($1, 'smith', $2)",
        String(n),
        now(),
      );
    }
  });
  for (let n = 100; n < 160; n += 1) await work.put(update(n, { wireChatId: String(n) }), LIMITS);
  const looks = Array.from({ length: 6 }, (_, n) => work.takeWaiting("take", `w${n}`, 10));
  const found = (await Promise.all(looks)).flat();
  const rest = await work.takeWaiting("take", "w9", 100);
  const all = [...found, ...rest];
  expect(new Set(all).size).toBe(all.length);
  expect(all.length).toBe(60);
});

test("an update that is put down while its chat is let go is not left lying", async () => {
  for (let round = 0; round < 60; round += 1) {
    await work.put(update(2 * round), LIMITS, "a");
    const first = work.done("7", 2 * round, "a", false).then(() => work.takeUp("7", "a"));
    const [next, put] = await Promise.all([first, work.put(update(2 * round + 1), LIMITS, "b")]);
    // Either who had it took it up, or who put it down has it now.
    expect([next?.updateId === 2 * round + 1, put.mine].filter(Boolean)).toHaveLength(1);
    await work.done("7", 2 * round + 1, put.mine ? "b" : "a", false);
  }
});

test("a note waits for ears, and what came after it waits for the note", async () => {
  const note = { note: { durationS: 3 } };
  await work.put(update(1, note), LIMITS, "a");
  await work.put(update(2), LIMITS);
  expect(await work.nextOf("7", "a")).toBeUndefined();
  expect(await work.takeWaiting("take", "a", 10)).toEqual([]);
  const job = await work.takeNote("ear");
  expect(job).toMatchObject({ chatId: "7", updateId: 1, tries: 1 });
  expect(await work.takeNote("other ear")).toBeUndefined();
  if (job === undefined) return;
  await work.noteHeard(job, "ear", { text: "heat four", confidence: 0.9 });
  expect(await work.takeWaiting("take", "a", 10)).toEqual(["7"]);
  expect(await work.nextOf("7", "a")).toMatchObject({
    updateId: 1,
    heard: { text: "heat four", confidence: 0.9 },
  });
  await work.done("7", 1, "a", false);
  expect((await work.takeUp("7", "a"))?.updateId).toBe(2);
});

test("a note whose ears died is given to others; who lost it can not write over them", async () => {
  await work.put(update(1, { note: { durationS: 3 } }), LIMITS, "a");
  await work.nextOf("7", "a");
  const first = await work.takeNote("ear");
  await pause(LEASE_MS * 1.3);
  const second = await work.takeNote("other");
  expect(second).toMatchObject({ updateId: 1, tries: 2 });
  if (first === undefined || second === undefined) return;
  expect(await work.renewNote(first, "ear")).toBe(false);
  await work.noteHeard(first, "ear", { text: "wrong", confidence: 1 });
  expect(await work.takeUp("7", "a")).toBeUndefined();
  await work.returnNote(second, "other");
  expect(await work.takeNote("third")).toMatchObject({ updateId: 1, tries: 2 });
});

test("more notes than may wait are refused as busy, by chat and in all, in their turn", async () => {
  const note = { note: { durationS: 3 } };
  for (const id of [1, 2, 3]) await work.put(update(id, note), LIMITS);
  await work.put(update(4, { ...note, wireChatId: "8" }), LIMITS);
  await work.put(update(5, { ...note, wireChatId: "9" }), LIMITS);
  const states = await log.database.read((sql) =>
    sql.all<{ note: string }>("SELECT note FROM arrival ORDER BY update_id"),
  );
  expect(states.map((row) => row.note)).toEqual([
    "queued",
    "queued",
    "refused",
    "queued",
    "refused",
  ]);
  expect(await work.takeUp("9", "a")).toMatchObject({ heard: { text: "", trouble: "busy" } });
});

test("a slow note is said once; one that no ears take up is given up", async () => {
  await work.put(update(1, { note: { durationS: 0 } }), LIMITS, "a");
  await work.nextOf("7", "a");
  await pause(30);
  expect(await work.slowNotes(0.01)).toEqual(["7"]);
  expect(await work.slowNotes(0.01)).toEqual([]);
  expect(await work.giveUpNotes(60)).toBe(0);
  expect(await work.giveUpNotes(0.01)).toBe(1);
  expect(await work.takeUp("7", "a")).toMatchObject({ heard: { trouble: "busy" } });
});

test("who deals with an update takes the replies in hand with the same breath, if nobody has them", async () => {
  expect(await work.put(update(1), LIMITS, "a")).toMatchObject({ mine: true, first: true });
  expect(await work.done("7", 1, "a", true)).toBe(true);
  await work.put(update(2), LIMITS, "a");
  // Its own hand from before does not count as taken anew.
  expect(await work.done("7", 2, "a", true)).toBe(false);
  await work.put(update(3), LIMITS, "b");
  expect(await work.done("7", 3, "b", true)).toBe(false);
  await work.letGo("send", "7", "a");
  await work.put(update(4), LIMITS, "b");
  expect(await work.done("7", 4, "b", false)).toBe(false);
  await work.put(update(5), LIMITS, "b");
  expect(await work.done("7", 5, "b", true)).toBe(true);
});

test("replies are in one hand at a time, in none when there are none", async () => {
  const sample = { id: "one", chatId: "7", smithId: "7" };
  const message = { ...sampleMessage(sample), edge: "messenger" as const };
  await log.store.receive(message);
  expect(await work.takeSending("7", "a")).toBe(false);
  await log.store.commit(sampleTurn(sample, []));
  // A chat that came with a log from elsewhere has no lane yet; the first look lays it.
  expect(await work.takeWaiting("send", "a", 10)).toEqual(["7"]);
  expect(await work.takeSending("7", "b")).toBe(false);
  expect((await work.depth()).replies).toBe(1);
  await log.store.markSent("r-one", now());
  await work.letGo("send", "7", "a");
  expect(await work.takeSending("7", "b")).toBe(false);
});

test("the limits on sending hold for all workers together", async () => {
  await work.put(update(1), LIMITS);
  const limit = { everyMs: 100, burst: 3 };
  const asks = Array.from({ length: 8 }, () => work.bookSend(limit));
  const waits = (await Promise.all(asks)).filter((ms) => ms === 0);
  expect(waits.length).toBeGreaterThanOrEqual(3);
  expect(waits.length).toBeLessThanOrEqual(4);
  const inChat = [];
  for (let n = 0; n < 5; n += 1)
    inChat.push(await work.bookSend({ everyMs: 60_000, burst: 2 }, "7"));
  expect(inChat.slice(0, 2)).toEqual([0, 0]);
  for (const wait of inChat.slice(2)) expect(wait).toBeGreaterThan(50_000);
});

test("ready says whether the tables are those of this program", async () => {
  expect(await work.ready()).toBe(true);
  await log.database.write((sql) =>
    sql.run("INSERT INTO migration VALUES (9001, 'later', repeat('a', 64), $1)", now()),
  );
  expect(await work.ready()).toBe(true);
  await log.database.write((sql) => sql.run("DELETE FROM migration WHERE number = 7"));
  expect(await work.ready()).toBe(false);
});
