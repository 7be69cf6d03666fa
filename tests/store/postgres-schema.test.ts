/** The tables of a live PostgreSQL say the same as the zod schemas and as SQLite; and the log cannot be changed. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  EDGES,
  FACT_KINDS,
  FACT_SCHEMAS,
  type FactKind,
  MESSAGE_KINDS,
  TAKE_BACK_KINDS,
  toSnake,
} from "../../src/logbook/index.js";
import { readMigrations } from "../../src/store/migrations.js";
import { openForWriting } from "../../src/store/open-database.js";
import type { Sql } from "../../src/store/postgres/database.js";
import { postgresMigrations } from "../../src/store/postgres/migrate.js";
import { type OpenedPostgres, openPostgres } from "../../src/store/postgres/open-postgres.js";
import { byName, type Field, kinds, lists, plain, samples, tableOf } from "./kind-fields.js";
import { type PostgresServer, startPostgres } from "./postgres-server.js";
import { atSecond, sampleMessage, sampleTurn } from "./sample-turns.js";

let server: PostgresServer;
let open: OpenedPostgres;
beforeAll(async () => {
  server = await startPostgres();
  open = await openPostgres({ address: await server.newDatabase(), now: () => atSecond(0) });
  await open.store.receive(sampleMessage({ id: "a" }));
  await open.store.commit(
    sampleTurn({ id: "a" }, [
      { fact: { kind: "ingot", name: "Finch" }, ingotId: "self" },
      ...FACT_KINDS.filter((kind) => kind !== "ingot").map((kind) => ({
        fact: FACT_SCHEMAS[kind].parse({
          kind,
          ...(kind === "note" && { note: "x" }),
          ...(kind === "switch" && { ingot: "Finch" }),
          ...(kind === "melt" && { charge: [{ what: "iron" }] }),
        }),
      })),
    ]),
  );
});
afterAll(async () => {
  await open?.close();
  await server?.stop();
});

const columnType = ({ type }: Field): string =>
  ({
    string: "text",
    number: "double precision",
    integer: "integer",
    boolean: "integer",
    array: "",
  })[type];
interface Column {
  readonly name: string;
  readonly type: string;
  readonly notnull: number;
  readonly collation: string | null;
}
const rows = <Row>(text: string, ...values: unknown[]) =>
  open.database.read((sql) => sql.all<Row>(text, ...values));
const columns = (table: string) =>
  rows<Column>(
    `SELECT column_name::text AS name, data_type::text AS type, (is_nullable = 'NO')::int AS notnull,
       collation_name::text AS collation
     FROM information_schema.columns WHERE table_schema = current_schema() AND table_name = $1`,
    table,
  );
const refused = (text: string): Promise<unknown> =>
  open.database
    .write((sql) => sql.script(text))
    .then(
      () => "done",
      (error: Error) => error.message,
    );

class Undo extends Error {}
let seq = 1000;
/** A fresh header row, then a typed row with these columns; nothing of it stays. */
async function insertWith(
  sql: Sql,
  { kind, table }: { kind: FactKind; table: string },
  values: Record<string, unknown>,
): Promise<void> {
  seq += 1;
  await sql.run(
    `INSERT INTO entry (seq, id, chat_id, smith_id, message_id, kind, at, arrived, place)
     VALUES ($1, $2, 'anvil', 'odo', 'm-a', $3, $4, $5, $1)`,
    seq,
    `x${seq}`,
    kind,
    atSecond(0),
    atSecond(0),
  );
  const list = lists.some((one) => one.table === table);
  if (list) {
    await sql.run(`INSERT INTO ${tableOf(kind)} (chat_id, seq) VALUES ('anvil', $1)`, seq);
  }
  const row = { chat_id: "anvil", seq, ...(list && { place: 0 }), ...values };
  const names = Object.keys(row);
  await sql.run(
    `INSERT INTO ${table} (${names.join()}) VALUES (${names.map((_, n) => `$${n + 1}`).join()})`,
    ...Object.values(row),
  );
  throw new RangeError("undo", { cause: new Undo() });
}
/** What the database says to such a row; undefined if it takes it. */
async function insert(
  one: { kind: FactKind; table: string },
  values: Record<string, unknown>,
): Promise<string | undefined> {
  try {
    await open.database.write((sql) => insertWith(sql, one, values));
  } catch (error) {
    return error instanceof Error && error.cause instanceof Undo ? undefined : String(error);
  }
  return undefined;
}

describe("the live schema", () => {
  for (const one of [...kinds, ...lists]) {
    const { table, kind, fields, required } = one;
    it(`${table}: a column for every field, of its type, and no other`, async () => {
      const list = lists.some((each) => each.table === table);
      const keys = ["chat_id", "seq", ...(list ? ["place"] : [])];
      const live = (await columns(table)).filter(({ name }) => !keys.includes(name));
      const wanted = plain(fields).map(([name, field]) => ({
        name: toSnake(name),
        type: columnType(field),
        notnull: Number(required.includes(name)),
        collation: columnType(field) === "text" ? "C" : null,
      }));
      expect(live.toSorted(byName)).toEqual(wanted.toSorted(byName));
    });

    it(`${table}: the same ranges as the schema of ${kind}`, async () => {
      const needed = Object.fromEntries(required.map((name) => [toSnake(name), "x"]));
      for (const [name, field] of plain(fields)) {
        const { good, bad } = samples(field);
        expect(good.length, name).toBeGreaterThan(0);
        for (const value of good) {
          const said = await insert(one, { ...needed, [toSnake(name)]: value });
          expect(said, `${name} ${value}`).toBeUndefined();
        }
        for (const value of bad) {
          const said = await insert(one, { ...needed, [toSnake(name)]: value });
          expect(said, `${name} ${value}`).toMatch(/check constraint|invalid input syntax/);
        }
      }
    });
  }

  it("knows the same kinds of entry, of message and of edge", async () => {
    const listed = async (table: string, column: string) => {
      const [found] = await rows<{ said: string }>(
        `SELECT pg_get_constraintdef(oid) AS said FROM pg_constraint WHERE conname = $1`,
        `${table}_${column}_check`,
      );
      return [...String(found?.said).matchAll(/'([a-z]+)'/g)].map(([, word]) => word);
    };
    const kindRows = await rows<{ name: string; place: string }>("SELECT name, place FROM kind");
    expect(kindRows.map(({ name, place }) => [name, place]).toSorted()).toEqual(
      [
        ...FACT_KINDS.map((kind) => [kind, tableOf(kind)]),
        ...TAKE_BACK_KINDS.map((kind) => [kind, null]),
      ].toSorted(),
    );
    expect(await listed("message", "kind")).toEqual([...MESSAGE_KINDS]);
    expect(await listed("message", "edge")).toEqual([...EDGES]);
    expect(await listed("chat", "edge")).toEqual([...EDGES]);
  });

  it("has the tables, views and columns of SQLite, and chat_id where a row belongs to a chat", async () => {
    const sqlite = openForWriting(":memory:", atSecond(0));
    const named = sqlite.db
      .prepare("SELECT name, type FROM sqlite_schema WHERE type IN ('table', 'view')")
      .all() as { name: string; type: string }[];
    const live = await rows<{ name: string; kind: string }>(
      `SELECT table_name::text AS name, CASE table_type WHEN 'VIEW' THEN 'view' ELSE 'table' END AS kind
       FROM information_schema.tables WHERE table_schema = current_schema()`,
    );
    const further = onlyOnAServer();
    const ours = live.filter(({ name }) => !further.has(name));
    expect(ours.map(({ name, kind }) => `${kind} ${name}`).toSorted()).toEqual(
      named
        .filter(({ name }) => !name.startsWith("sqlite_"))
        .map(({ name, type }) => `${type} ${name}`)
        .toSorted(),
    );
    for (const { name } of named) {
      const there = sqlite.db.prepare("SELECT name FROM pragma_table_info(?)").pluck().all(name);
      const here = (await columns(name)).map((column) => column.name);
      expect(here.filter((column) => column !== "chat_id").toSorted(), name).toEqual(
        there.filter((column) => column !== "chat_id").toSorted(),
      );
    }
    sqlite.close();
  });

  it("leads every key of a chat's rows with the chat, and points nowhere else but at the kinds", async () => {
    const keys = await rows<{ owner: string; target: string | null; kind: string; first: string }>(
      `SELECT t.relname AS owner, f.relname AS target, k.contype::text AS kind, a.attname AS first
       FROM pg_constraint k JOIN pg_class t ON t.oid = k.conrelid
         LEFT JOIN pg_class f ON f.oid = k.confrelid
         JOIN pg_attribute a ON a.attrelid = k.conrelid AND a.attnum = k.conkey[1]
       WHERE k.contype IN ('p', 'u', 'f') AND t.relnamespace = current_schema()::regnamespace`,
    );
    const owned = new Set(keys.filter(({ target }) => target === "chat").map(({ owner }) => owner));
    for (const { owner, target } of keys) if (target && owned.has(target)) owned.add(owner);
    for (const { table } of [...kinds, ...lists]) expect(owned, table).toContain(table);
    const astray = keys.filter(
      ({ owner, target, first }) => owned.has(owner) && target !== "kind" && first !== "chat_id",
    );
    expect(astray).toEqual([]);
    const indexes = await rows<{ table: string; first: string }>(
      `SELECT t.relname AS table, a.attname AS first FROM pg_index i JOIN pg_class t ON t.oid = i.indrelid
         JOIN pg_attribute a ON a.attrelid = i.indrelid AND a.attnum = i.indkey[0]
       WHERE t.relnamespace = current_schema()::regnamespace AND i.indisunique`,
    );
    expect(indexes.filter((one) => owned.has(one.table) && one.first !== "chat_id")).toEqual([]);
  });

  it("puts a row only under an entry of its kind", async () => {
    expect(await insert({ kind: "note", table: "heat" }, {})).toMatch(/of another kind/);
    expect(await insert({ kind: "heat", table: "heat" }, {})).toBeUndefined();
  });

  it("refuses to change or remove what is in the log", async () => {
    for (const { table, fields } of [...kinds, ...lists]) {
      const [name] = plain(fields).at(-1) ?? [""];
      expect(await refused(`UPDATE ${table} SET ${toSnake(name)} = NULL`), table).toMatch(
        /not changed/,
      );
      expect(await refused(`DELETE FROM ${table}`), table).toMatch(/not removed/);
      expect(await refused(`TRUNCATE ${table} CASCADE`), table).toMatch(/not removed/);
    }
    for (const table of ["entry", "message"]) {
      expect(await refused(`DELETE FROM ${table}`)).toMatch(/not removed/);
      expect(await refused(`TRUNCATE ${table} CASCADE`)).toMatch(/not removed/);
    }
    for (const { name, type } of await columns("entry")) {
      if (name === "taken_back_by") continue;
      const value = type === "text" ? "'2020'" : "0";
      expect(await refused(`UPDATE entry SET ${name} = ${value}`), name).toMatch(
        /rows of the log are not changed|violates/,
      );
    }
    expect(await refused("UPDATE message SET text = 'other words'")).toMatch(/not changed/);
    const again =
      "INSERT INTO note SELECT * FROM note ON CONFLICT (chat_id, seq) DO UPDATE SET note = 'y'";
    expect(await refused(again)).toMatch(/not changed/);
  });

  it("lets a row be taken back once", async () => {
    const takeBack = (by: string) =>
      refused(`UPDATE entry SET taken_back_by = ${by} WHERE id = 'a-1'`);
    expect(await takeBack("'no such row'")).toMatch(/foreign key/);
    expect(await takeBack("'a-0'")).toBe("done");
    expect(await takeBack("'a-2'")).toMatch(/taken back once already/);
    expect(await takeBack("NULL")).toMatch(/taken back once already/);
  });
});

/** Tables of migrations that SQLite has no twin of: the work that several processes share, which a file never has. */
function onlyOnAServer(): ReadonlySet<string> {
  const twins = new Set(readMigrations().map(({ number }) => number));
  const alone = postgresMigrations().filter(({ number }) => !twins.has(number));
  return new Set(
    alone.flatMap(({ sql }) =>
      [...sql.matchAll(/CREATE TABLE (\w+)/g)].map(([, name]) => name ?? ""),
    ),
  );
}
