/** Every query of a turn finds its rows through an index: a long log costs what a short one does. */
import { expect, it } from "vitest";
import { openForWriting } from "../../src/store/open-database.js";
import { SqliteStore } from "../../src/store/sqlite-store.js";
import { atSecond } from "./sample-turns.js";

/** Reads everything by design: export, the list of chats, the hours of the sheets (a row a chat). */
const WHOLE = [
  "FROM entry e ORDER BY e.seq",
  "FROM chat ORDER BY first_seen",
  "ORDER BY h.chat_id",
];
/** A scan of an index that holds only the rows wanted, of a list given, or of one made on the way. */
const BOUNDED =
  /SCAN (\w+ USING (COVERING )?INDEX (message_waiting|reply_unsent)|j VIRTUAL TABLE|n$|CONSTANT)/;

/** Sorts what it found: rows of one message, rows asked for by id, one day's rows, replies that wait. */
const SORTED = ["FROM message m", "FROM json_each", "e.at >= ? AND e.at < ?", "FROM reply r"];

it("no query of a turn scans or sorts a table", async () => {
  const open = openForWriting(":memory:", atSecond(0));
  const prepared: string[] = [];
  const prepare = open.db.prepare.bind(open.db);
  Object.assign(open.db, {
    prepare: (sql: string) => {
      prepared.push(sql);
      return prepare(sql);
    },
  });
  const store = new SqliteStore(open);
  // The guards of foreign keys are listed as scans in every insert, but run only while one is violated.
  open.db.pragma("foreign_keys = OFF");
  expect(prepared.length).toBeGreaterThan(40);
  const scans = prepared.flatMap((sql) => {
    if (sql.startsWith("PRAGMA") || WHOLE.some((whole) => sql.includes(whole))) return [];
    const steps = prepare(`EXPLAIN QUERY PLAN ${sql}`).all(...fill(sql)) as { detail: string }[];
    return steps
      .filter(
        ({ detail }) =>
          (detail.startsWith("SCAN") && !BOUNDED.test(detail)) ||
          (detail.startsWith("USE TEMP B-TREE") && !SORTED.some((few) => sql.includes(few))),
      )
      .map(({ detail }) => `${detail} :: ${sql}`);
  });
  expect(scans).toEqual([]);
  await store.close();
});

/** Something for every parameter; a plan does not look at the values. */
function fill(sql: string): unknown[] {
  const names = [...sql.matchAll(/:([a-zA-Z]+)/g)].map(([, name]) => [name, null]);
  return names.length > 0
    ? [Object.fromEntries(names)]
    : Array.from({ length: sql.split("?").length - 1 }, () => null);
}
