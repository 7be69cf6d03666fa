/** What the ingots of a chat are called: numbers given, names found again whatever their letter case. */
import type { Database, Statement } from "better-sqlite3";
import { z } from "zod";
import {
  type FactOf,
  givenUp,
  type IngotName,
  type NewEntry,
  type Turn,
} from "../logbook/index.js";
import { VIEW_LIMITS } from "./view-limits.js";

/** Letter case, width and composition of the letters do not matter. */
export const nameKey = (name: string): string =>
  name.normalize("NFKC").trim().toLowerCase().normalize("NFC");
const KEPT_CHATS = 1000;
export const WHOLE_NUMBER = /^[1-9]\d{0,8}$/;

const nameRow = z.object({
  ingot_id: z.string(),
  name: z.string(),
  finished: z.union([z.literal(0), z.literal(1)]),
  opened_at: z.string(),
});
const endRow = z.object({ at: z.string() });

/** The number said as a name, else the next one of the chat. */
export const numberFor = (key: string, highest: number): number =>
  WHOLE_NUMBER.test(key) ? Number(key) : highest + 1;

export const NAME_COLUMNS = `n.ingot_id, n.name, n.opened_at,
  CASE WHEN n.finished = 1 OR n.given_up = 1 THEN 1 ELSE 0 END AS finished`;

export class IngotNames {
  readonly #highest: Statement<[string], { highest_number: number }>;
  readonly #raise: Statement<[number, string]>;
  readonly #number: Statement<[string, string], { number: number }>;
  readonly #insert: Statement<unknown[]>;
  readonly #byKey: Statement<[string, string]>;
  readonly #byNumber: Statement<[string, number]>;
  readonly #latest: Statement<[string, number]>;
  readonly #finished: Statement<[string, number]>;
  readonly #called: Statement<[string], { name: string }>;
  readonly #giveUp: Statement<[number, string, string]>;
  readonly #givenUp: Statement<[string, number]>;
  /** Names of the latest ingots, a list a chat. */
  readonly #kept = new Map<string, readonly IngotName[]>();

  constructor(db: Database) {
    this.#highest = db.prepare("SELECT highest_number FROM chat WHERE id = ?");
    this.#raise = db.prepare("UPDATE chat SET highest_number = ? WHERE id = ?");
    this.#number = db.prepare(
      `SELECT n.number FROM entry o JOIN ingot_name n ON n.seq = o.seq
       WHERE o.id = ? AND n.chat_id = ?`,
    );
    this.#insert = db.prepare(
      "INSERT INTO ingot_name (seq, chat_id, ingot_id, number, name_key) VALUES (?, ?, ?, ?, ?)",
    );
    this.#byKey = db.prepare(
      `SELECT ${NAME_COLUMNS} FROM ingot_name k JOIN entry e ON e.seq = k.seq
         JOIN named_ingot n ON n.ingot_id = k.ingot_id
       WHERE k.chat_id = ? AND k.name_key = ? AND e.taken_back_by IS NULL
       ORDER BY k.seq DESC LIMIT 20`,
    );
    this.#byNumber = db.prepare(
      `SELECT ${NAME_COLUMNS} FROM ingot_name k JOIN named_ingot n ON n.ingot_id = k.ingot_id
       WHERE k.chat_id = ? AND k.number = ? ORDER BY k.seq DESC LIMIT 20`,
    );
    this.#latest = db.prepare(
      `SELECT ${NAME_COLUMNS} FROM named_ingot n WHERE n.chat_id = ? ORDER BY n.seq DESC LIMIT ?`,
    );
    this.#finished = db.prepare(
      `SELECT ${NAME_COLUMNS}, f.at FROM entry f CROSS JOIN named_ingot n ON n.ingot_id = f.ingot_id
       WHERE f.chat_id = ? AND f.kind = 'finish' AND f.taken_back_by IS NULL
         AND NOT EXISTS (SELECT 1 FROM entry later WHERE later.ingot_id = f.ingot_id
           AND later.kind = 'finish' AND later.taken_back_by IS NULL
           AND (later.at, later.place, later.seq) > (f.at, f.place, f.seq))
       ORDER BY f.at DESC, f.place DESC LIMIT ?`,
    );
    this.#called = db.prepare("SELECT n.name FROM named_ingot n WHERE n.ingot_id = ?");
    this.#giveUp = db.prepare("INSERT INTO given_up (seq, chat_id, ingot_id) VALUES (?, ?, ?)");
    this.#givenUp = db.prepare(
      `SELECT ${NAME_COLUMNS}, e.at FROM given_up g CROSS JOIN entry e ON e.seq = g.seq
         CROSS JOIN named_ingot n ON n.ingot_id = g.ingot_id
       WHERE g.chat_id = ? AND e.taken_back_by IS NULL AND n.finished = 0
         AND NOT EXISTS (SELECT 1 FROM given_up later JOIN entry l ON l.seq = later.seq
           WHERE later.ingot_id = g.ingot_id AND later.seq > g.seq AND l.taken_back_by IS NULL)
       ORDER BY g.seq DESC LIMIT ?`,
    );
  }

  /** Marks a note that gives its ingot up. */
  noted(seq: number, { chatId, ingotId }: NewEntry, note: string): void {
    if (ingotId === undefined) return;
    const called = this.#called.get(ingotId)?.name ?? "";
    if (givenUp(note, [called]) !== undefined) this.#giveUp.run(seq, chatId, ingotId);
  }

  /** Notes the name that an ingot row gives. An opening row without a name takes the next number. */
  write(seq: number, entry: NewEntry, fact: FactOf<"ingot">): void {
    const { chatId, ingotId } = entry;
    if (ingotId === undefined) return;
    const key = fact.name === undefined ? "" : nameKey(fact.name);
    const opens = ingotId === entry.id;
    if (!opens) {
      const known = this.#number.get(ingotId, chatId);
      if (known !== undefined && key !== "") {
        this.#insert.run(seq, chatId, ingotId, known.number, key);
      }
      return;
    }
    const highest = this.#highest.get(chatId)?.highest_number ?? 0;
    const number = numberFor(key, highest);
    if (number > highest) this.#raise.run(number, chatId);
    this.#insert.run(seq, chatId, ingotId, number, key === "" ? String(number) : key);
  }

  /** By name, else by number; of several the newest that is not finished, else the newest. */
  find(chatId: string, name: string): IngotName | undefined {
    const key = nameKey(name);
    const named = this.#byKey.all(chatId, key).map(ingotNameOf);
    const numbered =
      named.length === 0 && WHOLE_NUMBER.test(key)
        ? this.#byNumber.all(chatId, Number(key)).map(ingotNameOf)
        : [];
    const found = [...named, ...numbered];
    return found.find((one) => !one.finished) ?? found[0];
  }

  /** Of standing ingots, newest first, at most `VIEW_LIMITS.names`. */
  latest(chatId: string): readonly IngotName[] {
    const kept = this.#kept.get(chatId);
    if (kept !== undefined) return kept;
    const names = this.#latest.all(chatId, VIEW_LIMITS.names).map(ingotNameOf);
    if (this.#kept.size >= KEPT_CHATS) this.#kept.clear();
    this.#kept.set(chatId, names);
    return names;
  }

  /** To be called with every turn, written or not; without one when another connection wrote. */
  forget(turn?: Turn): void {
    if (turn === undefined) {
      this.#kept.clear();
      return;
    }
    const touches = turn.entries.some(
      ({ kind }) => kind === "ingot" || kind === "finish" || kind === "note",
    );
    if (touches || turn.takeBacks.length > 0) this.#kept.delete(turn.chatId);
  }

  /** Ended, with a blade or without, the latest end first. */
  finished(chatId: string, limit: number): readonly IngotName[] {
    const ended = [...this.#finished.all(chatId, limit), ...this.#givenUp.all(chatId, limit)];
    return latestEnds(ended, limit);
  }
}

/** Rows of ingots that ended, with the time of it in `at`. */
export const latestEnds = (rows: readonly unknown[], limit: number): readonly IngotName[] =>
  rows
    .map((raw) => ({ at: endRow.parse(raw).at, ingot: ingotNameOf(raw) }))
    .sort((a, b) => (a.at < b.at ? 1 : a.at > b.at ? -1 : 0))
    .slice(0, limit)
    .map(({ ingot }) => ingot);

export function ingotNameOf(raw: unknown): IngotName {
  const row = nameRow.parse(raw);
  return {
    ingotId: row.ingot_id,
    name: row.name,
    finished: row.finished === 1,
    openedAt: row.opened_at,
  };
}
