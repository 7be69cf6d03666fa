/** Questions put to a smith, and whether they were answered. */
import type { Database, Statement } from "better-sqlite3";
import { askSchema, type OpenAsk, type Turn } from "../logbook/index.js";
import { askOf } from "./rows.js";
import { utc } from "./times.js";

const COLUMNS = "id, about, choices, message_id, asked_at, answered_by";

export class Asks {
  readonly #insert: Statement<unknown[]>;
  readonly #answer: Statement<[string, string, string]>;
  readonly #byId: Statement<[string, string]>;
  readonly #latest: Statement<[string, string]>;

  constructor(db: Database) {
    this.#insert = db.prepare(
      `INSERT INTO ask (id, chat_id, smith_id, message_id, about, choices, asked_at)
       VALUES (?, ?, ?, ?, ?, ?, ?)`,
    );
    this.#answer = db.prepare(
      "UPDATE ask SET answered_by = ? WHERE id = ? AND chat_id = ? AND answered_by IS NULL",
    );
    this.#byId = db.prepare(`SELECT ${COLUMNS} FROM ask WHERE id = ? AND chat_id = ?`);
    this.#latest = db.prepare(
      `SELECT ${COLUMNS} FROM ask WHERE chat_id = ? AND smith_id = ? ORDER BY seq DESC LIMIT 1`,
    );
  }

  /** Inside a transaction. */
  write(turn: Turn): void {
    if (turn.answers !== undefined) this.#answer.run(turn.messageId, turn.answers, turn.chatId);
    if (turn.ask === undefined) return;
    const ask = askSchema.parse(turn.ask);
    this.#insert.run(
      ask.id,
      turn.chatId,
      turn.smithId,
      turn.messageId,
      ask.about,
      JSON.stringify(ask.choices),
      utc(turn.at),
    );
  }

  find(chatId: string, askId: string): OpenAsk | undefined {
    const row = this.#byId.get(askId, chatId);
    return row === undefined ? undefined : askOf(row);
  }

  latest(chatId: string, smithId: string): OpenAsk | undefined {
    const row = this.#latest.get(chatId, smithId);
    return row === undefined ? undefined : askOf(row);
  }
}
