/** Writes and reads what an entry says, in the table of its kind. One mapper for every kind. */
import type { Database, Statement } from "better-sqlite3";
import { FACT_KINDS, type Fact, type FactKind } from "../logbook/index.js";
import {
  bound,
  type Column,
  factOf,
  itemsOf,
  type KindTable,
  kindTable,
  type Row,
} from "./columns.js";

interface KindStatements {
  readonly of: KindTable;
  readonly insert: Statement<unknown[]>;
  readonly select: Statement<[number], Row>;
  /** By the list's field. */
  readonly lists: ReadonlyMap<
    string,
    { readonly insert: Statement<unknown[]>; readonly select: Statement<[number], Row> }
  >;
}

export class Facts {
  readonly #kinds: ReadonlyMap<FactKind, KindStatements>;

  constructor(db: Database) {
    this.#kinds = new Map(FACT_KINDS.map((kind) => [kind, prepare(db, kind)]));
  }

  /** The header row `seq` of the same kind must be there. */
  write(seq: number, fact: Fact): void {
    const { of, insert, lists } = this.#of(fact.kind);
    insert.run(seq, ...bound(fact as unknown as Row, of.columns));
    for (const { field, columns } of of.lists) {
      itemsOf(fact, field).forEach((item, place) => {
        lists.get(field)?.insert.run(seq, place, ...bound(item, columns));
      });
    }
  }

  /** Throws a ZodError if the row is not what its schema says. */
  read(seq: number, kind: FactKind): Fact {
    const { of, select, lists } = this.#of(kind);
    const row = select.get(seq);
    if (row === undefined) throw new RangeError(`entry ${seq}: no row of kind ${kind}`);
    return factOf(of, row, ({ field }) => lists.get(field)?.select.all(seq) ?? []);
  }

  #of(kind: FactKind): KindStatements {
    const found = this.#kinds.get(kind);
    if (found === undefined) throw new RangeError(`no table for kind ${kind}`);
    return found;
  }
}

function prepare(db: Database, kind: FactKind): KindStatements {
  const of = kindTable(kind);
  return {
    of,
    insert: db.prepare(insertSql(of.table, ["seq"], of.columns)),
    select: db.prepare(`SELECT ${namesOf(of.columns)} FROM ${of.table} WHERE seq = ?`),
    lists: new Map(
      of.lists.map(({ field, table, columns }) => [
        field,
        {
          insert: db.prepare(insertSql(table, ["seq", "place"], columns)),
          select: db.prepare(
            `SELECT ${namesOf(columns)} FROM ${table} WHERE seq = ? ORDER BY place`,
          ),
        },
      ]),
    ),
  };
}

const namesOf = (columns: readonly Column[]): string =>
  columns.map(({ column }) => column).join(", ");

function insertSql(table: string, keys: readonly string[], columns: readonly Column[]): string {
  const names = [...keys, ...columns.map(({ column }) => column)];
  return `INSERT INTO ${table} (${names.join(", ")}) VALUES (${names.map(() => "?").join(", ")})`;
}
