/** The tables say the same as the zod schemas: names, types, ranges; and the log cannot be changed. */
import type { Database } from "better-sqlite3";
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
import { type OpenDatabase, openForWriting } from "../../src/store/open-database.js";
import { SqliteStore } from "../../src/store/sqlite-store.js";
import { byName, columnType, kinds, lists, plain, samples, tableOf } from "./kind-fields.js";
import { atSecond, sampleMessage, sampleTurn } from "./sample-turns.js";

describe("the live schema", () => {
  let open: OpenDatabase;
  let db: Database;
  let seq = 0;
  const columns = (table: string) =>
    db.prepare('SELECT name, type, "notnull" FROM pragma_table_info(?)').all(table) as {
      name: string;
      type: string;
      notnull: number;
    }[];

  beforeAll(async () => {
    open = openForWriting(":memory:", atSecond(0));
    db = open.db;
    const store = new SqliteStore(open);
    await store.receive(sampleMessage({ id: "a" }));
    await store.commit(
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
  afterAll(() => open.close());

  /** A fresh header row, then a typed row with these columns. */
  function insert(
    { kind, table }: { kind: FactKind; table: string },
    values: Record<string, unknown>,
  ) {
    const savepoint = db.transaction(() => {
      seq = Number(db.prepare("SELECT max(seq) + 1 FROM entry").pluck().get());
      db.prepare(
        `INSERT INTO entry (seq, id, chat_id, smith_id, message_id, kind, at, arrived, place)
         VALUES (?, ?, 'anvil', 'odo', 'm-a', ?, ?, ?, ?)`,
      ).run(seq, `x${seq}`, kind, atSecond(0), atSecond(0), seq);
      const list = lists.some((one) => one.table === table);
      if (list) db.prepare(`INSERT INTO ${tableOf(kind)} (seq) VALUES (?)`).run(seq);
      const row = { seq, ...(list && { place: 0 }), ...values };
      const names = Object.keys(row);
      db.prepare(
        `INSERT INTO ${table} (${names.join()}) VALUES (${names.map(() => "?").join()})`,
      ).run(...Object.values(row));
      throw new Undo();
    });
    try {
      savepoint();
    } catch (error) {
      if (!(error instanceof Undo)) throw error;
    }
  }
  class Undo extends Error {}

  it("has strict tables and foreign keys that hold", () => {
    const tables = db
      .prepare(
        "SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND type = 'table'",
      )
      .all() as { name: string; strict: number }[];
    const loose = tables.filter(({ name, strict }) => strict === 0 && !name.startsWith("sqlite_"));
    expect(loose).toEqual([]);
    expect(db.pragma("foreign_keys", { simple: true })).toBe(1);
    expect(db.pragma("foreign_key_check")).toEqual([]);
  });

  for (const one of [...kinds, ...lists]) {
    const { table, kind, fields, required } = one;
    it(`${table}: a column for every field, of its type, and no other`, () => {
      const keys = lists.some((list) => list.table === table) ? ["seq", "place"] : ["seq"];
      const live = columns(table).filter(({ name }) => !keys.includes(name));
      const wanted = plain(fields).map(([name, field]) => ({
        name: toSnake(name),
        type: columnType(field),
        notnull: Number(required.includes(name)),
      }));
      expect(live.toSorted(byName)).toEqual(wanted.toSorted(byName));
    });

    it(`${table}: the same ranges as the schema of ${kind}`, () => {
      const needed = Object.fromEntries(required.map((name) => [toSnake(name), "x"]));
      for (const [name, field] of plain(fields)) {
        const { good, bad } = samples(field);
        expect(good.length, name).toBeGreaterThan(0);
        for (const value of good) {
          expect(
            () => insert(one, { ...needed, [toSnake(name)]: value }),
            `${name} ${value}`,
          ).not.toThrow();
        }
        for (const value of bad) {
          expect(
            () => insert(one, { ...needed, [toSnake(name)]: value }),
            `${name} ${value}`,
          ).toThrow(/CHECK constraint failed|cannot store/);
        }
      }
    });
  }

  it("knows the same kinds of entry, of message and of edge", () => {
    const listed = (table: string, column: string) => {
      const sql = String(
        db.prepare("SELECT sql FROM sqlite_schema WHERE name = ?").pluck().get(table),
      );
      const list = new RegExp(`${column} IN \\(([^)]*)\\)`).exec(sql)?.[1] ?? "";
      return [...list.matchAll(/'([a-z]+)'/g)].map(([, word]) => word);
    };
    const kindRows = db.prepare("SELECT name, place FROM kind").raw().all() as [string, string][];
    expect(kindRows.toSorted()).toEqual(
      [
        ...FACT_KINDS.map((kind) => [kind, tableOf(kind)]),
        ...TAKE_BACK_KINDS.map((kind) => [kind, null]),
      ].toSorted(),
    );
    expect(listed("message", "kind")).toEqual([...MESSAGE_KINDS]);
    expect(listed("message", "edge")).toEqual([...EDGES]);
    expect(listed("chat", "edge")).toEqual([...EDGES]);
  });

  it("puts a row only under an entry of its kind", () => {
    expect(() => insert({ kind: "note", table: "heat" }, {})).toThrow(
      /of another kind|FOREIGN KEY/,
    );
    expect(() => insert({ kind: "heat", table: "heat" }, {})).not.toThrow();
  });

  it("reaches from every typed row the message that said it and the row that takes it back", () => {
    for (const { table } of kinds) {
      const rows = db
        .prepare(
          `SELECT m.text, e.taken_back_by FROM ${table} JOIN entry e USING (seq)
           JOIN message m ON m.id = e.message_id`,
        )
        .all();
      expect(rows, table).toEqual([{ text: "heat 4 at 950", taken_back_by: null }]);
    }
  });

  it("refuses to change or remove what is in the log", () => {
    for (const { table, fields } of [...kinds, ...lists]) {
      const [name] = plain(fields).at(-1) ?? [""];
      expect(() => db.exec(`UPDATE ${table} SET ${toSnake(name)} = NULL`), table).toThrow(
        /not changed/,
      );
      expect(() => db.exec(`DELETE FROM ${table}`), table).toThrow(/not removed/);
    }
    expect(() => db.exec("DELETE FROM entry")).toThrow(/not removed/);
    expect(() => db.exec("DELETE FROM message")).toThrow(/not removed/);
    for (const { name } of columns("entry")) {
      if (name === "taken_back_by") continue;
      const value = ["seq", "place", "confidence"].includes(name) ? "0.0" : "'2020'";
      expect(() => db.exec(`UPDATE entry SET ${name} = ${value}`), name).toThrow(
        /rows of the log are not changed|constraint failed|cannot store/,
      );
    }
    expect(() => db.exec("UPDATE message SET text = 'other words'")).toThrow(/not changed/);
    for (const { table } of [...kinds, ...lists]) {
      expect(() => db.exec(`REPLACE INTO ${table} SELECT * FROM ${table}`), table).toThrow(
        /not replaced/,
      );
    }
    for (const table of ["entry", "message"]) {
      expect(() => db.exec(`REPLACE INTO ${table} SELECT * FROM ${table}`), table).toThrow(
        /not replaced/,
      );
    }
  });

  it("lets a row be taken back once", () => {
    const takeBack = db.prepare("UPDATE entry SET taken_back_by = ? WHERE id = 'a-1'");
    expect(() => takeBack.run("no such row")).toThrow();
    takeBack.run("a-0");
    expect(() => takeBack.run("a-2")).toThrow(/taken back once already/);
    expect(() => takeBack.run(null)).toThrow(/taken back once already/);
  });
});
