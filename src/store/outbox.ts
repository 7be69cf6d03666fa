/** Replies that wait to be sent: written with the turn, sent afterwards, sent again if that failed. */
import type { Database, Statement } from "better-sqlite3";
import { type NewReply, type Reply, replySchema } from "../logbook/index.js";
import { replyOf } from "./rows.js";
import { utc } from "./times.js";

const LONGEST_ERROR = 500;
/** A bot's token has this shape; errors of the network may quote the address that holds it. */
const TOKEN = /\d{5,}:[\w-]{20,}/g;
export const reasonKept = (reason: string): string =>
  reason.replaceAll(TOKEN, "[token]").slice(0, LONGEST_ERROR);
const COLUMNS = `r.id, r.chat_id, r.message_id, m.source_key, r.body, r.safety, r.created_at, r.attempts
  FROM reply r INDEXED BY reply_unsent JOIN message m ON m.id = r.message_id WHERE r.sent_at IS NULL AND r.given_up = 0`;

export class Outbox {
  readonly #insert: Statement<unknown[]>;
  readonly #unsent: Statement<[number]>;
  readonly #unsentOf: Statement<[string, number]>;
  readonly #sent: Statement<[string, string | null, string]>;
  readonly #failed: Statement<[string, string, number, string]>;

  constructor(db: Database) {
    this.#insert = db.prepare(
      `INSERT INTO reply (id, chat_id, message_id, body, safety, created_at)
       VALUES (?, ?, ?, ?, ?, ?)`,
    );
    this.#unsent = db.prepare(`SELECT ${COLUMNS} ORDER BY r.seq LIMIT ?`);
    this.#unsentOf = db.prepare(`SELECT ${COLUMNS} AND r.chat_id = ? ORDER BY r.seq LIMIT ?`);
    this.#sent = db.prepare(
      "UPDATE reply SET sent_at = ?, sent_as = ?, attempts = attempts + 1 WHERE id = ? AND sent_at IS NULL",
    );
    this.#failed = db.prepare(
      `UPDATE reply SET failed_at = ?, last_error = ?, given_up = ?, attempts = attempts + 1
       WHERE id = ? AND sent_at IS NULL`,
    );
  }

  /** Inside a transaction. */
  add(chatId: string, messageId: string, reply: NewReply, at: string): void {
    this.#insert.run(
      reply.id,
      chatId,
      messageId,
      JSON.stringify(replySchema.parse(reply.body)),
      JSON.stringify(reply.safety),
      utc(at),
    );
  }

  unsent(limit: number, chatId?: string): readonly Reply[] {
    const rows = chatId === undefined ? this.#unsent.all(limit) : this.#unsentOf.all(chatId, limit);
    return rows.map(replyOf);
  }

  markSent(replyId: string, at: string, sentAs?: string): void {
    this.#sent.run(utc(at), sentAs ?? null, replyId);
  }

  markFailed(replyId: string, at: string, reason: string, final: boolean): void {
    this.#failed.run(utc(at), reasonKept(reason), Number(final), replyId);
  }
}
