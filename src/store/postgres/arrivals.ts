/** Updates put down until they are dealt with, in the messenger's order within a chat. */
import { z } from "zod";
import type { HeldArrival, NewArrival, NoteLimits, NoteResult, Put } from "../../logbook/index.js";
import type { QuickSql } from "./quick-sql.js";

export const noteResultSchema = z.strictObject({
  text: z.string(),
  confidence: z.number(),
  other: z.string().optional(),
  doubtful: z.boolean().optional(),
  trouble: z.string().optional(),
});
const putRow = z.object({
  chat_id: z.string().nullable(),
  mine: z.boolean().nullable(),
  first: z.boolean(),
});
const headRow = z.object({
  update_id: z.number(),
  body: z.string(),
  note: z.enum(["queued", "wanted", "heard", "refused"]).nullable(),
  heard: z.string().nullable(),
});

const BUSY: NoteResult = { text: "", confidence: 0, trouble: "busy" };

/**
 * One statement: looks whether the sender was let in, puts the update down, and takes the chat in hand if
 * it is free. Whoever has it in hand waits for this statement's end before it lets go, and looks again.
 */
const PUT = `WITH place AS (
    SELECT coalesce((SELECT m.from_id FROM chat_moved m WHERE m.to_id = $1), $1) AS chat_id
  ), known AS (
    SELECT p.chat_id FROM place p WHERE CASE WHEN $2::boolean
      THEN EXISTS (SELECT 1 FROM person WHERE id = $3)
      ELSE EXISTS (SELECT 1 FROM group_in g WHERE g.chat_id = p.chat_id) END
  ), put AS (
    INSERT INTO arrival (chat_id, update_id, body, note, duration_s)
    SELECT k.chat_id, $4, $5, CASE
        WHEN $6::real IS NULL THEN NULL
        WHEN (SELECT count(*) FROM arrival a WHERE a.chat_id = k.chat_id AND a.note IN ('queued', 'wanted')) >= $7
          OR (SELECT count(*) FROM arrival a WHERE a.note IN ('queued', 'wanted')) >= $8 THEN 'refused'
        ELSE 'queued' END, $6
    FROM known k ON CONFLICT (chat_id, update_id) DO NOTHING
  ), lane AS (
    INSERT INTO chat_lane AS l (chat_id, taken_by, taken_until)
    SELECT k.chat_id, $9::text, CASE WHEN $9::text IS NULL THEN NULL ELSE clock_timestamp() + $10 * interval '1 millisecond' END
    FROM known k
    ON CONFLICT (chat_id) DO UPDATE SET taken_by = excluded.taken_by, taken_until = excluded.taken_until
      WHERE $9::text IS NOT NULL AND (l.taken_until IS NULL OR l.taken_until < clock_timestamp())
    RETURNING l.taken_by
  )
  SELECT (SELECT chat_id FROM known) AS chat_id, (SELECT taken_by FROM lane) IS NOT NULL AS mine,
    NOT EXISTS (SELECT 1 FROM arrival a JOIN known k ON k.chat_id = a.chat_id) AS first`;

export class Arrivals {
  readonly #durable: QuickSql;
  readonly #soon: QuickSql;
  readonly #leaseMs: number;

  constructor(durable: QuickSql, soon: QuickSql, leaseMs: number) {
    this.#durable = durable;
    this.#soon = soon;
    this.#leaseMs = leaseMs;
  }

  async put(arrival: NewArrival, limits: NoteLimits, worker?: string): Promise<Put> {
    const raw = await this.#durable.one(
      PUT,
      arrival.wireChatId,
      arrival.isPrivate,
      arrival.fromId,
      arrival.updateId,
      arrival.body,
      arrival.note?.durationS ?? null,
      limits.inChat,
      limits.inAll,
      worker ?? null,
      this.#leaseMs,
    );
    const row = putRow.parse(raw);
    const known = row.chat_id !== null;
    const mine = known && row.mine === true;
    // What was put down before is seen by the statement, what it puts down itself is not.
    const first = mine && row.first && arrival.note === undefined;
    return { known, chatId: row.chat_id ?? arrival.wireChatId, mine, first };
  }

  /** The first of the chat; "wait" if it is a note that was not heard, which any ears may now take. */
  async head(chatId: string): Promise<HeldArrival | "wait" | undefined> {
    const raw = await this.#soon.one(
      `SELECT update_id, body, note, heard FROM arrival WHERE chat_id = $1
       ORDER BY update_id LIMIT 1`,
      chatId,
    );
    if (raw === undefined) return undefined;
    const row = headRow.parse(raw);
    if (row.note === "queued") {
      await this.#soon.run(
        `UPDATE arrival SET note = 'wanted', wanted_at = clock_timestamp()
         WHERE chat_id = $1 AND update_id = $2 AND note = 'queued'`,
        chatId,
        row.update_id,
      );
    }
    if (row.note === "queued" || row.note === "wanted") return "wait";
    const heard =
      row.note === "refused"
        ? BUSY
        : row.heard === null
          ? undefined
          : (noteResultSchema.parse(JSON.parse(row.heard)) as NoteResult);
    return {
      chatId,
      updateId: row.update_id,
      body: row.body,
      ...(heard === undefined ? {} : { heard }),
    };
  }

  async done(chatId: string, updateId: number, worker: string, replies: boolean): Promise<boolean> {
    const row = await this.#soon.one<{ mine: boolean }>(
      `WITH gone AS (DELETE FROM arrival WHERE chat_id = $1 AND update_id = $2), was AS (
         SELECT $4::boolean AND (sent_until IS NULL OR sent_until < clock_timestamp()) AS free
         FROM chat_lane WHERE chat_id = $1 FOR UPDATE)
       UPDATE chat_lane l SET taken_by = NULL, taken_until = NULL,
         sent_by = CASE WHEN was.free THEN $3 ELSE sent_by END,
         sent_until = CASE WHEN was.free THEN clock_timestamp() + $5 * interval '1 millisecond' ELSE sent_until END
       FROM was WHERE l.chat_id = $1 AND l.taken_by = $3 RETURNING was.free AS mine`,
      chatId,
      updateId,
      worker,
      replies,
      this.#leaseMs,
    );
    return row?.mine === true;
  }
}
