/**
 * SIGKILL at random moments, by long polling and by webhook, while 40 smiths send 2,000 messages over a
 * messenger that fails on purpose. FAULTS_KILLS and FAULTS_SEED make it smaller or another.
 */
import { afterAll, beforeAll, expect, test } from "vitest";
import { bundle } from "./bundle.js";
import { chanceFrom } from "./chance.js";
import { deliveredInOrder, recordOf, unsentIn, wordsOf } from "./record.js";
import { pause, type Running, run, until } from "./running.js";
import { type FaultServer, type Faults, openFaultServer, type Update } from "./server.js";
import { freePort, OWNER_ID, openShop, type Shop } from "./shop.js";
import { FIRST_SMITH, talk } from "./talk.js";

const KILLS = Number(process.env.FAULTS_KILLS ?? 300);
const SEED = Number(process.env.FAULTS_SEED ?? 7);
const CHATS = 40;
const TURNS = Math.max(5, Math.round((50 * Math.min(KILLS, 300)) / 300));
const SMITHS = Array.from({ length: CHATS }, (_, index) => FIRST_SMITH + index);
const SOME: Faults = {
  twice: 0.1,
  late: 0.1,
  shuffled: 0.2,
  cut: 0.02,
  tooMany: 0.01,
  internal: 0.01,
  badGateway: 0.01,
  garbage: 0.01,
};

let program: string;
let quiet: string;
const shops: Shop[] = [];
const servers: FaultServer[] = [];
const left: Running[] = [];

beforeAll(async () => {
  program = await bundle("src/main.ts");
  quiet = await bundle("tests/faults/bot-process.ts");
});
afterAll(async () => {
  for (const each of left) await each.kill("SIGKILL");
  for (const each of servers) await each.close();
  for (const each of shops) each.remove();
});

async function scene(seed: number): Promise<{ shop: Shop; server: FaultServer }> {
  const shop = await openShop(SMITHS);
  const server = await openFaultServer(chanceFrom(seed));
  shops.push(shop);
  servers.push(server);
  return { shop, server };
}

/** The same talk, nothing failing, nobody killed. */
async function undisturbed(updates: readonly Update[]): Promise<Shop> {
  const { shop, server } = await scene(1);
  const bot = run(quiet, [], { ...shop.env(server), LIMITS: "none" });
  left.push(bot);
  expect(await bot.ready).toBe(true);
  for (const update of updates) server.give(update);
  await until(() => server.open() === 0, 120_000, "undisturbed talk");
  await bot.kill("SIGTERM");
  return shop;
}

test(`${KILLS} kills during ${CHATS * TURNS} messages: each logged once, each reply sent in order`, async () => {
  const chance = chanceFrom(SEED);
  const updates = talk(CHATS, TURNS, chance);
  const reference = await undisturbed(updates);
  const { shop, server } = await scene(SEED + 1);
  server.faults = SOME;
  const port = await freePort();
  const env = { ...shop.env(server), FAULTS: "1" };
  let given = 0;
  let kills = 0;
  let early = 0;
  const note = (what: string): void =>
    console.log(`${Math.round((performance.now() - begun) / 1000)} s: ${what}`);
  const begun = performance.now();

  async function untilUp(bot: Running, polls: number, hooked: boolean): Promise<boolean> {
    for (;;) {
      if (bot.child.exitCode !== null) {
        throw new Error(`the bot ended by itself:\n${bot.output().slice(-3000)}`);
      }
      if (!hooked && server.polls() > polls) return true;
      if (hooked) {
        const well = await fetch(`http://127.0.0.1:${port}/healthz`).catch(() => undefined);
        if (well?.status === 200) return true;
      }
      await pause(5);
    }
  }

  for (const hooked of [false, true]) {
    // What was handed out by long polling is taken before the messenger goes over to the webhook.
    server.webhook = hooked ? `http://127.0.0.1:${port}/updates` : undefined;
    const args = ["bot", "--db", shop.file, ...(hooked ? ["--webhook", String(port)] : [])];
    const killsNow = hooked ? KILLS - Math.floor(KILLS / 2) : Math.floor(KILLS / 2);
    const share = hooked ? updates.length : Math.floor(updates.length / 2);
    for (let round = 0; round < killsNow; round += 1) {
      const polls = server.polls();
      const bot = run(program, args, env);
      left.push(bot);
      if (chance.hits(0.1)) {
        // Killed while it starts.
        await pause(chance.below(400));
        early += 1;
      } else {
        await untilUp(bot, polls, hooked);
        const roundsLeft = killsNow - round;
        const most = Math.ceil(((share - given) / roundsLeft) * 2);
        const count = round === killsNow - 1 ? share - given : chance.below(most + 1);
        for (const update of updates.slice(given, given + count)) server.give(update);
        given += count;
        await pause(chance.below(350));
      }
      await bot.kill("SIGKILL");
      left.pop();
      kills += 1;
    }
    for (const update of updates.slice(given, share)) server.give(update);
    given = share;
    const bot = run(program, args, env);
    left.push(bot);
    note(`${kills} kills, ${server.open()} updates and ${unsentIn(shop.file)} replies left`);
    await until(() => server.open() === 0, 180_000, "what was left is taken");
    note(`all taken, ${unsentIn(shop.file)} replies left`);
    if (hooked) {
      await until(() => unsentIn(shop.file) === 0, 240_000, "what was unsent is sent");
      await bot.kill("SIGTERM");
      expect(await bot.ended).toEqual({ code: 0, signal: null });
    } else {
      await bot.kill("SIGKILL");
    }
    left.pop();
  }

  const disturbed = await recordOf(shop.file);
  const calm = await recordOf(reference.file);
  expect(disturbed.size).toBe(CHATS);
  let repeats = 0;
  for (const [chatId, record] of calm) {
    const found = disturbed.get(chatId);
    expect(found?.messages, `messages of ${chatId}`).toEqual(record.messages);
    expect(found?.entries, `entries of ${chatId}`).toEqual(record.entries);
    expect(found?.replies, `replies of ${chatId}`).toEqual(record.replies);
    const sent = server.sent
      .filter((each) => each.chatId === chatId)
      .map(({ text }) => wordsOf(text));
    const delivery = deliveredInOrder(sent, record.replies);
    expect(delivery, `delivery to ${chatId}`).toHaveProperty("repeats");
    if ("repeats" in delivery) repeats += delivery.repeats;
  }
  const others = new Set(server.sent.map(({ chatId }) => chatId));
  for (const smith of SMITHS) others.delete(String(smith));
  others.delete(OWNER_ID);
  expect([...others]).toEqual([]);
  console.log(
    `${kills} kills (${early} while starting), ${updates.length} messages, ${server.sent.length} sends, ` +
      `${repeats} replies sent again, ${Math.round((performance.now() - begun) / 1000)} s`,
  );
});
