/**
 * What a message costs through the whole handler (reading, deciding, planning, writing, sending marked), beside
 * the floor of the same run and the same disk: one durable insert a message with bare better-sqlite3. And the
 * reply time when the log holds a hundred and a hundred thousand entries.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { performance } from "node:perf_hooks";
import { createHandler, type Handler } from "../../src/conversation/index.js";
import type { LogStore } from "../../src/logbook/index.js";
import { bareInserts, filledStore } from "./store.js";

const ROUNDS = 9;
export const MESSAGES = 40;
const SHORT_LOG = 100;
const LONG_LOG = 100_000;
const START = Date.parse("2026-05-12T06:00:00Z");

/** A shop's messages in turn: a third of them ask the planner for nothing. */
const WORDS = [
  (n: number) => `heat ${n + 3} at ${900 + (n % 30)}`,
  (n: number) => `${20 + (n % 3)}x${34 + (n % 3)}x70`,
  () => "note the fire is slow today",
];

export async function benchTurn(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "hearth-turn-"));
  try {
    const floor = bareInserts(join(folder, "floor.sqlite"));
    const logs = [
      await startedShop(await filledStore(join(folder, "short.sqlite"), SHORT_LOG)),
      await startedShop(await filledStore(join(folder, "long.sqlite"), LONG_LOG)),
    ] as const;
    const times: number[][] = [[], [], []];
    for (let round = 0; round < ROUNDS; round += 1) {
      times[0]?.push(await perMessage((n) => floor.insert(`${round}-${n}`)));
      for (const [index, shop] of logs.entries())
        times[index + 1]?.push(await perMessage(shop.say));
    }
    const [floorMs = 0, shortMs = 0, longMs = 0] = times.map(median);
    const line = (what: string, ms: number) =>
      console.log(
        `${what.padEnd(52)} ${ms.toFixed(3)} ms  ${(ms / floorMs).toFixed(2)} × floor  ${Math.round(1000 / ms)} messages/s`,
      );
    line("floor: one durable insert, bare better-sqlite3", floorMs);
    line(`whole handler, ${SHORT_LOG} entries in the log`, shortMs);
    line(`whole handler, ${LONG_LOG} entries in the log`, longMs);
    console.log(`long log ÷ short log: ${(longMs / shortMs).toFixed(2)}`);
    await floor.close();
    for (const { store } of logs) await store.close();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export interface Shop {
  readonly store: LogStore;
  readonly say: (n: number) => Promise<void>;
}

/** A smith at work in that log: ingot opened, goal set. A fresh ingot each round's worth of messages. */
export async function startedShop(store: LogStore): Promise<Shop> {
  let count = 0;
  let ids = 0;
  const handler: Handler = createHandler({
    store,
    newId: () => `b${(++ids).toString(36).padStart(8, "0")}`,
    timezone: "Europe/Berlin",
  });
  const send = async (text: string): Promise<void> => {
    count += 1;
    const at = new Date(START + count * 60_000).toISOString();
    const id = `bench-${count}`;
    await handler.handle({
      id,
      sourceKey: `terminal:bench:${count}`,
      edge: "terminal",
      chatId: "bench",
      smithId: "bench",
      kind: "text",
      text,
      sentAt: at,
      receivedAt: at,
    });
    for (const reply of await store.unsent(10, "bench")) {
      await store.markSent(reply.id, at, undefined, "bench");
    }
  };
  const open = async (): Promise<void> => {
    await send("new ingot 64 across 30 high 450 g");
    await send("goal 150 by 28 single edge");
    await send("pipe to the spine");
  };
  await open();
  return {
    store,
    async say(n) {
      if (n === 0) await open();
      await send((WORDS[n % WORDS.length] as (n: number) => string)(n));
    },
  };
}

export async function perMessage(work: (n: number) => Promise<void>): Promise<number> {
  await work(0);
  const start = performance.now();
  for (let n = 1; n <= MESSAGES; n += 1) await work(n);
  return (performance.now() - start) / MESSAGES;
}

export const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
