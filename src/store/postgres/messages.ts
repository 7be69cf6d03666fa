/** The door: what came in, stored before anything is made of it. */
import { type Incoming, incomingSchema, type Turn } from "../../logbook/index.js";
import type { StoredMessage } from "../messages.js";
import { INCOMING_COLUMNS, incomingOf } from "../rows.js";
import { utc } from "../times.js";
import type { Sql } from "./database.js";

/**
 * Whoever writes rows of a chat takes this lock first and holds it to the end of the transaction: turns of a chat come
 * one after another, and their seqs in that order. It does not stop rows that only point at the chat.
 */
export const lockChat = async (sql: Sql, chatId: string): Promise<boolean> =>
  (await sql.run("SELECT 1 FROM chat WHERE id = $1 FOR NO KEY UPDATE", chatId)) === 1;

export async function receive(sql: Sql, message: Incoming): Promise<"new" | "again" | "handled"> {
  const one = incomingSchema.parse(message);
  const receivedAt = utc(one.receivedAt);
  const look = () =>
    sql.one<{ handled_at: string | null }>(
      "SELECT handled_at FROM message WHERE chat_id = $1 AND source_key = $2",
      one.chatId,
      one.sourceKey,
    );
  let [known, seen] = await Promise.all([lockChat(sql, one.chatId), look()]);
  if (!known) {
    await sql.run(
      "INSERT INTO chat (id, edge, first_seen) VALUES ($1, $2, $3) ON CONFLICT (id) DO NOTHING",
      one.chatId,
      one.edge,
      receivedAt,
    );
    // Another may have made it, and the message, in between.
    [known, seen] = await Promise.all([lockChat(sql, one.chatId), look()]);
  }
  if (seen !== undefined) return seen.handled_at === null ? "again" : "handled";
  await sql.run(
    `WITH known AS (
       INSERT INTO smith AS s (chat_id, id, name, first_seen) VALUES ($3, $4, $5, $6)
       ON CONFLICT (chat_id, id) DO UPDATE SET name = excluded.name
         WHERE excluded.name IS NOT NULL AND s.name IS DISTINCT FROM excluded.name)
     INSERT INTO message (id, source_key, chat_id, smith_id, edge, kind, text, sent_at, received_at, edits,
       heard_confidence) VALUES ($1, $2, $3, $4, $7, $8, $9, $10, $6, $11, $12)`,
    one.id,
    one.sourceKey,
    one.chatId,
    one.smithId,
    one.smithName ?? null,
    receivedAt,
    one.edge,
    one.kind,
    one.text,
    utc(one.sentAt),
    one.edits ?? null,
    one.heardConfidence ?? null,
  );
  return "new";
}

/** Locks the chat. */
export const messageOf = (sql: Sql, chatId: string, id: string) =>
  sql.one<StoredMessage>(
    `SELECT m.chat_id, m.smith_id, m.handled_at FROM message m WHERE m.chat_id = $1 AND m.id = $2`,
    chatId,
    id,
  );

/** `seqs`: of the entries that the message led to, in order. */
export async function markHandled(sql: Sql, turn: Turn, seqs: readonly number[]): Promise<void> {
  const { messageId, chatId, at, unread } = turn;
  await sql.run(
    `WITH counted AS (UPDATE chat SET turns = turns + 1 WHERE id = $1)
     UPDATE message SET handled_at = $3, unread = $4, first_entry = $5, last_entry = $6
     WHERE chat_id = $1 AND id = $2`,
    chatId,
    messageId,
    utc(at),
    JSON.stringify(unread),
    seqs[0] ?? null,
    seqs.at(-1) ?? null,
  );
}

export async function waiting(sql: Sql): Promise<readonly Incoming[]> {
  const rows = await sql.all(
    `SELECT ${INCOMING_COLUMNS} FROM message m
       JOIN smith s ON s.chat_id = m.chat_id AND s.id = m.smith_id
     WHERE m.handled_at IS NULL ORDER BY m.seq`,
  );
  return rows.map(incomingOf);
}

export const chats = (sql: Sql) =>
  sql.all<{ chatId: string; edge: string }>(
    `SELECT id AS "chatId", edge FROM chat ORDER BY first_seen, id`,
  );
