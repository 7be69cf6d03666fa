/** What an entry says: read as JSON beside its header, written in one statement with it. */
import { FACT_KINDS, type Fact, type FactKind } from "../../logbook/index.js";
import { bound, factOf, itemsOf, type KindTable, kindTable, type Row } from "../columns.js";
import { ENTRY_COLUMNS, entryOf } from "../rows.js";
import type { Sql } from "./database.js";

const TABLES = new Map<FactKind, KindTable>(FACT_KINDS.map((kind) => [kind, kindTable(kind)]));
const tableFor = (kind: FactKind): KindTable => {
  const found = TABLES.get(kind);
  if (found === undefined) throw new RangeError(`no table for kind ${kind}`);
  return found;
};

/** A list stands beside the columns of its row under this name. */
const listName = (field: string): string => `list ${field}`;

function factSql({ kind, table, lists }: KindTable): string {
  const rows = lists.map(
    ({ field, table: list }) =>
      `, (SELECT json_agg(row_to_json(l) ORDER BY l.place) FROM ${list} l
          WHERE l.chat_id = t.chat_id AND l.seq = t.seq) AS "${listName(field)}"`,
  );
  return `WHEN '${kind}' THEN (SELECT row_to_json(f) FROM (SELECT t.*${rows.join("")} FROM ${table} t
    WHERE t.chat_id = e.chat_id AND t.seq = e.seq) f)`;
}

/** What a query selects of `entry e` to have its rows read by `readEntry`. */
export const ENTRY = `${ENTRY_COLUMNS}, CASE e.kind ${[...TABLES.values()].map(factSql).join("\n  ")} END AS fact`;

/** A row selected with `ENTRY`. Throws a ZodError if it is not what its schema says. */
export const readEntry = (row: Row) =>
  Object.freeze(
    entryOf(row, {
      read: (seq, kind) => {
        const fact = row.fact as Row | null;
        if (fact === null) throw new RangeError(`entry ${seq}: no row of kind ${kind}`);
        return factOf(tableFor(kind), fact, ({ field }) => (fact[listName(field)] ?? []) as Row[]);
      },
    }),
  );

/** Statements that add the row of a kind to a header row that a WITH clause calls `e`; `from`: its first value's number. */
export function insertOf(fact: Fact, from: number): { text: string; values: readonly unknown[] } {
  const { table, columns } = tableFor(fact.kind);
  const names = columns.map(({ column }) => `, ${column}`).join("");
  const places = columns.map((_, index) => `, $${from + index}`).join("");
  return {
    text: `INSERT INTO ${table} (chat_id, seq${names}) SELECT e.chat_id, e.seq${places} FROM e RETURNING seq`,
    values: bound(fact as unknown as Row, columns),
  };
}

/** The rows of a fact's lists. */
export async function writeLists(sql: Sql, chatId: string, seq: number, fact: Fact): Promise<void> {
  for (const { field, table, columns } of tableFor(fact.kind).lists) {
    const names = ["chat_id", "seq", "place", ...columns.map(({ column }) => column)];
    const text = `INSERT INTO ${table} (${names.join(", ")}) VALUES (${names.map((_, n) => `$${n + 1}`).join(", ")})`;
    for (const [place, item] of itemsOf(fact, field).entries()) {
      await sql.run(text, chatId, seq, place, ...bound(item, columns));
    }
  }
}
