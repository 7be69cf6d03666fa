/** Figures and health of a process: counted as it went, and nothing of anybody in them. */
import { afterEach, beforeEach, expect, test } from "vitest";
import { createMessenger, createMetrics, type Messenger } from "../../src/chat/index.js";
import { meteredStore } from "../../src/chat/metered-store.js";
import type { AccessStore } from "../../src/logbook/index.js";
import { StoreFailed } from "../../src/store/index.js";
import { type Desk, keptLog, openDesk } from "./desk.js";
import { createEchoHandler } from "./echo-handler.js";
import { messageOf, openWire, says, TOKEN, updateId, type Wire } from "./wire.js";

const OWNER = 7_654_321;
const none = { everyMs: 0, burst: 1 };
let desk: Desk;
let wire: Wire;
let messenger: Messenger | undefined;
beforeEach(async () => {
  desk = await openDesk();
  wire = openWire();
});
afterEach(async () => {
  await messenger?.stop();
  messenger = undefined;
  wire.close();
  await desk.close();
});

async function run(access: AccessStore = desk.access): Promise<string> {
  messenger = createMessenger({
    token: TOKEN,
    libraryClient: true,
    handler: createEchoHandler(desk.store, desk.newId),
    store: desk.store,
    access,
    newId: desk.newId,
    now: desk.now,
    logger: keptLog(),
    ownerId: String(OWNER),
    limits: { chat: none, group: none, all: none },
    hear: async () => ({ text: "heat four", confidence: 0.9 }),
    status: { metrics: createMetrics(), port: 0 },
  });
  await messenger.start();
  return `http://127.0.0.1:${messenger.statusPort()}`;
}

const page = async (root: string): Promise<string> => (await fetch(`${root}/metrics`)).text();
/** The page once it counts such a send: what became of one is counted a moment after it was answered. */
async function pageWith(root: string, outcome: string): Promise<string> {
  let text = await page(root);
  for (let i = 0; i < 200 && !text.includes(`outcome="${outcome}"`); i += 1)
    text = await page(root);
  return text;
}
function figure(text: string, name: string): number {
  const found = text.split("\n").find((line) => line.startsWith(`${name} `));
  return Number(found?.slice(name.length + 1));
}

test("what came in, was handled and was sent is counted; words, names and ids are not in it", async () => {
  const root = await run();
  const by = { from: OWNER, name: "Wenna Brook" };
  wire.updates.push(says("heat 4 at 950", by), says("secret words", by));
  const picture = { update_id: updateId(), message: messageOf(by, { photo: [] }) };
  wire.updates.push(picture);
  await wire.until(() => wire.sent().length === 3);
  wire.script("sendMessage", [403, { ok: false, error_code: 403, description: "blocked" }]);
  wire.updates.push(says("gone", by));
  await wire.until(() => wire.sent().length === 4);
  await desk.store.unsent(1);
  const text = await pageWith(root, "gone");
  expect(figure(text, 'hearth_messages_in_total{kind="words"}')).toBe(3);
  expect(figure(text, 'hearth_messages_in_total{kind="other"}')).toBe(1);
  expect(figure(text, 'hearth_sends_total{outcome="sent"}')).toBe(2);
  expect(figure(text, 'hearth_sends_total{outcome="gone"}')).toBe(1);
  expect(figure(text, "hearth_turn_seconds_count")).toBe(4);
  expect(figure(text, "hearth_outbox_waiting")).toBe(0);
  expect(figure(text, 'hearth_database_seconds_count{call="unsent"}')).toBeGreaterThan(2);
  for (const private_ of ["secret", "Wenna", "Brook", String(OWNER), "heat 4", TOKEN.slice(0, 9)]) {
    expect(text).not.toContain(private_);
  }
});

test("replies that wait, and how long the oldest does", async () => {
  const root = await run();
  const refuse = Array.from({ length: 50 }, () => [500, { ok: false, error_code: 500 }] as const);
  wire.script("sendMessage", ...refuse);
  wire.updates.push(says("heat 4 at 950", { from: OWNER }));
  await wire.until(() => wire.sent().length === 1);
  desk.pass(90_000);
  const text = await pageWith(root, "later");
  expect(figure(text, "hearth_outbox_waiting")).toBe(1);
  expect(figure(text, "hearth_outbox_oldest_seconds")).toBe(90);
  expect(figure(text, 'hearth_sends_total{outcome="later"}')).toBeGreaterThan(0);
});

test("alive and ready; a database that is away makes it alive but not ready", async () => {
  let away = false;
  const access = new Proxy(desk.access, {
    get: (target, name) =>
      name === "keepsVoice" && away
        ? () => Promise.reject(new StoreFailed("disk", "x"))
        : Reflect.get(target, name).bind(target),
  });
  const root = await run(access);
  const status = async (path: string): Promise<number> => (await fetch(`${root}${path}`)).status;
  expect([await status("/healthz"), await status("/readyz")]).toEqual([200, 200]);
  away = true;
  expect([await status("/healthz"), await status("/readyz")]).toEqual([200, 503]);
  expect(await status("/other")).toBe(404);
  expect((await fetch(`${root}/metrics`, { method: "POST" })).status).toBe(405);
});

test("a refusal of the database is counted by its code, and by nothing longer", async () => {
  const metrics = createMetrics();
  const store = meteredStore(
    {
      async full(): Promise<void> {
        throw new StoreFailed("full", "the disk of Wenna is full");
      },
      async odd(): Promise<void> {
        throw Object.assign(new Error(), { code: "a line about Wenna's heat 4" });
      },
    },
    metrics,
  );
  await expect(store.full()).rejects.toThrow(StoreFailed);
  await expect(store.odd()).rejects.toThrow();
  const text = await metrics.page();
  expect(figure(text, 'hearth_database_errors_total{code="full"}')).toBe(1);
  expect(figure(text, 'hearth_database_errors_total{code="other"}')).toBe(1);
  expect(text).not.toContain("Wenna");
});
