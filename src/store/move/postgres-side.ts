/** A database server as one side of a move, inside one transaction. */
import type { Row } from "../columns.js";
import type { PostgresDatabase, Sql } from "../postgres/database.js";
import { entriesOfIngot } from "../postgres/entries.js";
import { type MovedTable, type MoveSide, SMITH } from "./moved-table.js";

const PAGE = 5000;

export function postgresSide(sql: Sql, shown: PostgresDatabase["shown"]): MoveSide {
  return {
    shown,
    pages: (table) => pagesOf(sql, table),
    put: (table, rows) => put(sql, table, rows),
    count: async ({ name }) => {
      const what = name === SMITH ? "count(DISTINCT id)" : "count(*)";
      const row = await sql.one<{ rows: number }>(`SELECT ${what} AS rows FROM "${name}"`);
      return row?.rows ?? 0;
    },
    ingots: () =>
      sql.all(
        `SELECT chat_id AS "chatId", id AS "ingotId" FROM entry WHERE kind = 'ingot' AND id = ingot_id ORDER BY seq`,
      ),
    ingotLog: (chatId, ingotId) => entriesOfIngot(sql, chatId, ingotId),
  };
}

async function* pagesOf(sql: Sql, table: MovedTable): AsyncGenerator<readonly Row[]> {
  const { name, columns, key } = table;
  const wanted = columns.map((column) => `t."${column}"`).join(", ");
  const cursor = `moving_${name}`;
  const latest = `(SELECT max(m.seq) FROM message m WHERE m.chat_id = t.chat_id AND m.smith_id = t.id)`;
  const order =
    name === SMITH ? `${latest} NULLS FIRST` : key.map((column) => `t."${column}"`).join(", ");
  await sql.script(
    `DECLARE ${cursor} NO SCROLL CURSOR FOR SELECT ${wanted} FROM "${name}" t ORDER BY ${order}`,
  );
  for (;;) {
    const rows = await sql.all<Row>(`FETCH ${PAGE} FROM ${cursor}`);
    if (rows.length > 0) yield rows;
    if (rows.length < PAGE) break;
  }
  await sql.script(`CLOSE ${cursor}`);
}

async function put(sql: Sql, { name, columns }: MovedTable, rows: readonly Row[]): Promise<void> {
  const types = await sql.all<{ name: string; type: string }>(
    `SELECT column_name::text AS name, data_type::text AS type FROM information_schema.columns
     WHERE table_schema = current_schema() AND table_name = $1`,
    name,
  );
  const typeOf = new Map(types.map((column) => [column.name, column.type]));
  const lists = columns.map((column, n) => `$${n + 1}::${typeOf.get(column)}[]`);
  const names = columns.map((column) => `"${column}"`).join(", ");
  await sql.run(
    `INSERT INTO "${name}" (${names}) SELECT ${columns.map((_, n) => `r.c${n}`).join(", ")}
     FROM unnest(${lists.join(", ")}) WITH ORDINALITY r (${columns.map((_, n) => `c${n}`).join(", ")}, n) ORDER BY n`,
    ...columns.map((column) => rows.map((row) => row[column] ?? null)),
  );
}

/** New rows go on after those that were moved. */
export async function continueSeqs(sql: Sql): Promise<void> {
  const identities = await sql.all<{ name: string }>(
    `SELECT table_name::text AS name FROM information_schema.columns
     WHERE table_schema = current_schema() AND column_name = 'seq' AND is_identity = 'YES'`,
  );
  for (const { name } of identities) {
    await sql.run(
      `SELECT setval(pg_get_serial_sequence('"${name}"', 'seq'), (SELECT max(seq) FROM "${name}"))
       WHERE EXISTS (SELECT 1 FROM "${name}")`,
    );
  }
}
