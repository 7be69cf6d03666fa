/**
 * Gives out and removes what is kept of one person. The only place where rows of the log go: the triggers that forbid
 * it let the transaction pass that says so (`hearth_tally.forgetting`).
 */
import { SOMEBODY } from "../forget.js";
import type { Sql } from "./database.js";

/** Every row of or about the smith, table by table, tables without any left out. */
export async function recordsOfSmith(
  sql: Sql,
  smithId: string,
): Promise<Readonly<Record<string, readonly unknown[]>>> {
  const found: Record<string, readonly unknown[]> = {};
  const chats = await chatsOf(sql, smithId);
  const take = async (table: string, where: string, order = ""): Promise<void> => {
    const rows = await sql.all(
      `SELECT t.* FROM "${table}" t WHERE ${where} ${order}`,
      smithId,
      ...(where.includes("$2") ? [chats] : []),
    );
    if (rows.length > 0) found[table] = rows;
  };
  const inChats = "t.chat_id = ANY ($2::text[])";
  await take("smith", "t.id = $1");
  await take("person", "t.id = $1");
  await take("day_sheet_hour", `${inChats} AND t.smith_id = $1`);
  await take("message", `${inChats} AND t.smith_id = $1`, "ORDER BY t.seq");
  await take("entry", `${inChats} AND t.smith_id = $1`, "ORDER BY t.seq");
  for (const table of await kindTables(sql)) {
    const own = `EXISTS (SELECT 1 FROM entry e WHERE e.chat_id = t.chat_id AND e.seq = t.seq AND e.smith_id = $1)`;
    await take(table, `${inChats} AND ${own}`, "ORDER BY t.seq");
  }
  await take("ask", `${inChats} AND t.smith_id = $1`, "ORDER BY t.seq");
  const answers = `EXISTS (SELECT 1 FROM message m WHERE m.chat_id = t.chat_id AND m.id = t.message_id
    AND m.smith_id = $1)`;
  await take("reply", `${inChats} AND ${answers}`, "ORDER BY t.seq");
  return found;
}

/** Returns the number of rows removed or made nameless. */
export async function forgetSmith(sql: Sql, smithId: string): Promise<number> {
  const chats = await chatsOf(sql, smithId);
  // One order for everybody, so that nobody waits for nobody.
  await sql.run(
    "SELECT 1 FROM chat WHERE id = ANY ($1::text[]) ORDER BY id FOR NO KEY UPDATE",
    chats,
  );
  await sql.script("SET LOCAL hearth_tally.forgetting = 'on'; SET CONSTRAINTS ALL DEFERRED");
  const resting = await restingRows(sql, smithId, chats);
  const values = {
    smith: smithId,
    chats,
    somebody: SOMEBODY,
    restingChats: resting.map(({ chat_id }) => chat_id),
    restingIds: resting.map(({ id }) => id),
  };
  const run = (text: string): Promise<number> => {
    const used: unknown[] = [];
    const numbered = text.replace(/@(\w+)/g, (_, name: keyof typeof values) => {
      used.push(values[name]);
      return `$${used.length}${Array.isArray(values[name]) ? "::text[]" : "::text"}`;
    });
    return sql.run(numbered, ...used);
  };
  const mine = "chat_id = ANY (@chats) AND smith_id = @smith";
  const gone = `${mine} AND (chat_id, id) NOT IN (SELECT * FROM unnest(@restingChats, @restingIds))`;
  const byMe = `EXISTS (SELECT 1 FROM message m WHERE m.chat_id = r.chat_id AND m.id = r.message_id
    AND m.smith_id = @smith)`;
  const texts: string[] = [];
  for (const table of await kindTables(sql)) {
    texts.push(
      `DELETE FROM "${table}" WHERE (chat_id, seq) IN (SELECT chat_id, seq FROM entry WHERE ${gone})`,
    );
  }
  texts.push(
    `DELETE FROM entry WHERE ${gone}`,
    "DELETE FROM day_sheet_hour WHERE @smith IN (smith_id, chat_id)",
    `DELETE FROM reply r WHERE r.chat_id = ANY (@chats) AND ${byMe}`,
    `DELETE FROM ask WHERE ${mine}`,
    `DELETE FROM message m WHERE ${mine}
       AND NOT EXISTS (SELECT 1 FROM entry e WHERE e.chat_id = m.chat_id AND e.message_id = m.id)
       AND NOT EXISTS (SELECT 1 FROM ask a WHERE a.chat_id = m.chat_id AND a.answered_by = m.id)`,
    // What must stay for the others' sake loses its author and its words.
    `INSERT INTO smith (chat_id, id, first_seen) SELECT s.chat_id, @somebody, s.first_seen FROM smith s
       WHERE s.id = @smith AND EXISTS (SELECT 1 FROM message m WHERE m.chat_id = s.chat_id AND m.smith_id = s.id)
       ON CONFLICT (chat_id, id) DO NOTHING`,
    `UPDATE entry SET smith_id = @somebody WHERE ${mine}`,
    `UPDATE message m SET smith_id = @somebody, text = '', unread = NULL,
       first_entry = (SELECT min(seq) FROM entry e WHERE e.chat_id = m.chat_id AND e.message_id = m.id),
       last_entry = (SELECT max(seq) FROM entry e WHERE e.chat_id = m.chat_id AND e.message_id = m.id)
       WHERE ${mine}`,
    "DELETE FROM smith WHERE id = @smith",
    `DELETE FROM chat c WHERE c.id = @smith
       AND NOT EXISTS (SELECT 1 FROM message m WHERE m.chat_id = c.id)`,
    "DELETE FROM person WHERE id = @smith AND role = 'smith'",
    "UPDATE person SET name = NULL WHERE id = @smith AND name IS NOT NULL",
  );
  let rows = 0;
  for (const text of texts) rows += await run(text);
  return rows;
}

/** Rows of others rest on an ingot that this smith opened, or stand where a row of theirs stood. */
const restingRows = (sql: Sql, smithId: string, chats: readonly string[]) =>
  sql.all<{ chat_id: string; id: string }>(
    `WITH RECURSIVE kept (chat_id, id) AS (
       SELECT mine.chat_id, mine.id FROM entry mine JOIN entry other ON other.chat_id = mine.chat_id
         AND other.smith_id <> $1 AND mine.id IN (other.ingot_id, other.replaces, other.taken_back_by)
         WHERE mine.chat_id = ANY ($2::text[]) AND mine.smith_id = $1
       UNION
       SELECT mine.chat_id, mine.id FROM kept
         JOIN entry lower ON lower.chat_id = kept.chat_id AND lower.id = kept.id
         JOIN entry mine ON mine.chat_id = lower.chat_id
           AND mine.id IN (lower.ingot_id, lower.replaces, lower.taken_back_by)
         WHERE mine.smith_id = $1)
     SELECT chat_id, id FROM kept`,
    smithId,
    chats,
  );

async function chatsOf(sql: Sql, smithId: string): Promise<readonly string[]> {
  const rows = await sql.all<{ chat_id: string }>(
    "SELECT chat_id FROM smith WHERE id = $1",
    smithId,
  );
  return rows.map(({ chat_id }) => chat_id);
}

/** Tables of the kinds: those whose `seq` points at an entry, or at a row of another such table. */
async function kindTables(sql: Sql): Promise<readonly string[]> {
  const rows = await sql.all<{ name: string }>(
    `SELECT DISTINCT c.relname AS name FROM pg_constraint k JOIN pg_class c ON c.oid = k.conrelid
       JOIN pg_attribute a ON a.attrelid = k.conrelid AND a.attnum = ANY (k.conkey)
     WHERE k.contype = 'f' AND a.attname = 'seq' AND c.relnamespace = current_schema()::regnamespace`,
  );
  return rows.map(({ name }) => name);
}
