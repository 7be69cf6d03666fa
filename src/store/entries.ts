/** The log itself: rows written, taken back and read, with what each says. */
import type { Database, Statement } from "better-sqlite3";
import type { Entry, NewEntry } from "../logbook/index.js";
import { ENTRY_KEY, type EntryKey, EntryReader } from "./entry-reader.js";
import { Facts } from "./facts.js";
import type { IngotNames } from "./ingot-names.js";
import { ENTRY_COLUMNS, entryOf } from "./rows.js";
import { StoreFailed } from "./store-failed.js";
import { utc } from "./times.js";
import { factSaid, headerOf } from "./turn-rules.js";

const IN_ORDER = "ORDER BY e.at, e.place, e.seq";

export class Entries {
  readonly #facts: Facts;
  readonly reader: EntryReader;
  readonly #names: IngotNames;
  readonly #insert: Statement<unknown[], { seq: number }>;
  readonly #takeBack: Statement<[string, string, string]>;
  readonly #ofIngot: Statement<[string, string], EntryKey>;
  readonly #ofMessage: Statement<[string, string], EntryKey>;
  readonly #byId: Statement<[string, string], EntryKey>;
  readonly #ofDay: Statement<[string, string, string], EntryKey>;
  readonly #all: Statement<[], { ingot_name: string | null; smith_name: string | null }>;

  constructor(db: Database, names: IngotNames) {
    this.#facts = new Facts(db);
    this.reader = new EntryReader(db, this.#facts);
    this.#names = names;
    // A replacement inherits the place of the row it replaces; any other row's place is its own seq.
    this.#insert = db.prepare(
      `INSERT INTO entry (seq, id, chat_id, smith_id, message_id, ingot_id, kind, at, arrived, place,
         replaces, implied, confidence)
       SELECT n.seq, :id, :chatId, :smithId, :messageId, :ingotId, :kind, :at, :arrived,
         coalesce((SELECT place FROM entry WHERE id = :replaces), n.seq), :replaces, :implied, :confidence
       FROM (SELECT coalesce(max(seq), 0) + 1 AS seq FROM entry) n RETURNING seq`,
    );
    this.#takeBack = db.prepare(
      "UPDATE entry SET taken_back_by = ? WHERE id = ? AND chat_id = ? AND taken_back_by IS NULL",
    );
    this.#ofIngot = db.prepare(
      `SELECT ${ENTRY_KEY} FROM entry e WHERE e.ingot_id = ? AND e.chat_id = ? ${IN_ORDER}`,
    );
    this.#ofMessage = db.prepare(
      `SELECT ${ENTRY_KEY} FROM message m
         JOIN entry e ON e.seq BETWEEN m.first_entry AND m.last_entry AND e.message_id = m.id
       WHERE m.source_key = ? OR m.edits = ? ${IN_ORDER}`,
    );
    this.#byId = db.prepare(
      `SELECT ${ENTRY_KEY} FROM json_each(?) j JOIN entry e ON e.id = j.value
       WHERE e.chat_id = ? ${IN_ORDER}`,
    );
    this.#ofDay = db.prepare(
      `SELECT ${ENTRY_KEY} FROM entry e WHERE e.chat_id = ? AND e.at >= ? AND e.at < ? ${IN_ORDER}`,
    );
    this.#all = db.prepare(
      `SELECT ${ENTRY_COLUMNS}, (SELECT name FROM smith WHERE id = e.smith_id) AS smith_name,
         (SELECT n.name FROM named_ingot n WHERE n.ingot_id = e.ingot_id) AS ingot_name
       FROM entry e ORDER BY e.seq`,
    );
  }

  /** Gives the row's seq. Inside a transaction. */
  write(entry: NewEntry): number {
    const fact = factSaid(entry);
    const row = this.#insert.get(headerOf(entry));
    if (row === undefined) throw new RangeError(`entry ${entry.id}: no row was written`);
    if (fact !== undefined) this.#facts.write(row.seq, fact);
    if (fact?.kind === "ingot") this.#names.write(row.seq, entry, fact);
    if (fact?.kind === "note") this.#names.noted(row.seq, entry, fact.note);
    return row.seq;
  }

  /** Inside a transaction. Throws `stale` if it is no standing row of this chat. */
  takeBack(chatId: string, entryId: string, by: string): void {
    if (this.#takeBack.run(by, entryId, chatId).changes === 1) return;
    throw new StoreFailed("stale", `entry ${entryId} is no longer there to be taken back`);
  }

  ofIngot(chatId: string, ingotId: string): readonly Entry[] {
    return this.#ofIngot.all(ingotId, chatId).map((key) => this.reader.read(key));
  }

  ofMessage(sourceKey: string): readonly Entry[] {
    return this.#ofMessage.all(sourceKey, sourceKey).map((key) => this.reader.read(key));
  }

  byId(chatId: string, ids: readonly string[]): readonly Entry[] {
    return this.#byId.all(JSON.stringify(ids), chatId).map((key) => this.reader.read(key));
  }

  ofDay(chatId: string, from: string, to: string): readonly Entry[] {
    return this.#ofDay.all(chatId, utc(from), utc(to)).map((key) => this.reader.read(key));
  }

  all(): readonly (Entry & { readonly ingotName?: string; readonly smithName?: string })[] {
    return this.#all.all().map((row) => ({
      ...entryOf(row, this.#facts),
      ...(row.ingot_name !== null && { ingotName: row.ingot_name }),
      ...(row.smith_name !== null && { smithName: row.smith_name }),
    }));
  }
}
