/** At which minute of its day a chat's sheet comes by itself, and the last day that was seen to. */
import type { Database, Statement } from "better-sqlite3";
import { z } from "zod";
import type { SheetHour, Turn } from "../logbook/index.js";
import { utc } from "./times.js";

const hourRow = z.object({
  chat_id: z.string(),
  edge: z.enum(["terminal", "messenger"]),
  smith_id: z.string(),
  minute: z.number().int().min(0).max(1439),
  at: z.string(),
  done_on: z.string().nullable(),
});
const DAY = /^\d{4}-\d\d-\d\d$/;
export const HOUR = `SELECT h.chat_id, c.edge, h.smith_id, h.minute, h.at, h.done_on
  FROM day_sheet_hour h JOIN chat c ON c.id = h.chat_id WHERE h.minute IS NOT NULL`;

export function refuseNoDay(day: string): void {
  if (!DAY.test(day)) throw new RangeError(`no day: ${day}`);
}

export class SheetHours {
  readonly #set: Statement<unknown[]>;
  readonly #all: Statement<[]>;
  readonly #of: Statement<[string]>;
  readonly #done: Statement<[string, string, string]>;

  constructor(db: Database) {
    // The last day stays: an hour set anew does not send a second sheet on the same day.
    this.#set = db.prepare(
      `INSERT INTO day_sheet_hour (chat_id, minute, smith_id, at) VALUES (?, ?, ?, ?)
       ON CONFLICT (chat_id) DO UPDATE SET minute = excluded.minute, smith_id = excluded.smith_id,
         at = excluded.at`,
    );
    this.#all = db.prepare(`${HOUR} ORDER BY h.chat_id`);
    this.#of = db.prepare(`${HOUR} AND h.chat_id = ?`);
    this.#done = db.prepare(
      "UPDATE day_sheet_hour SET done_on = ? WHERE chat_id = ? AND coalesce(done_on, '') < ?",
    );
  }

  /** Inside a transaction. */
  write({ at, chatId, sheetHour, smithId }: Turn): void {
    if (sheetHour === undefined) return;
    this.#set.run(chatId, sheetHour === "off" ? null : sheetHour, smithId, utc(at));
  }

  all(): readonly SheetHour[] {
    return this.#all.all().map(sheetHourOf);
  }

  of(chatId: string): SheetHour | undefined {
    const row = this.#of.get(chatId);
    return row === undefined ? undefined : sheetHourOf(row);
  }

  done(chatId: string, day: string): void {
    refuseNoDay(day);
    this.#done.run(day, chatId, day);
  }
}

export function sheetHourOf(raw: unknown): SheetHour {
  const row = hourRow.parse(raw);
  return {
    chatId: row.chat_id,
    edge: row.edge,
    smithId: row.smith_id,
    minute: row.minute,
    at: row.at,
    ...(row.done_on === null ? {} : { doneOn: row.done_on }),
  };
}
