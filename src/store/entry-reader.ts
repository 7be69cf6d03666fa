/**
 * Entries by their `seq`. A row of the log never changes but for being taken back, so what was read and
 * checked once in this process need not be read and checked again.
 */
import type { Database, Statement } from "better-sqlite3";
import type { Entry } from "../logbook/index.js";
import type { Facts } from "./facts.js";
import { ENTRY_COLUMNS, entryOf } from "./rows.js";

/** About 6 MB. */
const KEPT_ENTRIES = 10_000;

/** What a query selects of `entry e` to have its rows read by `EntryReader`. */
export const ENTRY_KEY = "e.seq, e.taken_back_by";
export interface EntryKey {
  readonly seq: number;
  readonly taken_back_by: string | null;
}

export class EntryReader {
  readonly #facts: Facts;
  readonly #select: Statement<[number]>;
  readonly #kept = new Map<number, Entry>();

  constructor(db: Database, facts: Facts) {
    this.#facts = facts;
    this.#select = db.prepare(`SELECT ${ENTRY_COLUMNS} FROM entry e WHERE e.seq = ?`);
  }

  /** In the transaction of the query that gave the key, and after it was committed. */
  read({ seq, taken_back_by }: EntryKey): Entry {
    const kept = this.#kept.get(seq);
    if (kept !== undefined && kept.takenBackBy === (taken_back_by ?? undefined)) return kept;
    const entry = Object.freeze(entryOf(this.#select.get(seq), this.#facts));
    if (this.#kept.size >= KEPT_ENTRIES) this.#kept.clear();
    this.#kept.set(seq, entry);
    return entry;
  }

  /** Another connection wrote: it may have removed a person's rows, and their seqs may be given again. */
  forget(): void {
    this.#kept.clear();
  }
}
