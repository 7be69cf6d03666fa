/**
 * Turns a second of one, two and four processes on one PostgreSQL database, and of one process with a log in a file,
 * in one run, beside a bare loop of durable inserts with the same driver; where the processor's time goes; and a turn
 * beside a short and a long log. BENCH_CHATS (1,000), BENCH_TURNS (3 a chat), BENCH_LONG (100,000 entries) set sizes;
 * BENCH_ONLY=turns or =log runs one half.
 */
import { type ChildProcess, fork } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { performance } from "node:perf_hooks";
import pg from "pg";
import { bundle } from "../faults/bundle.js";
import { letIn } from "../faults/shop.js";
import { type PostgresServer, startPostgres } from "../store/postgres-server.js";
import { benchLongLog } from "./postgres-log.js";
import { serverCpuMs } from "./server-cpu.js";
import { bareInserts } from "./store.js";
import type { FromChild, ToChild } from "./worker-child.js";

const CHATS = Number(process.env.BENCH_CHATS ?? 1000);
const TURNS = Number(process.env.BENCH_TURNS ?? 3);
/** Chats that wait for an answer at the same time. */
const AT_ONCE = 64;
const FLOOR_S = 3;
const FIRST = 5001;
const START_S = 1_772_438_400;
const WORDS = [
  "new ingot 64 across 30 high 450 g",
  "heat 1 at 950, drew it to 20 by 34 by 70",
  "note the fire is slow today",
  "goal 150 by 28 single edge",
  "heat 2 at 930",
  "next",
];

export async function benchPostgres(): Promise<void> {
  const only = process.env.BENCH_ONLY;
  const server = await startPostgres();
  try {
    if (only !== "log") await benchWorkers(server);
    if (only !== "turns") await benchLongLog(server);
  } finally {
    await server.stop();
  }
}

async function benchWorkers(server: PostgresServer): Promise<void> {
  const program = await bundle("tests/bench/worker-child.ts");
  const smiths = Array.from({ length: CHATS + 4 * WARM }, (_, at) => FIRST + at);
  const some = (workers: number): number[] => smiths.slice(0, CHATS + workers * WARM);
  console.log(
    `${CHATS} chats, ${TURNS} messages each, ${AT_ONCE} waiting at once, ${cpus().length} cores`,
  );
  const folder = mkdtempSync(join(tmpdir(), "hearth-workers-"));
  try {
    const floor = bareInserts(join(folder, "floor.sqlite"));
    await bareLoop("bare durable inserts, better-sqlite3", 1, (n) => floor.insert(`f${n}`));
    await floor.close();
    const file = join(folder, "log.sqlite");
    await letIn(file, smiths);
    print("SQLite, 1 process", await measure(program, file, 1, some(1)));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  for (const connections of [1, 16]) await bareLoopPostgres(server, connections);
  for (const workers of [1, 2, 4]) {
    const address = await server.newDatabase();
    await letIn(address, smiths);
    const walBefore = await walBytes(server);
    const measured = await measure(program, address, workers, some(workers), server.pid());
    const turns = measured.turns + workers * WARM * TURNS;
    const walBytesEach = ((await walBytes(server)) - walBefore) / turns;
    print(`PostgreSQL, ${workers} ${workers === 1 ? "process" : "processes"}`, measured);
    console.log(`${"".padEnd(44)} ${Math.round(walBytesEach)} bytes of WAL a turn`);
  }
}

/** How much the server has written ahead so far. */
async function walBytes(server: PostgresServer): Promise<number> {
  const client = new pg.Client({ connectionString: server.address() });
  await client.connect();
  const { rows } = await client.query<{ bytes: string }>(
    "SELECT pg_current_wal_insert_lsn() - '0/0'::pg_lsn AS bytes",
  );
  await client.end();
  return Number(rows[0]?.bytes);
}

interface Measured {
  readonly turns: number;
  readonly seconds: number;
  readonly medianMs: number;
  readonly p99Ms: number;
  readonly nodeMs: number;
  /** NaN without a server. */
  readonly serverMs: number;
}

/** A process that has just started is slow: so many chats a process come before those that are measured. */
const WARM = 60;

async function measure(
  program: string,
  db: string,
  workers: number,
  smiths: readonly number[],
  serverPid?: number,
): Promise<Measured> {
  const children = Array.from({ length: workers }, () =>
    fork(program, { env: { ...process.env, DB: db } }),
  );
  await Promise.all(children.map((child) => told(child, (message) => "ready" in message)));
  const warm = workers * WARM;
  await talkTo(children, smiths.slice(0, warm));
  const nodeMs = async (): Promise<number> => {
    let sum = 0;
    for (const child of children) {
      const account = told(child, (message) => "cpuMs" in message);
      child.send({ account: true } satisfies ToChild);
      const answer = await account;
      if ("cpuMs" in answer) sum += answer.cpuMs;
    }
    return sum;
  };
  const serverMs = (): number => (serverPid === undefined ? Number.NaN : serverCpuMs(serverPid));
  const before = { node: await nodeMs(), server: serverMs(), at: performance.now() };
  const took = await talkTo(children, smiths.slice(warm));
  const seconds = (performance.now() - before.at) / 1000;
  const spent = { nodeMs: (await nodeMs()) - before.node, serverMs: serverMs() - before.server };
  for (const child of children) {
    const ended = new Promise((resolve) => child.once("exit", resolve));
    child.send({ stop: true } satisfies ToChild);
    await ended;
  }
  took.sort((one, other) => one - other);
  const at = (share: number): number => took[Math.floor(took.length * share)] ?? Number.NaN;
  return { turns: took.length, seconds, medianMs: at(0.5), p99Ms: at(0.99), ...spent };
}

/** Each chat's next message goes out when the one before is answered, to the next process in turn. Gives the waits. */
async function talkTo(
  children: readonly ChildProcess[],
  smiths: readonly number[],
): Promise<number[]> {
  const waiting = [...smiths];
  const turn = new Map<string, { next: number; since: number }>();
  const took: number[] = [];
  let next = 0;
  let open = 0;
  let all: () => void = () => undefined;
  const ended = new Promise<void>((resolve) => {
    all = resolve;
  });
  const say = (chat: string): void => {
    const state = turn.get(chat) ?? { next: 0, since: 0 };
    turn.set(chat, { next: state.next + 1, since: performance.now() });
    const update = messageOf(Number(chat), state.next);
    children[next++ % children.length]?.send({ update } satisfies ToChild);
  };
  const begin = (): void => {
    const chat = waiting.shift();
    if (chat === undefined) return;
    open += 1;
    say(String(chat));
  };
  const answered = (message: FromChild): void => {
    if (!("sent" in message)) return;
    const state = turn.get(message.sent);
    if (state === undefined) return;
    took.push(performance.now() - state.since);
    if (state.next < TURNS) {
      say(message.sent);
      return;
    }
    open -= 1;
    begin();
    if (open === 0) all();
  };
  for (const child of children) child.on("message", answered);
  for (let n = 0; n < AT_ONCE; n += 1) begin();
  await ended;
  for (const child of children) child.off("message", answered);
  return took;
}

function told(child: ChildProcess, is: (message: FromChild) => boolean): Promise<FromChild> {
  return new Promise((resolve, reject) => {
    const hear = (message: FromChild): void => {
      if (!is(message)) return;
      child.off("message", hear);
      resolve(message);
    };
    child.on("message", hear);
    child.once("exit", (code) => reject(new Error(`a process of the bench ended with ${code}`)));
  });
}

let updateId = 1;
function messageOf(smith: number, turn: number): object {
  const message = {
    message_id: turn + 1,
    date: START_S + turn * 60,
    chat: { id: smith, type: "private" },
    from: { id: smith, is_bot: false, first_name: `Smith ${smith}` },
    text: WORDS[turn % WORDS.length],
  };
  return { update_id: updateId++, message };
}

async function bareLoopPostgres(server: PostgresServer, connections: number): Promise<void> {
  const pool = new pg.Pool({ connectionString: server.address(), max: connections });
  await pool.query(
    "CREATE TABLE IF NOT EXISTS floor (seq bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY, id text UNIQUE, text text, at text)",
  );
  const before = serverCpuMs(server.pid());
  const what = `bare durable inserts, pg, ${connections} ${connections === 1 ? "connection" : "connections"}`;
  await bareLoop(
    what,
    connections,
    async (n) => {
      const values = [
        `${connections}-${n}`,
        "heat 4 at 950 drew it to 22 by 36 by 180",
        "2026-03-02",
      ];
      const text = "INSERT INTO floor (id, text, at) VALUES ($1, $2, $3)";
      await pool.query({ name: "floor", text, values });
    },
    () => serverCpuMs(server.pid()) - before,
  );
  await pool.end();
}

async function bareLoop(
  what: string,
  atOnce: number,
  insert: (n: number) => Promise<void>,
  serverMs?: () => number,
): Promise<void> {
  let count = 0;
  const cpu = process.cpuUsage();
  const begun = performance.now();
  const loop = async (): Promise<void> => {
    while (performance.now() - begun < FLOOR_S * 1000) await insert(count++);
  };
  await Promise.all(Array.from({ length: atOnce }, loop));
  const seconds = (performance.now() - begun) / 1000;
  const { user, system } = process.cpuUsage(cpu);
  const spent = serverMs === undefined ? "" : `, server ${(serverMs() / count).toFixed(2)} ms`;
  console.log(
    `${what.padEnd(44)} ${String(Math.round(count / seconds)).padStart(6)}/s   processor: node ${((user + system) / 1000 / count).toFixed(2)} ms${spent}`,
  );
}

function print(what: string, measured: Measured): void {
  const { turns, seconds, medianMs, p99Ms, nodeMs, serverMs } = measured;
  const each = (ms: number): string => (ms / turns).toFixed(2);
  const spent = Number.isNaN(serverMs) ? "" : `, server ${each(serverMs)} ms`;
  const busy = ((nodeMs + (serverMs || 0)) / 1000 / seconds).toFixed(2);
  console.log(
    `${what.padEnd(44)} ${String(Math.round(turns / seconds)).padStart(6)} turns/s   answered after ${Math.round(medianMs)} ms (median), ${Math.round(p99Ms)} ms (99th percentile)   processor a turn: node ${each(nodeMs)} ms${spent}; ${busy} cores busy`,
  );
}
