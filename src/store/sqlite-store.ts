/** The log in one SQLite file. Every call is one short synchronous piece of work behind a promise. */

import type { Statement, Transaction } from "better-sqlite3";
import { z } from "zod";
import type { Entry, Incoming, LogStore, OpenAsk, Reply, Turn } from "../logbook/index.js";
import { Asks } from "./asks.js";
import { backupTo } from "./backup.js";
import { ChatViews } from "./chat-view.js";
import { Entries } from "./entries.js";
import { IngotNames } from "./ingot-names.js";
import { Messages } from "./messages.js";
import type { OpenDatabase } from "./open-database.js";
import { Outbox } from "./outbox.js";
import { SheetHours } from "./sheet-hours.js";
import { asStoreFailed } from "./store-failed.js";
import { isToBeWritten } from "./turn-rules.js";

/** Whether a transaction waits for the disk: docs/decisions/0002-typed-rows-in-sqlite.md. */
type Durability = "FULL" | "NORMAL";

export class SqliteStore implements LogStore {
  readonly #open: OpenDatabase;
  readonly #messages: Messages;
  readonly #entries: Entries;
  readonly #names: IngotNames;
  readonly #outbox: Outbox;
  readonly #asks: Asks;
  readonly #views: ChatViews;
  readonly #hours: SheetHours;
  readonly #inTransaction: Transaction<(work: () => unknown) => unknown>;
  /** Changes when another connection writes. */
  readonly #version: Statement<[], number>;
  #seenVersion: number | undefined;
  #durability: Durability = "FULL";

  constructor(open: OpenDatabase) {
    this.#open = open;
    const { db } = open;
    this.#inTransaction = db.transaction((work) => work());
    this.#version = db.prepare<[], number>("PRAGMA data_version").pluck();
    this.#messages = new Messages(db);
    this.#names = new IngotNames(db);
    this.#entries = new Entries(db, this.#names);
    this.#outbox = new Outbox(db);
    this.#asks = new Asks(db);
    this.#hours = new SheetHours(db);
    this.#views = new ChatViews(db, this.#entries.reader, this.#asks, this.#names);
  }

  receive(message: Incoming) {
    return this.#write("NORMAL", () => this.#messages.receive(message));
  }

  commit(turn: Turn) {
    // In the same breath as the write: no view can come between the two.
    this.#names.forget(turn);
    return this.#write("FULL", () => this.#commit(turn));
  }

  #commit(turn: Turn): void {
    if (!isToBeWritten(turn, this.#messages.byId(turn.messageId))) return;
    const seqs = turn.entries.map((entry) => this.#entries.write(entry));
    for (const { entryId, by } of turn.takeBacks) this.#entries.takeBack(turn.chatId, entryId, by);
    for (const reply of turn.replies) {
      this.#outbox.add(turn.chatId, turn.messageId, reply, turn.at);
    }
    this.#asks.write(turn);
    this.#hours.write(turn);
    this.#messages.markHandled(turn, seqs);
  }

  view(chatId: string, smithId: string, since: string) {
    return this.#read(() => this.#views.of(chatId, smithId, since));
  }
  ingotLog(chatId: string, ingotId: string): Promise<readonly Entry[]> {
    return this.#read(() => this.#entries.ofIngot(chatId, ingotId));
  }
  findIngot(chatId: string, name: string) {
    return this.#read(() => this.#names.find(chatId, name));
  }
  entriesOfMessage(sourceKey: string) {
    return this.#read(() => this.#entries.ofMessage(sourceKey));
  }
  entriesById(chatId: string, ids: readonly string[]) {
    return this.#read(() => this.#entries.byId(chatId, ids));
  }
  findAsk(chatId: string, askId: string): Promise<OpenAsk | undefined> {
    return this.#read(() => this.#asks.find(chatId, askId));
  }
  unhandled() {
    return this.#read(() => this.#messages.waiting());
  }
  unsent(limit: number, chatId?: string): Promise<readonly Reply[]> {
    return this.#read(() => this.#outbox.unsent(limit, chatId));
  }
  markSent(replyId: string, at: string, sentAs?: string) {
    return this.#write("NORMAL", () => this.#outbox.markSent(replyId, at, sentAs));
  }
  markFailed(replyId: string, at: string, reason: string, final: boolean) {
    return this.#write("NORMAL", () => this.#outbox.markFailed(replyId, at, reason, final));
  }
  day(chatId: string, from: string, to: string) {
    return this.#read(() => this.#entries.ofDay(chatId, from, to));
  }
  finishedIngots(chatId: string, limit: number) {
    return this.#read(() => this.#names.finished(chatId, limit));
  }
  sheetHours() {
    return this.#read(() => this.#hours.all());
  }
  sheetHour(chatId: string) {
    return this.#read(() => this.#hours.of(chatId));
  }
  sheetDone(chatId: string, day: string) {
    return this.#write("FULL", () => this.#hours.done(chatId, day));
  }
  chats() {
    return this.#read(() => this.#messages.chats());
  }
  everything() {
    return this.#read(() => this.#entries.all());
  }
  backup(file: string): Promise<void> {
    return backupTo(this.#open.db, file);
  }
  async close(): Promise<void> {
    this.#open.close();
  }

  /** One moment of the log, even while another process writes. */
  async #read<T>(work: () => T): Promise<T> {
    try {
      return this.#inTransaction.deferred(() => {
        this.#noticeOthers();
        return work();
      }) as T;
    } catch (error) {
      throw asStoreFailed(error, this.#open.db.name);
    }
  }

  #noticeOthers(): void {
    const version = this.#version.get();
    if (version === this.#seenVersion) return;
    this.#seenVersion = version;
    this.#entries.reader.forget();
    this.#names.forget();
  }

  async #write<T>(durability: Durability, work: () => T): Promise<T> {
    const { db } = this.#open;
    try {
      if (durability !== this.#durability) {
        db.pragma(`synchronous = ${durability}`);
        this.#durability = durability;
      }
      return this.#inTransaction.immediate(work) as T;
    } catch (error) {
      if (error instanceof z.ZodError) {
        throw new RangeError(`not to be stored: ${z.prettifyError(error)}`, { cause: error });
      }
      throw asStoreFailed(error, db.name);
    }
  }
}
