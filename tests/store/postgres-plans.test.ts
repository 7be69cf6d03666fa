/** What a turn asks costs the same however long the log is, also on a server that knows nothing of the tables yet. */
import { afterAll, beforeAll, expect, it } from "vitest";
import { type OpenedPostgres, openPostgres } from "../../src/store/postgres/open-postgres.js";
import { type PostgresServer, startPostgres } from "./postgres-server.js";
import { atSecond } from "./sample-turns.js";

let server: PostgresServer;
let open: OpenedPostgres;
beforeAll(async () => {
  server = await startPostgres(["autovacuum=off"]);
  const address = await server.newDatabase();
  open = await openPostgres({ address, now: () => atSecond(0), connections: 1 });
  // Plans made now, with nothing in the tables, are those that are used later.
  for (const ask of Object.values(questions("short"))) await ask();
  await fill("short", 3);
  await fill("long", 100);
  // A table of a page or two is read whole, and rightly so.
  for (let n = 0; n < 30; n += 1) await fill(`other-${n}`, 100, 2);
});
afterAll(async () => {
  await open?.close();
  await server?.stop();
});

const ROWS = 50;
/** So many ingots with a row that opens them and heats, a message a row, written by hand. */
async function fill(chat: string, ingots: number, rows = ROWS): Promise<void> {
  const time = "'2026-03-02T08:00:00.000Z'";
  await open.database.write(
    (sql) =>
      sql.script(`
        INSERT INTO chat (id, edge, first_seen) VALUES ('${chat}', 'messenger', ${time});
        INSERT INTO smith VALUES ('${chat}', 'odo', 'Odo', ${time});
        CREATE TEMP TABLE said ON COMMIT DROP AS SELECT i, h, '${chat}-' || i || '-' || h AS id
          FROM generate_series(1, ${ingots}) i, generate_series(0, ${rows - 1}) h ORDER BY i, h;
        INSERT INTO message (chat_id, id, source_key, edge, smith_id, kind, text, sent_at, received_at, handled_at)
          SELECT '${chat}', 'm-' || id, id, 'messenger', 'odo', 'text', 'x', ${time}, ${time}, ${time} FROM said;
        INSERT INTO entry (chat_id, id, smith_id, message_id, ingot_id, kind, at, arrived, place)
          SELECT '${chat}', id, 'odo', 'm-' || id, '${chat}-' || i || '-0', CASE h WHEN 0 THEN 'ingot' ELSE 'heat' END,
            to_char(timestamp '2026-01-01' + (i * ${rows} + h) * interval '1 hour', 'YYYY-MM-DD"T"HH24:MI:SS.000"Z"'),
            ${time}, i * ${rows} + h FROM said ORDER BY i, h;
        INSERT INTO ingot (chat_id, seq, name) SELECT chat_id, seq, id FROM entry WHERE chat_id = '${chat}' AND kind = 'ingot';
        INSERT INTO heat (chat_id, seq, number) SELECT chat_id, seq, 1 FROM entry WHERE chat_id = '${chat}' AND kind = 'heat';
        INSERT INTO ingot_name SELECT chat_id, seq, id, row_number() OVER (ORDER BY seq), id FROM entry
          WHERE chat_id = '${chat}' AND kind = 'ingot';
        SET LOCAL hearth_tally.forgetting = 'on';
        UPDATE message m SET first_entry = e.seq, last_entry = e.seq FROM entry e
          WHERE e.chat_id = m.chat_id AND e.message_id = m.id AND m.chat_id = '${chat}';`),
    { patient: true },
  );
}

/** What a turn asks, by name. */
function questions(chat: string): Readonly<Record<string, () => Promise<unknown>>> {
  const { store, access } = open;
  return {
    view: () => store.view(chat, "odo", "2027-01-01T00:00:00Z"),
    ingotLog: () => store.ingotLog(chat, `${chat}-3-0`),
    findIngot: () => store.findIngot(chat, `${chat}-2-0`),
    findByNumber: () => store.findIngot(chat, "2"),
    finishedIngots: () => store.finishedIngots(chat, 10),
    entriesById: () => store.entriesById(chat, [`${chat}-3-1`, `${chat}-3-2`]),
    entriesOfMessage: () => store.entriesOfMessage(`${chat}-3-1`, chat),
    unsent: () => store.unsent(10, chat),
    unhandled: () => store.unhandled(),
    editsOf: () => access.editsOf(`${chat}-3-1`, chat),
    findReply: () => access.findReply("r-none", chat),
  };
}

/** Rows that the server read of the log's tables, by index and without. */
async function rowsRead(
  work: () => Promise<unknown>,
): Promise<{ indexed: number; scanned: number }> {
  const count = () =>
    open.database.read(async (sql) => {
      await sql.script("SELECT pg_stat_force_next_flush(); SELECT pg_stat_clear_snapshot()");
      return (await sql.one(
        `SELECT coalesce(sum(idx_tup_fetch), 0) AS indexed, coalesce(sum(seq_tup_read), 0) AS scanned
         FROM pg_stat_user_tables WHERE relname <> 'migration'`,
      )) as { indexed: number; scanned: number };
    });
  // Counted when a transaction ends: once to end what came before, once to see it.
  await count();
  const before = await count();
  await work();
  await count();
  const after = await count();
  return { indexed: after.indexed - before.indexed, scanned: after.scanned - before.scanned };
}

/** A view of the longer chat shows 20 ingots instead of 3, some twenty rows each. */
const MORE_ROWS = 400;
/** An ingot is found among its chat's by a look at a page or two of their names. */
const FOUND = 20;

it("never reads a whole table, not even by plans that were made when there was nothing in it", async () => {
  for (const chat of ["short", "long"]) {
    for (const [name, ask] of Object.entries(questions(chat))) {
      expect((await rowsRead(ask)).scanned, `${name} of ${chat}`).toBe(0);
    }
  }
});

it("reads the same few rows of a chat with 150 entries and of one with 5,000", async () => {
  // As the server does by itself from time to time; plans are made anew.
  await open.database.write((sql) => sql.script("ANALYZE"), { patient: true });
  const long = questions("long");
  for (const [name, ask] of Object.entries(questions("short"))) {
    const few = await rowsRead(ask);
    const many = await rowsRead(long[name] ?? ask);
    const more = name === "view" ? MORE_ROWS : FOUND;
    expect(many.indexed, name).toBeLessThanOrEqual(few.indexed + more);
    expect(many.scanned, name).toBe(0);
  }
});
