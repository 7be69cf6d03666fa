/**
 * 200 chats sending at once, beside a bare grammY bot that only echoes, in the same run and over the
 * same server: messages a second, median and 99th percentile of the time to the answer.
 */
import { afterEach, beforeEach, expect, test } from "vitest";
import { bundle } from "./bundle.js";
import { chanceFrom } from "./chance.js";
import { deliveredInOrder, recordOf, wordsOf } from "./record.js";
import { type Running, run, until } from "./running.js";
import { type FaultServer, openFaultServer } from "./server.js";
import { openShop, type Shop } from "./shop.js";
import { FIRST_SMITH, talk } from "./talk.js";

const CHATS = 200;
const SMITHS = Array.from({ length: CHATS }, (_, index) => FIRST_SMITH + index);
// Fewer than it takes until somebody edits.
const TURNS = 4;

let shop: Shop;
const servers: FaultServer[] = [];
const bots: Running[] = [];
beforeEach(async () => {
  shop = await openShop(SMITHS);
});
afterEach(async () => {
  for (const bot of bots.splice(0)) await bot.kill("SIGKILL");
  for (const server of servers.splice(0)) await server.close();
  shop.remove();
});

interface Measured {
  readonly perSecond: number;
  readonly medianMs: number;
  readonly p99Ms: number;
}

async function measure(
  program: string,
  more: Record<string, string>,
): Promise<[Measured, FaultServer]> {
  const server = await openFaultServer(chanceFrom(41));
  servers.push(server);
  const bot = run(program, [], { ...shop.env(server), ...more });
  bots.push(bot);
  expect(await bot.ready).toBe(true);
  const updates = talk(CHATS, TURNS, chanceFrom(42));
  const waited: number[] = [];
  const from = performance.now();
  // Each round, every chat sends one message at the same moment.
  for (let round = 0; round < TURNS; round += 1) {
    const begun = performance.now();
    const before = server.sent.length;
    for (const update of updates.filter((each) => turnOf(each) === round + 1)) server.give(update);
    await until(() => server.sent.length >= before + CHATS, 120_000, `answers of round ${round}`);
    waited.push(...server.sent.slice(before).map(({ atMs }) => atMs - begun));
  }
  const seconds = (performance.now() - from) / 1000;
  waited.sort((one, other) => one - other);
  const at = (share: number): number => Math.round(waited[Math.floor(waited.length * share)] ?? 0);
  await bot.kill("SIGTERM");
  return [
    { perSecond: Math.round(waited.length / seconds), medianMs: at(0.5), p99Ms: at(0.99) },
    server,
  ];
}
const turnOf = (update: object): number =>
  Number(/"message_id":(\d+)/.exec(JSON.stringify(update))?.[1]);

test(`${CHATS} chats at once are all answered, in order, beside a bare echo`, async () => {
  const [echo] = await measure(await bundle("tests/faults/echo-process.ts"), {});
  const program = await bundle("tests/faults/bot-process.ts");
  const [ours, server] = await measure(program, { LIMITS: "none" });
  const show = ({ perSecond, medianMs, p99Ms }: Measured): string =>
    `${perSecond} messages/s, answered after ${medianMs} ms (median), ${p99Ms} ms (99th percentile)`;
  console.log(`bare echo: ${show(echo)}\nours, durable: ${show(ours)}`);
  const record = await recordOf(shop.file);
  expect(record.size).toBe(CHATS);
  for (const [chatId, { replies, messages }] of record) {
    expect(messages).toHaveLength(TURNS);
    const sent = server.sent
      .filter((each) => each.chatId === chatId)
      .map(({ text }) => wordsOf(text));
    expect(deliveredInOrder(sent, replies), chatId).toEqual({ repeats: 0 });
  }
  expect(ours.p99Ms).toBeLessThan(10_000);
});

test("under the published limits 200 chats are all answered, never above them", async () => {
  const program = await bundle("tests/faults/bot-process.ts");
  const [ours, server] = await measure(program, { LIMITS: "published" });
  const times = server.sent.map(({ atMs }) => atMs);
  let most = 0;
  for (const [index, start] of times.entries()) {
    most = Math.max(most, times.slice(index).filter((time) => time < start + 1000).length);
  }
  console.log(
    `under the published limits: ${ours.perSecond} messages/s, most in any second: ${most}`,
  );
  // Measured where they arrive, so two windows may be pressed together a little on the way.
  expect(most).toBeLessThanOrEqual(32);
});
