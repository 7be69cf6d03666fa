/** Writes and reads what an entry says, in the table of its kind. One mapper for every kind. */
import type { Database, Statement } from "better-sqlite3";
import { FACT_KINDS, FACT_SCHEMAS, type Fact, type FactKind } from "../logbook/index.js";
import { type Column, kindTable } from "./columns.js";

type Row = Record<string, unknown>;
interface KindStatements {
  readonly insert: Statement<unknown[]>;
  readonly select: Statement<[number], Row>;
  readonly columns: readonly Column[];
  readonly lists: readonly {
    readonly field: string;
    readonly insert: Statement<unknown[]>;
    readonly select: Statement<[number], Row>;
    readonly columns: readonly Column[];
  }[];
}

export class Facts {
  readonly #kinds: ReadonlyMap<FactKind, KindStatements>;

  constructor(db: Database) {
    this.#kinds = new Map(FACT_KINDS.map((kind) => [kind, prepare(db, kind)]));
  }

  /** The header row `seq` of the same kind must be there. */
  write(seq: number, fact: Fact): void {
    const kind = this.#of(fact.kind);
    const fields = fact as unknown as Row;
    kind.insert.run(seq, ...bound(fields, kind.columns));
    for (const list of kind.lists) {
      const items = (fields[list.field] ?? []) as readonly Row[];
      items.forEach((item, place) => {
        list.insert.run(seq, place, ...bound(item, list.columns));
      });
    }
  }

  /** Throws a ZodError if the row is not what its schema says. */
  read(seq: number, kind: FactKind): Fact {
    const statements = this.#of(kind);
    const row = statements.select.get(seq);
    if (row === undefined) throw new RangeError(`entry ${seq}: no row of kind ${kind}`);
    const fields: Row = { kind };
    unbind(row, statements.columns, fields);
    for (const list of statements.lists) {
      const items = list.select.all(seq).map((item) => unbind(item, list.columns, {}));
      if (items.length > 0) fields[list.field] = items;
    }
    return FACT_SCHEMAS[kind].parse(fields);
  }

  #of(kind: FactKind): KindStatements {
    const found = this.#kinds.get(kind);
    if (found === undefined) throw new RangeError(`no table for kind ${kind}`);
    return found;
  }
}

function prepare(db: Database, kind: FactKind): KindStatements {
  const { table, columns, lists } = kindTable(kind);
  return {
    columns,
    insert: db.prepare(insertSql(table, ["seq"], columns)),
    select: db.prepare(`SELECT ${namesOf(columns)} FROM ${table} WHERE seq = ?`),
    lists: lists.map((list) => ({
      field: list.field,
      columns: list.columns,
      insert: db.prepare(insertSql(list.table, ["seq", "place"], list.columns)),
      select: db.prepare(
        `SELECT ${namesOf(list.columns)} FROM ${list.table} WHERE seq = ? ORDER BY place`,
      ),
    })),
  };
}

const namesOf = (columns: readonly Column[]): string =>
  columns.map(({ column }) => column).join(", ");

function insertSql(table: string, keys: readonly string[], columns: readonly Column[]): string {
  const names = [...keys, ...columns.map(({ column }) => column)];
  return `INSERT INTO ${table} (${names.join(", ")}) VALUES (${names.map(() => "?").join(", ")})`;
}

const bound = (fields: Row, columns: readonly Column[]): unknown[] =>
  columns.map(({ field, boolean }) => {
    const value = fields[field];
    return value === undefined ? null : boolean ? Number(value) : value;
  });

function unbind(row: Row, columns: readonly Column[], into: Row): Row {
  for (const { field, column, boolean } of columns) {
    const value = row[column];
    if (value !== null) into[field] = boolean ? value === 1 : value;
  }
  return into;
}
