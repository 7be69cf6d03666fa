/** The door: what came in, stored before anything is made of it. */
import type { Database, Statement } from "better-sqlite3";
import { type Incoming, incomingSchema, type Turn } from "../logbook/index.js";
import { INCOMING_COLUMNS, incomingOf } from "./rows.js";
import { utc } from "./times.js";

export interface StoredMessage {
  readonly chat_id: string;
  readonly smith_id: string;
  readonly handled_at: string | null;
}

export class Messages {
  readonly #seen: Statement<[string], { handled_at: string | null }>;
  readonly #smith: Statement<unknown[]>;
  readonly #chat: Statement<unknown[]>;
  readonly #message: Statement<unknown[]>;
  readonly #byId: Statement<[string], StoredMessage>;
  readonly #handled: Statement<unknown[]>;
  readonly #turn: Statement<[string]>;
  readonly #waiting: Statement<[]>;
  readonly #chats: Statement<[], { chatId: string; edge: string }>;

  constructor(db: Database) {
    this.#seen = db.prepare("SELECT handled_at FROM message WHERE source_key = ?");
    this.#smith = db.prepare(
      `INSERT INTO smith (id, name, first_seen) VALUES (?, ?, ?) ON CONFLICT (id) DO UPDATE
       SET name = excluded.name WHERE excluded.name IS NOT NULL AND name IS NOT excluded.name`,
    );
    this.#chat = db.prepare(
      "INSERT INTO chat (id, edge, first_seen) VALUES (?, ?, ?) ON CONFLICT (id) DO NOTHING",
    );
    this.#message = db.prepare(
      `INSERT INTO message (id, source_key, edge, chat_id, smith_id, kind, text, sent_at, received_at,
         edits, heard_confidence) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    );
    this.#byId = db.prepare("SELECT chat_id, smith_id, handled_at FROM message WHERE id = ?");
    this.#handled = db.prepare(
      `UPDATE message SET handled_at = ?, unread = ?, first_entry = ?, last_entry = ? WHERE id = ?`,
    );
    this.#turn = db.prepare("UPDATE chat SET turns = turns + 1 WHERE id = ?");
    this.#waiting = db.prepare(
      `SELECT ${INCOMING_COLUMNS} FROM message m JOIN smith s ON s.id = m.smith_id
       WHERE m.handled_at IS NULL ORDER BY m.seq`,
    );
    this.#chats = db.prepare("SELECT id AS chatId, edge FROM chat ORDER BY first_seen, id");
  }

  /** Inside a transaction. */
  receive(message: Incoming): "new" | "again" | "handled" {
    const one = incomingSchema.parse(message);
    const seen = this.#seen.get(one.sourceKey);
    if (seen !== undefined) return seen.handled_at === null ? "again" : "handled";
    const receivedAt = utc(one.receivedAt);
    this.#smith.run(one.smithId, one.smithName ?? null, receivedAt);
    this.#chat.run(one.chatId, one.edge, receivedAt);
    this.#message.run(
      one.id,
      one.sourceKey,
      one.edge,
      one.chatId,
      one.smithId,
      one.kind,
      one.text,
      utc(one.sentAt),
      receivedAt,
      one.edits ?? null,
      one.heardConfidence ?? null,
    );
    return "new";
  }

  byId(id: string): StoredMessage | undefined {
    return this.#byId.get(id);
  }

  /** `seqs`: of the entries that the message led to, in order. Inside a transaction. */
  markHandled(turn: Turn, seqs: readonly number[]): void {
    const { messageId, chatId, at, unread } = turn;
    const ends = [seqs[0] ?? null, seqs.at(-1) ?? null];
    this.#handled.run(utc(at), JSON.stringify(unread), ...ends, messageId);
    this.#turn.run(chatId);
  }

  waiting(): readonly Incoming[] {
    return this.#waiting.all().map(incomingOf);
  }

  chats(): readonly { readonly chatId: string; readonly edge: string }[] {
    return this.#chats.all();
  }
}
