/** A newer version beside the older ones on one database: it adds to the tables while they work, then takes their place. */
import { afterAll, beforeAll, expect, test } from "vitest";
import type { PostgresServer } from "../store/postgres-server.js";
import { bundle } from "./bundle.js";
import { chanceFrom } from "./chance.js";
import { deliveredInOrder, recordOfPostgres, wordsOf } from "./record.js";
import { pause, until } from "./running.js";
import { type FaultServer, NO_FAULTS, openFaultServer } from "./server.js";
import { FIRST_SMITH, talk } from "./talk.js";
import { openDatabaseServer, openPool, type WorkerPool, waitingIn } from "./worker-pool.js";

const CHATS = 20;
const TURNS = 10;
/** What an expanding migration may do to the tables that every turn writes. */
const EXPAND = `ALTER TABLE reply ADD COLUMN trial text;
ALTER TABLE entry ADD COLUMN trial text;
ALTER TABLE arrival ADD COLUMN trial text;
CREATE TABLE trial (chat_id text PRIMARY KEY);
CREATE INDEX reply_trial ON reply (chat_id, trial);`;

let postgres: PostgresServer;
let server: FaultServer;
let pool: WorkerPool | undefined;
beforeAll(async () => {
  postgres = await openDatabaseServer();
  server = await openFaultServer(chanceFrom(11));
});
afterAll(async () => {
  await pool?.killAll();
  await server.close();
  await postgres.stop();
});

test("two old, then old and new, then two new: every update is taken once, every reply sent once", async () => {
  const old = await bundle("tests/faults/bot-process.ts");
  const next = await bundle("tests/faults/bot-process.ts", "-next", {
    "9001-trial.postgres.sql": EXPAND,
  });
  const smiths = Array.from({ length: CHATS }, (_, at) => FIRST_SMITH + at);
  server.faults = { ...NO_FAULTS, twice: 0.1, atOnce: 0.2 };
  pool = await openPool({
    postgres,
    server,
    program: old,
    roles: ["hands", "hands"],
    smiths,
    leaseS: 15,
    commandLine: false,
    env: { LIMITS: "none" },
  });
  const [first, second] = pool.workers;
  if (first === undefined || second === undefined) throw new RangeError("two workers are needed");
  const updates = talk(CHATS, TURNS, chanceFrom(12));
  const parts = [0, 0.25, 0.5, 0.75, 1].map((share) => Math.round(share * updates.length));
  const give = (part: number): void => {
    for (const update of updates.slice(parts[part], parts[part + 1])) server.give(update);
  };
  const ready = async (port: number): Promise<number> =>
    (await fetch(`http://127.0.0.1:${port}/readyz`)).status;

  give(0);
  await pause(300);
  // One is told to stop, in the middle of its work, and the new version takes its place and adds to the tables.
  await first.running.kill("SIGTERM");
  expect(await first.running.ended).toEqual({ code: 0, signal: null });
  give(1);
  pool.start(first, next);
  await pool.up(first);
  // The old one, too, still serves.
  expect(await ready(second.port)).toBe(200);
  give(2);
  await pause(300);
  await second.running.kill("SIGTERM");
  expect(await second.running.ended).toEqual({ code: 0, signal: null });
  pool.start(second, next);
  give(3);
  await pool.up(second);
  await until(() => server.open() === 0, 120_000, "all updates are taken");
  for (let tries = 0; (await waitingIn(pool.address)) > 0 && tries < 600; tries += 1)
    await pause(100);
  // An old one that is started now refuses, and says why.
  const { running } = first;
  await running.kill("SIGTERM");
  pool.start(first, old);
  expect((await first.running.ended).code).not.toBe(0);
  expect(first.running.output()).toContain("written by a newer version");

  const record = await recordOfPostgres(pool.address);
  const said = new Map<string, number>();
  for (const update of updates) {
    const chat = /"chat":\{"id":(\d+)/.exec(JSON.stringify(update))?.[1] ?? "";
    said.set(chat, (said.get(chat) ?? 0) + 1);
  }
  expect(record.size).toBe(CHATS);
  for (const [chatId, { messages, replies }] of record) {
    expect(messages, chatId).toHaveLength(said.get(chatId) ?? 0);
    expect(messages.filter(({ key }) => key.includes("not answered"))).toEqual([]);
    const sent = server.sent
      .filter((each) => each.chatId === chatId)
      .map(({ text }) => wordsOf(text));
    expect(deliveredInOrder(sent, replies), chatId).toEqual({ repeats: 0 });
  }
});
