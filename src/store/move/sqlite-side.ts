/** A file as one side of a move. */
import type { Database } from "better-sqlite3";
import { z } from "zod";
import type { Row } from "../columns.js";
import { SqliteStore } from "../sqlite-store.js";
import { type MovedTable, type MoveSide, SMITH } from "./moved-table.js";

const PAGE = 5000;
const opening = z.array(z.object({ chatId: z.string(), ingotId: z.string() }));

export function sqliteSide(db: Database, file: string): MoveSide {
  const store = new SqliteStore({ db, close: () => db.close() });
  return {
    shown: file,
    pages: (table) => (table.name === SMITH ? smithsByChat(db) : pagesOf(db, table)),
    put: async (table, rows) => {
      const insert = db.prepare(insertSql(table));
      for (const row of rows) insert.run(table.ownColumns.map((column) => row[column]));
    },
    count: async ({ name }) => Number(db.prepare(`SELECT count(*) FROM "${name}"`).pluck().get()),
    ingots: async () =>
      opening.parse(
        db
          .prepare(
            `SELECT chat_id AS "chatId", id AS "ingotId" FROM entry WHERE kind = 'ingot' AND id = ingot_id ORDER BY seq`,
          )
          .all(),
      ),
    ingotLog: (chatId, ingotId) => store.ingotLog(chatId, ingotId),
  };
}

/** A smith may come from several chats: the row of the chat that they wrote in last comes last and names them. */
function insertSql({ name, ownColumns }: MovedTable): string {
  const places = ownColumns.map(() => "?").join(", ");
  const sql = `INSERT INTO "${name}" (${ownColumns.join(", ")}) VALUES (${places})`;
  if (name !== SMITH) return sql;
  return `${sql} ON CONFLICT (id) DO UPDATE SET name = coalesce(excluded.name, name),
    first_seen = min(excluded.first_seen, first_seen)`;
}

async function* pagesOf(db: Database, table: MovedTable): AsyncGenerator<readonly Row[]> {
  const { name, columns, key, underEntry } = table;
  const chat = underEntry && !table.ownColumns.includes("chat_id");
  const selected = columns.map((column) =>
    chat && column === "chat_id" ? "e.chat_id" : `t."${column}"`,
  );
  const from = chat ? `"${name}" t JOIN entry e ON e.seq = t.seq` : `"${name}" t`;
  const keys = key.map((column) => `t."${column}"`).join(", ");
  const order = `ORDER BY ${keys} LIMIT ${PAGE}`;
  const first = `SELECT ${selected.join(", ")} FROM ${from} ${order}`;
  const next = `SELECT ${selected.join(", ")} FROM ${from}
    WHERE (${keys}) > (${key.map(() => "?").join(", ")}) ${order}`;
  let rows = db.prepare<unknown[], Row>(first).all();
  for (;;) {
    if (rows.length > 0) yield rows;
    const last = rows.at(-1);
    if (rows.length < PAGE || last === undefined) return;
    rows = db.prepare<unknown[], Row>(next).all(...key.map((column) => last[column]));
  }
}

async function* smithsByChat(db: Database): AsyncGenerator<readonly Row[]> {
  yield db
    .prepare<[], Row>(
      `SELECT p.chat_id, s.id, s.name, s.first_seen FROM (
         SELECT chat_id, smith_id FROM message UNION SELECT chat_id, smith_id FROM entry
         UNION SELECT chat_id, smith_id FROM ask UNION SELECT chat_id, smith_id FROM day_sheet_hour
       ) p JOIN smith s ON s.id = p.smith_id ORDER BY s.id, p.chat_id`,
    )
    .all();
}
