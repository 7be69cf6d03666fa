/** Who has a chat in hand: leases in rows, so that they hold through poolers and on engines without session locks. */
import type { LaneKind, SharedLimit } from "../../logbook/index.js";
import type { QuickSql } from "./quick-sql.js";

const COLUMNS = { take: ["taken_by", "taken_until"], send: ["sent_by", "sent_until"] } as const;

/** `$n` holds the lease in ms. */
const until = (n: number): string => `clock_timestamp() + $${n} * interval '1 millisecond'`;
const free = (lane: string, kind: LaneKind): string => {
  const column = `${lane}.${COLUMNS[kind][1]}`;
  return `(${column} IS NULL OR ${column} < clock_timestamp())`;
};

/** An update that can be taken: no note before it, nor itself, waits for ears. */
const takeable = (arrival: string): string =>
  `NOT EXISTS (SELECT 1 FROM arrival w WHERE w.chat_id = ${arrival}.chat_id AND w.note = 'wanted'
     AND w.update_id <= ${arrival}.update_id)`;
const UNSENT = "r.sent_at IS NULL AND r.given_up = 0";

const WAITING = {
  take: `SELECT a.chat_id, min(a.received_at) AS since FROM arrival a WHERE ${takeable("a")} GROUP BY a.chat_id`,
  send: `SELECT r.chat_id, min(r.created_at) AS since FROM reply r
     JOIN chat c ON c.id = r.chat_id AND c.edge = 'messenger' WHERE ${UNSENT} GROUP BY r.chat_id`,
} as const;

export class ChatLock {
  readonly #sql: QuickSql;
  readonly #leaseMs: number;

  constructor(sql: QuickSql, leaseMs: number) {
    this.#sql = sql;
    this.#leaseMs = leaseMs;
  }

  /** Chats that wait for nobody, the longest waiting first; several workers get different ones. */
  async takeWaiting(kind: LaneKind, worker: string, limit: number): Promise<readonly string[]> {
    const [by, at] = COLUMNS[kind];
    const rows = await this.#sql.all<{ chat_id: string }>(
      `WITH waiting AS (${WAITING[kind]}), due AS (
         SELECT l.chat_id FROM waiting w JOIN chat_lane l ON l.chat_id = w.chat_id
         WHERE ${free("l", kind)} ORDER BY w.since LIMIT $2 FOR UPDATE OF l SKIP LOCKED)
       UPDATE chat_lane l SET ${by} = $1, ${at} = ${until(3)} FROM due WHERE l.chat_id = due.chat_id
       RETURNING l.chat_id`,
      worker,
      limit,
      this.#leaseMs,
    );
    return rows.map(({ chat_id }) => chat_id);
  }

  /** True if it was free and has an update to take. */
  async takeIfWaiting(chatId: string, worker: string): Promise<boolean> {
    const taken = await this.#sql.run(
      `UPDATE chat_lane l SET taken_by = $2, taken_until = ${until(3)}
       WHERE l.chat_id = $1 AND ${free("l", "take")}
         AND EXISTS (SELECT 1 FROM arrival a WHERE a.chat_id = $1 AND ${takeable("a")})`,
      chatId,
      worker,
      this.#leaseMs,
    );
    return taken === 1;
  }

  async hold(chatId: string, worker: string): Promise<boolean> {
    const taken = await this.#sql.run(
      `INSERT INTO chat_lane (chat_id, taken_by, taken_until) VALUES ($1, $2, ${until(3)})
       ON CONFLICT (chat_id) DO UPDATE SET taken_by = excluded.taken_by, taken_until = excluded.taken_until
       WHERE ${free("chat_lane", "take")}`,
      chatId,
      worker,
      this.#leaseMs,
    );
    return taken === 1;
  }

  async takeSending(chatId: string, worker: string): Promise<boolean> {
    const taken = await this.#sql.run(
      `UPDATE chat_lane l SET sent_by = $2, sent_until = ${until(3)}
       WHERE l.chat_id = $1 AND ${free("l", "send")}
         AND EXISTS (SELECT 1 FROM reply r WHERE r.chat_id = $1 AND ${UNSENT})`,
      chatId,
      worker,
      this.#leaseMs,
    );
    return taken === 1;
  }

  /** Chats whose replies came here with a log from elsewhere have no lane yet. */
  async layLanes(): Promise<void> {
    await this.#sql.run(
      `INSERT INTO chat_lane (chat_id) SELECT DISTINCT r.chat_id FROM reply r WHERE ${UNSENT}
       ON CONFLICT (chat_id) DO NOTHING`,
    );
  }

  async letGo(kind: LaneKind, chatId: string, worker: string): Promise<void> {
    const [by, at] = COLUMNS[kind];
    await this.#sql.run(
      `UPDATE chat_lane SET ${by} = NULL, ${at} = NULL WHERE chat_id = $1 AND ${by} = $2`,
      chatId,
      worker,
    );
  }

  async letAllGo(worker: string): Promise<void> {
    for (const [by, at] of Object.values(COLUMNS)) {
      await this.#sql.run(
        `UPDATE chat_lane SET ${by} = NULL, ${at} = NULL WHERE ${by} = $1`,
        worker,
      );
    }
  }

  async renew(
    kind: LaneKind,
    worker: string,
    chatIds: readonly string[],
  ): Promise<readonly string[]> {
    const [by, at] = COLUMNS[kind];
    // Locked in one order, so that two workers never wait for each other.
    const rows = await this.#sql.all<{ chat_id: string }>(
      `WITH mine AS (SELECT chat_id FROM chat_lane WHERE chat_id = ANY ($2) AND ${by} = $1
         ORDER BY chat_id FOR UPDATE)
       UPDATE chat_lane l SET ${at} = ${until(3)} FROM mine WHERE l.chat_id = mine.chat_id
       RETURNING l.chat_id`,
      worker,
      chatIds,
      this.#leaseMs,
    );
    return rows.map(({ chat_id }) => chat_id);
  }

  /** As the pacing of one process: the limit holds for every window of its length, bursts counted in. */
  async bookSend({ everyMs, burst }: SharedLimit, chatId?: string): Promise<number> {
    const [table, key, due] =
      chatId === undefined
        ? ["send_pace", "one = $3", "due"]
        : ["chat_lane", "chat_id = $3", "send_due"];
    const early = `coalesce(${due}, clock_timestamp()) - $2 * interval '1 millisecond'`;
    const aheadMs = (burst - 1) * everyMs;
    const booked = await this.#sql.run(
      `UPDATE ${table} SET ${due} = greatest(coalesce(${due}, clock_timestamp()), clock_timestamp()) + $1 * interval '1 millisecond'
       WHERE ${key} AND ${early} <= clock_timestamp()`,
      everyMs,
      aheadMs,
      chatId ?? 1,
    );
    if (booked === 1) return 0;
    const row = await this.#sql.one<{ wait_ms: number }>(
      `SELECT ceil(extract(epoch FROM ${early.replace("$2", "$1")} - clock_timestamp()) * 1000)::float8 AS wait_ms
       FROM ${table} WHERE ${key.replace("$3", "$2")}`,
      aheadMs,
      chatId ?? 1,
    );
    return Math.max(1, row?.wait_ms ?? 1);
  }
}
