/**
 * Gives out and removes what is kept of one person. The only place where rows of the log go: the
 * triggers that forbid it are taken off and put back within the one transaction.
 */
import type { Database } from "better-sqlite3";
import { z } from "zod";

const triggerRow = z.object({ name: z.string(), sql: z.string() });
const tableNames = z.array(z.string());

/** Stands in for a person in rows that other smiths' rows rest upon. */
export const SOMEBODY = "somebody";

/** Every row of or about the smith, table by table, tables without any left out. */
export function recordsOfSmith(
  db: Database,
  smithId: string,
): Readonly<Record<string, readonly unknown[]>> {
  const found: Record<string, readonly unknown[]> = {};
  const take = (table: string, where: string): void => {
    const rows = db.prepare(`SELECT t.* FROM "${table}" t WHERE ${where}`).all(smithId);
    if (rows.length > 0) found[table] = rows;
  };
  take("smith", "t.id = ?");
  take("person", "t.id = ?");
  take("day_sheet_hour", "t.smith_id = ?");
  take("message", "t.smith_id = ? ORDER BY t.seq");
  take("entry", "t.smith_id = ? ORDER BY t.seq");
  for (const table of kindTables(db)) {
    take(table, "t.seq IN (SELECT seq FROM entry WHERE smith_id = ?) ORDER BY t.seq");
  }
  take("ask", "t.smith_id = ? ORDER BY t.seq");
  take("reply", "t.message_id IN (SELECT id FROM message WHERE smith_id = ?) ORDER BY t.seq");
  return found;
}

/** Inside a transaction. Returns the number of rows removed or made nameless. */
export function forgetSmith(db: Database, smithId: string): number {
  const triggers = db
    .prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
    .all()
    .map((row) => triggerRow.parse(row));
  db.pragma("defer_foreign_keys = ON");
  db.pragma("secure_delete = ON");
  for (const { name } of triggers) db.exec(`DROP TRIGGER "${name}"`);
  const removed = remove(db, smithId);
  for (const { sql } of triggers) db.exec(sql);
  return removed;
}

function remove(db: Database, smithId: string): number {
  const names = { smith: smithId, somebody: SOMEBODY };
  const run = (sql: string): number => {
    const used = Object.entries(names).filter(([name]) => sql.includes(`@${name}`));
    return db.prepare(sql).run(Object.fromEntries(used)).changes;
  };
  db.exec("CREATE TEMP TABLE resting (id TEXT PRIMARY KEY)");
  // Rows of others rest on an ingot that this smith opened, or stand where a row of theirs stood.
  run(
    `WITH RECURSIVE kept (id) AS (
       SELECT mine.id FROM entry mine JOIN entry other ON other.smith_id <> @smith
         AND mine.id IN (other.ingot_id, other.replaces, other.taken_back_by)
         WHERE mine.smith_id = @smith
       UNION
       SELECT mine.id FROM kept JOIN entry lower ON lower.id = kept.id
         JOIN entry mine ON mine.id IN (lower.ingot_id, lower.replaces, lower.taken_back_by)
         WHERE mine.smith_id = @smith)
     INSERT INTO temp.resting SELECT id FROM kept`,
  );
  const gone = "smith_id = @smith AND id NOT IN (SELECT id FROM temp.resting)";
  let rows = 0;
  for (const table of kindTables(db)) {
    rows += run(`DELETE FROM "${table}" WHERE seq IN (SELECT seq FROM entry WHERE ${gone})`);
  }
  for (const sql of [
    `DELETE FROM entry WHERE ${gone}`,
    "DELETE FROM day_sheet_hour WHERE @smith IN (smith_id, chat_id)",
    "DELETE FROM reply WHERE message_id IN (SELECT id FROM message WHERE smith_id = @smith)",
    "DELETE FROM ask WHERE smith_id = @smith",
    `DELETE FROM message WHERE smith_id = @smith AND id NOT IN (SELECT message_id FROM entry)
       AND id NOT IN (SELECT answered_by FROM ask WHERE answered_by IS NOT NULL)`,
    // What must stay for the others' sake loses its author and its words.
    `INSERT INTO smith (id, first_seen) SELECT @somebody, first_seen FROM smith WHERE id = @smith
       AND EXISTS (SELECT 1 FROM message WHERE smith_id = @smith) ON CONFLICT (id) DO NOTHING`,
    "UPDATE entry SET smith_id = @somebody WHERE smith_id = @smith",
    `UPDATE message SET smith_id = @somebody, text = '', unread = NULL,
       first_entry = (SELECT min(seq) FROM entry WHERE message_id = message.id),
       last_entry = (SELECT max(seq) FROM entry WHERE message_id = message.id)
       WHERE smith_id = @smith`,
    "DELETE FROM smith WHERE id = @smith",
    `DELETE FROM chat WHERE id = @smith
       AND NOT EXISTS (SELECT 1 FROM message WHERE chat_id = chat.id)`,
    "DELETE FROM person WHERE id = @smith AND role = 'smith'",
    "UPDATE person SET name = NULL WHERE id = @smith AND name IS NOT NULL",
  ]) {
    rows += run(sql);
  }
  db.exec("DROP TABLE temp.resting");
  return rows;
}

/** Tables of the kinds: those whose `seq` points at an entry, or at a row of another such table. */
function kindTables(db: Database): readonly string[] {
  const rows = db
    .prepare(
      `SELECT DISTINCT t.name FROM sqlite_schema t JOIN pragma_foreign_key_list(t.name) f
       WHERE t.type = 'table' AND f."from" = 'seq'`,
    )
    .pluck()
    .all();
  return tableNames.parse(rows);
}
