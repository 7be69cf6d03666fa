/** The log in a PostgreSQL database. Every call is one transaction on a connection of the pool. */
import { z } from "zod";
import type { Incoming, LogStore, Turn } from "../../logbook/index.js";
import { StoreFailed } from "../store-failed.js";
import { isToBeWritten } from "../turn-rules.js";
import * as asks from "./asks.js";
import { viewOf } from "./chat-view.js";
import type { PostgresDatabase, Sql, WorkOptions } from "./database.js";
import * as entries from "./entries.js";
import * as names from "./ingot-names.js";
import * as messages from "./messages.js";
import * as outbox from "./outbox.js";
import * as hours from "./sheet-hours.js";

export class PostgresStore implements LogStore {
  readonly #database: PostgresDatabase;

  constructor(database: PostgresDatabase) {
    this.#database = database;
  }

  receive(message: Incoming) {
    return this.#write((sql) => messages.receive(sql, message), { durable: "soon" });
  }

  commit(turn: Turn): Promise<void> {
    return this.#write(async (sql) => {
      const [, message] = await Promise.all([
        messages.lockChat(sql, turn.chatId),
        messages.messageOf(sql, turn.chatId, turn.messageId),
      ]);
      if (!isToBeWritten(turn, message)) return;
      const seqs: number[] = [];
      for (const entry of turn.entries) seqs.push(await entries.writeEntry(sql, entry));
      for (const { entryId, by } of turn.takeBacks) {
        await entries.takeBack(sql, turn.chatId, entryId, by);
      }
      await Promise.all([
        ...turn.replies.map((reply) =>
          outbox.addReply(sql, turn.chatId, turn.messageId, reply, turn.at),
        ),
        asks.writeAsk(sql, turn),
        hours.writeSheetHour(sql, turn),
        messages.markHandled(sql, turn, seqs),
      ]);
    });
  }

  view(chatId: string, smithId: string, since: string) {
    return this.#database.read((sql) => viewOf(sql, chatId, smithId, since));
  }
  ingotLog(chatId: string, ingotId: string) {
    return this.#database.readOne((sql) => entries.entriesOfIngot(sql, chatId, ingotId));
  }
  findIngot(chatId: string, name: string) {
    return this.#database.read((sql) => names.findIngot(sql, chatId, name));
  }
  entriesOfMessage(sourceKey: string, chatId?: string) {
    return this.#database.readOne((sql) => entries.entriesOfMessage(sql, sourceKey, chatId));
  }
  entriesById(chatId: string, ids: readonly string[]) {
    return this.#database.readOne((sql) => entries.entriesById(sql, chatId, ids));
  }
  findAsk(chatId: string, askId: string) {
    return this.#database.readOne((sql) => asks.findAsk(sql, chatId, askId));
  }
  unhandled() {
    return this.#database.readOne((sql) => messages.waiting(sql));
  }
  unsent(limit: number, chatId?: string) {
    return this.#database.readOne((sql) => outbox.unsent(sql, limit, chatId));
  }
  markSent(replyId: string, at: string, sentAs?: string, chatId?: string) {
    return this.#database.writeOne((sql) => outbox.markSent(sql, replyId, at, sentAs, chatId), {
      durable: "soon",
    });
  }
  markFailed(replyId: string, at: string, reason: string, final: boolean, chatId?: string) {
    return this.#write((sql) => outbox.markFailed(sql, replyId, at, reason, final, chatId), {
      durable: "soon",
    });
  }
  day(chatId: string, from: string, to: string) {
    return this.#database.readOne((sql) => entries.entriesOfDay(sql, chatId, from, to));
  }
  finishedIngots(chatId: string, limit: number) {
    return this.#database.read((sql) => names.finishedIngots(sql, chatId, limit));
  }
  sheetHours() {
    return this.#database.read((sql) => hours.sheetHours(sql));
  }
  sheetHour(chatId: string) {
    return this.#database.readOne((sql) => hours.sheetHour(sql, chatId));
  }
  sheetDone(chatId: string, day: string) {
    return this.#write((sql) => hours.sheetDone(sql, chatId, day));
  }
  chats() {
    return this.#database.read((sql) => messages.chats(sql));
  }
  everything() {
    return this.#database.read((sql) => entries.allEntries(sql), { patient: true });
  }
  async backup(_file: string): Promise<void> {
    throw new StoreFailed(
      "not-here",
      `${this.#database.shown}: a log on a database server is copied by the server's own means: pg_dump for a copy, ` +
        "a base backup with archived WAL for any point in time (docs/operations.md)",
    );
  }
  close(): Promise<void> {
    return this.#database.close();
  }

  async #write<T>(work: (sql: Sql) => Promise<T>, options?: WorkOptions): Promise<T> {
    return this.#database.write(async (sql) => {
      try {
        return await work(sql);
      } catch (error) {
        if (!(error instanceof z.ZodError)) throw error;
        throw new RangeError(`not to be stored: ${z.prettifyError(error)}`, { cause: error });
      }
    }, options);
  }
}
