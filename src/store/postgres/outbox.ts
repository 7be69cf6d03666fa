/** Replies that wait to be sent: written with the turn, sent afterwards, sent again if that failed. */
import { type NewReply, type Reply, replySchema } from "../../logbook/index.js";
import { reasonKept } from "../outbox.js";
import { replyOf } from "../rows.js";
import { utc } from "../times.js";
import type { Sql } from "./database.js";

const WAITING = `SELECT r.id, r.chat_id, r.message_id, m.source_key, r.body, r.safety, r.created_at, r.attempts
  FROM reply r JOIN message m ON m.chat_id = r.chat_id AND m.id = r.message_id
  WHERE r.sent_at IS NULL AND r.given_up = 0`;

export async function addReply(
  sql: Sql,
  chatId: string,
  messageId: string,
  reply: NewReply,
  at: string,
): Promise<void> {
  await sql.run(
    `INSERT INTO reply (id, chat_id, message_id, body, safety, created_at)
     VALUES ($1, $2, $3, $4, $5, $6)`,
    reply.id,
    chatId,
    messageId,
    JSON.stringify(replySchema.parse(reply.body)),
    JSON.stringify(reply.safety),
    utc(at),
  );
}

export async function unsent(sql: Sql, limit: number, chatId?: string): Promise<readonly Reply[]> {
  const rows =
    chatId === undefined
      ? await sql.all(`${WAITING} ORDER BY r.seq LIMIT $1`, limit)
      : await sql.all(`${WAITING} AND r.chat_id = $2 ORDER BY r.seq LIMIT $1`, limit, chatId);
  return rows.map(replyOf);
}

/** `chatId`: the chat of the reply, where it is known. Without it every chat is searched. */
const ofChat = (chatId: string | undefined, place: number): string =>
  chatId === undefined ? "" : ` AND chat_id = $${place}`;
const also = (chatId: string | undefined): readonly string[] =>
  chatId === undefined ? [] : [chatId];

export async function markSent(
  sql: Sql,
  replyId: string,
  at: string,
  sentAs?: string,
  chatId?: string,
): Promise<void> {
  await sql.run(
    `UPDATE reply SET sent_at = $2, sent_as = $3, attempts = attempts + 1
     WHERE id = $1 AND sent_at IS NULL${ofChat(chatId, 4)}`,
    replyId,
    utc(at),
    sentAs ?? null,
    ...also(chatId),
  );
}

export async function markFailed(
  sql: Sql,
  replyId: string,
  at: string,
  reason: string,
  final: boolean,
  chatId?: string,
): Promise<void> {
  await sql.run(
    `UPDATE reply SET failed_at = $2, last_error = $3, given_up = $4, attempts = attempts + 1
     WHERE id = $1 AND sent_at IS NULL${ofChat(chatId, 5)}`,
    replyId,
    utc(at),
    reasonKept(reason),
    Number(final),
    ...also(chatId),
  );
}
