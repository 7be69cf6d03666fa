/** Voice notes as jobs for a pool of ears: each chat's first note that waits, the longest waiting first. */
import type { NoteJob, NoteResult } from "../../logbook/index.js";
import type { QuickSql } from "./quick-sql.js";

const BUSY = JSON.stringify({ text: "", confidence: 0, trouble: "busy" } satisfies NoteResult);

export class Jobs {
  readonly #sql: QuickSql;
  readonly #leaseMs: number;

  constructor(sql: QuickSql, leaseMs: number) {
    this.#sql = sql;
    this.#leaseMs = leaseMs;
  }

  async take(worker: string): Promise<NoteJob | undefined> {
    const row = await this.#sql.one<{
      chat_id: string;
      update_id: number;
      body: string;
      tries: number;
    }>(
      `WITH next AS (
         SELECT chat_id, update_id FROM arrival
         WHERE note = 'wanted' AND (heard_until IS NULL OR heard_until < clock_timestamp())
         ORDER BY wanted_at LIMIT 1 FOR UPDATE SKIP LOCKED)
       UPDATE arrival a SET heard_by = $1, heard_until = clock_timestamp() + $2 * interval '1 millisecond',
         tries = a.tries + 1
       FROM next WHERE a.chat_id = next.chat_id AND a.update_id = next.update_id
       RETURNING a.chat_id, a.update_id, a.body, a.tries`,
      worker,
      this.#leaseMs,
    );
    if (row === undefined) return undefined;
    return { chatId: row.chat_id, updateId: row.update_id, body: row.body, tries: row.tries };
  }

  async renew(job: NoteJob, worker: string): Promise<boolean> {
    const renewed = await this.#sql.run(
      `UPDATE arrival SET heard_until = clock_timestamp() + $4 * interval '1 millisecond'
       WHERE chat_id = $1 AND update_id = $2 AND note = 'wanted' AND heard_by = $3`,
      job.chatId,
      job.updateId,
      worker,
      this.#leaseMs,
    );
    return renewed === 1;
  }

  async heard(job: NoteJob, worker: string, result: NoteResult): Promise<void> {
    await this.#sql.run(
      `UPDATE arrival SET note = 'heard', heard = $4, heard_by = NULL, heard_until = NULL
       WHERE chat_id = $1 AND update_id = $2 AND note = 'wanted' AND heard_by = $3`,
      job.chatId,
      job.updateId,
      worker,
      JSON.stringify(result),
    );
  }

  async giveBack(job: NoteJob, worker: string): Promise<void> {
    await this.#sql.run(
      `UPDATE arrival SET heard_by = NULL, heard_until = NULL, tries = tries - 1
       WHERE chat_id = $1 AND update_id = $2 AND note = 'wanted' AND heard_by = $3`,
      job.chatId,
      job.updateId,
      worker,
    );
  }

  async slow(leastS: number): Promise<readonly string[]> {
    const rows = await this.#sql.all<{ chat_id: string }>(
      `UPDATE arrival SET told = true WHERE note = 'wanted' AND NOT told
         AND wanted_at < clock_timestamp() - greatest($1, coalesce(duration_s, 0)) * interval '1 second'
       RETURNING chat_id`,
      leastS,
    );
    return rows.map(({ chat_id }) => chat_id);
  }

  giveUp(afterS: number): Promise<number> {
    return this.#sql.run(
      `UPDATE arrival SET note = 'heard', heard = $2
       WHERE note = 'wanted' AND wanted_at < clock_timestamp() - $1 * interval '1 second'
         AND (heard_until IS NULL OR heard_until < clock_timestamp())`,
      afterS,
      BUSY,
    );
  }
}
