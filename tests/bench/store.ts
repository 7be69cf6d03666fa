/**
 * What a message costs in the store, beside the floor of the same run and the same disk: one durable
 * insert with bare better-sqlite3. And whether a long log costs more than a short one.
 */

import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { performance } from "node:perf_hooks";
import Database from "better-sqlite3";
import type { LogStore } from "../../src/logbook/index.js";
import { openSqliteStore } from "../../src/store/index.js";
import {
  atSecond,
  heatAndSize,
  type Said,
  sampleMessage,
  sampleTurn,
} from "../store/sample-turns.js";

const ROUNDS = 10;
const MESSAGES_A_ROUND = 100;
const SHORT_LOG = 100;
const LONG_LOG = 100_000;
const ENTRIES_AN_INGOT = 50;
const READS = 500;

export async function benchStore(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "hearth-bench-"));
  try {
    const short = await filledStore(join(folder, "short.sqlite"), SHORT_LOG);
    const long = await filledStore(join(folder, "long.sqlite"), LONG_LOG);
    const floor = bareInserts(join(folder, "floor.sqlite"));
    const times = { floor: [] as number[], short: [] as number[], long: [] as number[] };
    for (let round = 0; round < ROUNDS; round += 1) {
      times.floor.push(await perMessage((n) => floor.insert(`${round}-${n}`)));
      times.short.push(await perMessage((n) => turn(short, `${round}-${n}`, dayOf(round))));
      times.long.push(await perMessage((n) => turn(long, `${round}-${n}`, dayOf(round))));
    }
    const [floorMs, shortMs, longMs] = [times.floor, times.short, times.long].map(median);
    const reads = { short: await readMs(short), long: await readMs(long) };
    print("floor: one durable insert, bare better-sqlite3", floorMs);
    print(`receive + commit + sent, ${SHORT_LOG} entries in the log`, shortMs, floorMs);
    print(`receive + commit + sent, ${LONG_LOG} entries in the log`, longMs, floorMs);
    print(`view + ingotLog, ${SHORT_LOG} entries in the log`, reads.short, floorMs);
    print(`view + ingotLog, ${LONG_LOG} entries in the log`, reads.long, floorMs);
    console.log(
      `long log ÷ short log: turn ${ratio(longMs, shortMs)}, read ${ratio(reads.long, reads.short)}`,
    );
    await floor.close();
    await short.close();
    await long.close();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** First second of the day of a round: a hundred messages a day are a busy shop. */
const dayOf = (round: number): number => 86_400 * (1000 + round);

/** A log of one chat, the worst case: two smiths, an ingot each fifty entries, its last turns typical. */
export async function filledStore(file: string, entries: number): Promise<LogStore> {
  const store = await openSqliteStore({ file, now: () => atSecond(0) });
  for (let ingot = 0; ingot * ENTRIES_AN_INGOT < entries; ingot += 1) {
    const id = `fill-${ingot}`;
    const smithId = ingot % 2 === 0 ? "odo" : "wenna";
    const opening: Said = {
      fact: { kind: "ingot", name: `Bird ${ingot}`, massG: 780 },
      ingotId: "self",
    };
    const rest = Array.from({ length: ENTRIES_AN_INGOT / 2 - 1 }, (_, heat) =>
      heatAndSize(heat + 1, `${id}-0`),
    ).flat();
    const finish: Said = { fact: { kind: "finish", massG: 300 }, ingotId: `${id}-0` };
    const sample = { id, smithId, second: ingot * 600 };
    await store.receive(sampleMessage(sample));
    await store.commit(sampleTurn(sample, [opening, ...rest, finish]));
    await store.markSent(`r-${id}`, atSecond(ingot * 600));
  }
  const sample = { id: "hand", second: entries * 20 };
  await store.receive(sampleMessage(sample));
  await store.commit(
    sampleTurn(sample, [{ fact: { kind: "ingot", name: "Wren" }, ingotId: "self" }]),
  );
  for (let n = 0; n < ENTRIES_AN_INGOT / 2; n += 1)
    await turn(store, `typical-${n}`, entries * 20 + n);
  return store;
}

async function turn(store: LogStore, id: string, second: number): Promise<void> {
  const sample = { id, second, text: "heat 4 at 950 drew it to 22 by 36 by 180" };
  await store.receive(sampleMessage(sample));
  await store.commit(
    sampleTurn(sample, heatAndSize(4, id.startsWith("typical") ? "hand-0" : "fill-0-0")),
  );
  await store.markSent(`r-${id}`, atSecond(second), "77");
}

export function bareInserts(file: string) {
  const db = new Database(file);
  db.pragma("journal_mode = WAL");
  db.pragma("synchronous = FULL");
  db.exec(
    "CREATE TABLE message (seq INTEGER PRIMARY KEY, id TEXT UNIQUE, text TEXT, at TEXT) STRICT",
  );
  const insert = db.prepare("INSERT INTO message (id, text, at) VALUES (?, ?, ?)");
  return {
    insert: async (id: string) => {
      insert.run(id, "heat 4 at 950 drew it to 22 by 36 by 180", atSecond(0));
    },
    close: async () => {
      db.close();
    },
  };
}

async function perMessage(work: (n: number) => Promise<void>): Promise<number> {
  const start = performance.now();
  for (let n = 0; n < MESSAGES_A_ROUND; n += 1) await work(n);
  return (performance.now() - start) / MESSAGES_A_ROUND;
}

async function readMs(store: LogStore): Promise<number> {
  const rounds: number[] = [];
  for (let n = 0; n < READS; n += 1) {
    const start = performance.now();
    const view = await store.view("anvil", "odo", atSecond(dayOf(ROUNDS - 1)));
    await store.ingotLog("anvil", view.inHand ?? "");
    rounds.push(performance.now() - start);
  }
  return median(rounds);
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

const ratio = (a = Number.NaN, b = Number.NaN): string => (a / b).toFixed(2);
function print(what: string, ms = Number.NaN, floorMs?: number): void {
  const times = floorMs === undefined ? "" : `  ${ratio(ms, floorMs)} × floor`;
  console.log(`${what.padEnd(56)} ${ms.toFixed(3)} ms${times}`);
}
