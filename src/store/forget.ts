/**
 * Gives out and removes what is kept of one person. The only place where rows of the log go: the
 * triggers that forbid it are taken off and put back within the one transaction.
 */
import type { Database } from "better-sqlite3";
import { z } from "zod";

const triggerRow = z.object({ name: z.string(), sql: z.string() });
const tableNames = z.array(z.string());

/** Stands in for a person in rows that other smiths' rows rest upon. */
const SOMEBODY = "somebody";

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
  let rows = 0;
  const run = (sql: string, ...values: string[]): void => {
    rows += db.prepare(sql).run(...values).changes;
  };
  db.exec("CREATE TEMP TABLE resting (id TEXT PRIMARY KEY)");
  // Rows of others rest on an ingot that this smith opened, or stand where a row of theirs stood.
  run(
    `WITH RECURSIVE kept (id) AS (
       SELECT mine.id FROM entry mine JOIN entry other ON other.smith_id <> ?1
         AND mine.id IN (other.ingot_id, other.replaces, other.taken_back_by)
         WHERE mine.smith_id = ?1
       UNION
       SELECT mine.id FROM kept JOIN entry lower ON lower.id = kept.id
         JOIN entry mine ON mine.id IN (lower.ingot_id, lower.replaces, lower.taken_back_by)
         WHERE mine.smith_id = ?1)
     INSERT INTO temp.resting SELECT id FROM kept`,
    smithId,
  );
  rows = 0;
  const gone = "smith_id = ? AND id NOT IN (SELECT id FROM temp.resting)";
  for (const table of kindTables(db)) {
    run(`DELETE FROM "${table}" WHERE seq IN (SELECT seq FROM entry WHERE ${gone})`, smithId);
  }
  run(`DELETE FROM entry WHERE ${gone}`, smithId);
  run("DELETE FROM reply WHERE message_id IN (SELECT id FROM message WHERE smith_id = ?)", smithId);
  run("DELETE FROM ask WHERE smith_id = ?", smithId);
  run(
    `DELETE FROM message WHERE smith_id = ?1 AND id NOT IN (SELECT message_id FROM entry)
       AND id NOT IN (SELECT answered_by FROM ask WHERE answered_by IS NOT NULL)`,
    smithId,
  );
  // What must stay for the others' sake loses its author and its words.
  db.prepare(
    `INSERT INTO smith (id, first_seen) SELECT ?2, first_seen FROM smith WHERE id = ?1
       AND EXISTS (SELECT 1 FROM message WHERE smith_id = ?1) ON CONFLICT (id) DO NOTHING`,
  ).run(smithId, SOMEBODY);
  run("UPDATE entry SET smith_id = ?2 WHERE smith_id = ?1", smithId, SOMEBODY);
  run("UPDATE message SET smith_id = ?2, text = '' WHERE smith_id = ?1", smithId, SOMEBODY);
  db.prepare(
    `UPDATE message SET first_entry = (SELECT min(seq) FROM entry WHERE message_id = message.id),
       last_entry = (SELECT max(seq) FROM entry WHERE message_id = message.id) WHERE smith_id = ?`,
  ).run(SOMEBODY);
  run("DELETE FROM smith WHERE id = ?", smithId);
  run(
    "DELETE FROM chat WHERE id = ? AND NOT EXISTS (SELECT 1 FROM message WHERE chat_id = chat.id)",
    smithId,
  );
  run("DELETE FROM person WHERE id = ? AND role = 'smith'", smithId);
  run("UPDATE person SET name = NULL WHERE id = ? AND name IS NOT NULL", smithId);
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
