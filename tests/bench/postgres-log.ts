/** A turn of one smith beside logs of different length, on the same server in the same run. */
import { performance } from "node:perf_hooks";
import pg from "pg";
import { openPostgres } from "../../src/store/index.js";
import type { PostgresServer } from "../store/postgres-server.js";
import { serverCpuMs } from "./server-cpu.js";
import { MESSAGES, median, perMessage, type Shop, startedShop } from "./turn.js";

const SHORT = 1000;
const LONG = Number(process.env.BENCH_LONG ?? 100_000);
/** What a busy shop writes in some months. */
const ENTRIES_A_CHAT = 1000;
const ENTRIES_AN_INGOT = 50;
const ROUNDS = 7;
/** `perMessage` sends those of a new ingot first. */
const MESSAGES_A_ROUND = MESSAGES + 4;
const now = (): string => new Date().toISOString();

export async function benchLongLog(server: PostgresServer): Promise<void> {
  const floor = new pg.Client({ connectionString: server.address() });
  await floor.connect();
  await floor.query(
    "CREATE TABLE IF NOT EXISTS floor_of_log (id bigint GENERATED ALWAYS AS IDENTITY, text text)",
  );
  const shapes = [
    { what: `${SHORT} entries`, entries: SHORT, chats: 1 },
    {
      what: `${LONG} entries in ${LONG / ENTRIES_A_CHAT} chats`,
      entries: LONG,
      chats: LONG / ENTRIES_A_CHAT,
    },
    { what: `${LONG} entries in one chat`, entries: LONG, chats: 1 },
  ];
  const logs: { what: string; shop: Shop; times: number[]; nodeMs: number; serverMs: number }[] =
    [];
  const sizes: string[] = [];
  for (const { what, entries, chats } of shapes) {
    const address = await server.newDatabase();
    const { store } = await openPostgres({ address, now });
    const begun = performance.now();
    const bytes = await fill(address, entries, chats);
    const filledS = (performance.now() - begun) / 1000;
    sizes.push(
      `${what}: ${Math.round(bytes / entries)} bytes an entry, indexes and messages counted in; filled in ${filledS.toFixed(1)} s`,
    );
    logs.push({ what, shop: await startedShop(store), times: [], nodeMs: 0, serverMs: 0 });
  }
  const floors: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    floors.push(
      await perMessage(async () => {
        await floor.query({
          name: "floor",
          text: "INSERT INTO floor_of_log (text) VALUES ($1)",
          values: ["heat 4 at 950"],
        });
      }),
    );
    for (const log of logs) {
      const [cpu, serverMs] = [process.cpuUsage(), serverCpuMs(server.pid())];
      log.times.push(await perMessage(log.shop.say));
      const { user, system } = process.cpuUsage(cpu);
      log.nodeMs += (user + system) / 1000;
      log.serverMs += serverCpuMs(server.pid()) - serverMs;
    }
  }
  const floorMs = median(floors);
  console.log(`${"floor: one durable insert, bare pg".padEnd(60)} ${floorMs.toFixed(2)} ms`);
  const each = (ms: number): string => (ms / ROUNDS / MESSAGES_A_ROUND).toFixed(1);
  for (const { what, times, nodeMs, serverMs } of logs) {
    const ms = median(times);
    console.log(
      `${`whole handler, ${what}`.padEnd(60)} ${ms.toFixed(2)} ms  ${(ms / floorMs).toFixed(1)} × floor  ${(ms / median(logs[0]?.times ?? [])).toFixed(2)} × short log   processor: node ${each(nodeMs)} ms, server ${each(serverMs)} ms`,
    );
  }
  for (const line of sizes) console.log(line);
  await floor.end();
  for (const { shop } of logs) await shop.store.close();
}

/** Filled by the server itself, checks and triggers off for the while. Gives the bytes of the database. */
export async function fill(address: string, entries: number, chats: number): Promise<number> {
  const client = new pg.Client({ connectionString: address });
  await client.connect();
  const chat = `CASE WHEN ingot % ${chats} = 0 THEN 'bench' ELSE 'chat' || ingot % ${chats} END`;
  const time = `to_char(timestamp '2024-01-01' + i * interval '20 seconds', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;
  // Smaller parts, so that no single statement of the driver waits for minutes.
  const ingots = entries / ENTRIES_AN_INGOT;
  await client.query(`SET session_replication_role = replica; SET synchronous_commit = off;
    CREATE TEMP TABLE g AS SELECT i, ingot, i - ingot * ${ENTRIES_AN_INGOT} AS pos, ${chat} AS chat_id, ${time} AS at
      FROM (SELECT i, (i - 1) / ${ENTRIES_AN_INGOT} AS ingot FROM generate_series(1, ${entries}) i) n;
    CREATE INDEX ON g (pos); ANALYZE g`);
  const per = `WHERE pos = 1`;
  for (const statement of [
    `INSERT INTO chat (id, edge, first_seen, turns, highest_number)
       SELECT chat_id, 'terminal', min(at), count(*), count(*) FROM g ${per} GROUP BY chat_id`,
    `INSERT INTO smith (chat_id, id, name, first_seen) SELECT chat_id, 'bench', 'Odo', min(at) FROM g ${per} GROUP BY chat_id`,
    `INSERT INTO message (chat_id, id, source_key, edge, smith_id, kind, text, sent_at, received_at, handled_at, unread, first_entry, last_entry)
       SELECT chat_id, 'm' || i, 'terminal:' || chat_id || ':filled-' || i, 'terminal', 'bench', 'text',
         'heat 4 at 950 drew it to 22 by 36 by 180', at, at, at, '[]', i, i + 1 FROM g WHERE pos % 2 = 1`,
    `INSERT INTO entry (chat_id, seq, id, smith_id, message_id, ingot_id, kind, at, arrived, place)
       SELECT chat_id, i, 'e' || i, 'bench', 'm' || i - 1 + pos % 2, 'e' || ingot * ${ENTRIES_AN_INGOT} + 1,
         CASE WHEN pos = 1 THEN 'ingot' WHEN pos = ${ENTRIES_AN_INGOT} THEN 'finish' WHEN pos % 2 = 0 THEN 'heat' ELSE 'size' END,
         at, at, i FROM g`,
    `INSERT INTO ingot (chat_id, seq, name, mass_g) SELECT chat_id, i, 'Bird ' || ingot, 780 FROM g ${per}`,
    `INSERT INTO ingot_name (chat_id, seq, ingot_id, number, name_key)
       SELECT chat_id, i, 'e' || i, row_number() OVER (PARTITION BY chat_id ORDER BY i), 'bird ' || ingot FROM g ${per}`,
    `INSERT INTO heat (chat_id, seq, number, temperature_c, operation)
       SELECT chat_id, i, pos / 2, 950, 'draw' FROM g WHERE pos % 2 = 0 AND pos < ${ENTRIES_AN_INGOT}`,
    `INSERT INTO size (chat_id, seq, thickness_mm, width_mm, length_mm)
       SELECT chat_id, i, 22, 36, 180 FROM g WHERE pos % 2 = 1 AND pos > 1`,
    `INSERT INTO blade (chat_id, seq, mass_g) SELECT chat_id, i, 300 FROM g WHERE pos = ${ENTRIES_AN_INGOT}`,
    `INSERT INTO reply (chat_id, id, message_id, body, created_at, sent_at)
       SELECT chat_id, 'r' || i, 'm' || i, '{"lines":[{"text":"heat 4, 950 °C"},{"text":"next 20 × 38 × 190 mm","bold":true}],"buttons":[]}',
         at, at FROM g WHERE pos % 2 = 1`,
  ]) {
    await client.query(statement);
  }
  await client.query(
    `SELECT setval('entry_seq_seq', ${entries}); DROP TABLE g; RESET session_replication_role`,
  );
  // As the server's own housekeeping would have done by then.
  await client.query("VACUUM ANALYZE");
  await client.query("CHECKPOINT");
  const { rows } = await client.query<{ bytes: string }>(
    "SELECT pg_database_size(current_database()) AS bytes",
  );
  const counted = await client.query<{ ingots: string }>(
    "SELECT count(*) AS ingots FROM named_ingot",
  );
  if (Number(counted.rows[0]?.ingots) !== ingots)
    throw new RangeError("the log was not filled as meant");
  await client.end();
  return Number(rows[0]?.bytes);
}
