/** What a turn needs to know of a chat: a fixed number of indexed look-ups, however long the log is. */
import type { Database, Statement } from "better-sqlite3";
import type { ChatView, Entry } from "../logbook/index.js";
import type { Asks } from "./asks.js";
import { ENTRY_KEY, type EntryKey, type EntryReader } from "./entry-reader.js";
import { inPages } from "./in-pages.js";
import type { IngotNames } from "./ingot-names.js";
import { parseTexts } from "./rows.js";
import { utc } from "./times.js";
import { LastTurns, StandingSettings } from "./view-parts.js";

const NOT_FACTS = "('undo', 'correct', 'edit')";

export class ChatViews {
  readonly #reader: EntryReader;
  readonly #asks: Asks;
  readonly #names: IngotNames;
  readonly #chat: Statement<[string], { turns: number; highest_number: number }>;
  readonly #settings: Statement<(string | number)[], EntryKey>;
  readonly #inHand: Statement<(string | number)[], { ingot_id: string }>;
  readonly #said: Statement<(string | number)[], EntryKey>;
  readonly #safety: Statement<[string, string], { safety: string }>;
  readonly #heats: Statement<[string, string], { heats: number }>;

  constructor(db: Database, reader: EntryReader, asks: Asks, names: IngotNames) {
    this.#reader = reader;
    this.#asks = asks;
    this.#names = names;
    this.#chat = db.prepare("SELECT turns, highest_number FROM chat WHERE id = ?");
    this.#settings = db.prepare(
      `SELECT ${ENTRY_KEY} FROM entry e WHERE e.chat_id = ? AND e.kind = 'setting'
       AND e.taken_back_by IS NULL ORDER BY e.at DESC, e.place DESC, e.seq DESC LIMIT ? OFFSET ?`,
    );
    // An opening row (or what replaced it) or a switch; details told later do not change hands.
    this.#inHand = db.prepare(
      `SELECT e.ingot_id FROM entry e WHERE e.chat_id = ? AND e.smith_id = ?
         AND e.kind IN ('ingot', 'switch') AND e.taken_back_by IS NULL AND e.ingot_id IS NOT NULL
         AND (e.kind = 'switch' OR e.place = (SELECT seq FROM entry WHERE id = e.ingot_id))
         AND EXISTS (SELECT 1 FROM entry o WHERE o.ingot_id = e.ingot_id AND o.kind = 'ingot'
           AND o.taken_back_by IS NULL)
       ORDER BY e.place DESC, e.seq DESC LIMIT ? OFFSET ?`,
    );
    this.#said = db.prepare(
      `SELECT ${ENTRY_KEY} FROM entry e WHERE e.chat_id = ? AND e.smith_id = ?
       AND e.taken_back_by IS NULL AND e.kind NOT IN ${NOT_FACTS} ORDER BY e.seq DESC LIMIT ? OFFSET ?`,
    );
    this.#safety = db.prepare(
      "SELECT safety FROM reply WHERE chat_id = ? AND created_at >= ? AND safety <> '[]'",
    );
    this.#heats = db.prepare(
      `SELECT count(*) AS heats FROM entry WHERE chat_id = ? AND at >= ? AND kind = 'heat'
       AND taken_back_by IS NULL`,
    );
  }

  of(chatId: string, smithId: string, sinceTime: string): ChatView {
    const since = utc(sinceTime);
    const chat = this.#chat.get(chatId);
    const [inHand, previousInHand] = this.#hands(chatId, smithId);
    const ask = this.#asks.latest(chatId, smithId);
    return {
      messages: chat?.turns ?? 0,
      settings: this.#standingSettings(chatId),
      ...(inHand !== undefined && { inHand }),
      ...(previousInHand !== undefined && { previousInHand }),
      ingotsOpened: chat?.highest_number ?? 0,
      ingots: this.#names.latest(chatId),
      lastTurns: this.#lastTurns(chatId, smithId),
      ...(ask !== undefined && { ask }),
      safetyShown: [
        ...new Set(this.#safety.all(chatId, since).flatMap(({ safety }) => parseTexts(safety))),
      ],
      entriesSince: this.#heats.get(chatId, since)?.heats ?? 0,
    };
  }

  #standingSettings(chatId: string): readonly Entry[] {
    const settings = new StandingSettings();
    for (const key of inPages(this.#settings, chatId)) {
      if (!settings.wants(this.#reader.read(key))) break;
    }
    return settings.inOrder();
  }

  #hands(chatId: string, smithId: string): readonly string[] {
    const hands = new Set<string>();
    for (const { ingot_id } of inPages(this.#inHand, chatId, smithId)) {
      hands.add(ingot_id);
      if (hands.size === 2) break;
    }
    return [...hands];
  }

  #lastTurns(chatId: string, smithId: string): ChatView["lastTurns"] {
    const last = new LastTurns();
    for (const key of inPages(this.#said, chatId, smithId)) {
      if (!last.wants(this.#reader.read(key))) break;
    }
    return last.turns;
  }
}
