/** What several processes share on one database: chats in hand, updates put down, notes to hear. */
import { z } from "zod";
import type { HeldArrival, WorkDepth, WorkStore } from "../../logbook/index.js";
import { appliedRow } from "../migrations.js";
import { Arrivals } from "./arrivals.js";
import { ChatLock } from "./chat-lock.js";
import { Jobs } from "./jobs.js";
import { postgresMigrations } from "./migrate.js";
import { openQuickSql } from "./quick-sql.js";

export interface PostgresWorkOptions {
  readonly address: string;
  /** After so long without a sign of life another process goes on, ms. */
  readonly leaseMs: number;
  /** Connections at most, twice: for what must be durable at once, and for the rest. */
  readonly connections?: number;
}

const CONNECTIONS = 4;
const depthRow = z.object({
  arrivals: z.number(),
  oldest_arrival_s: z.number(),
  replies: z.number(),
  oldest_reply_s: z.number(),
  notes: z.number(),
  oldest_note_s: z.number(),
});
const ageOf = (oldest: string): string =>
  `coalesce(greatest(0, extract(epoch FROM clock_timestamp() - ${oldest})), 0)::float8`;
const DEPTH = `SELECT a.*, r.* FROM (
    SELECT count(*) AS arrivals, ${ageOf("min(received_at)")} AS oldest_arrival_s,
      count(*) FILTER (WHERE note IN ('queued', 'wanted')) AS notes,
      ${ageOf("min(received_at) FILTER (WHERE note IN ('queued', 'wanted'))")} AS oldest_note_s
    FROM arrival) a, (
    SELECT count(*) AS replies, ${ageOf("min(created_at)::timestamptz")} AS oldest_reply_s
    FROM reply WHERE sent_at IS NULL AND given_up = 0) r`;

/** On a log that `openPostgresStore` has opened (and brought up to date) before. */
export function openPostgresWork(options: PostgresWorkOptions): WorkStore {
  const { address, leaseMs, connections = CONNECTIONS } = options;
  const durable = openQuickSql({ address, connections, durable: "now" });
  const soon = openQuickSql({ address, connections, durable: "soon" });
  const lock = new ChatLock(soon, leaseMs);
  const arrivals = new Arrivals(durable, soon, leaseMs);
  const jobs = new Jobs(soon, leaseMs);
  let lanesLaid: Promise<void> | undefined;

  async function nextOf(chatId: string, worker: string): Promise<HeldArrival | undefined> {
    const head = await arrivals.head(chatId);
    if (head !== undefined && head !== "wait") return head;
    await lock.letGo("take", chatId, worker);
    // What was put down between the look and the letting go found the chat in hand: it is looked for again.
    return takeUp(chatId, worker);
  }
  const takeUp = async (chatId: string, worker: string): Promise<HeldArrival | undefined> =>
    (await lock.takeIfWaiting(chatId, worker)) ? nextOf(chatId, worker) : undefined;

  return {
    put: (arrival, limits, worker) => arrivals.put(arrival, limits, worker),
    takeUp,
    nextOf,
    done: (...dealt) => arrivals.done(...dealt),
    async takeWaiting(kind, worker, limit) {
      lanesLaid ??= lock.layLanes();
      await lanesLaid.catch((error: unknown) => {
        lanesLaid = undefined;
        throw error;
      });
      return lock.takeWaiting(kind, worker, limit);
    },
    takeSending: (chatId, worker) => lock.takeSending(chatId, worker),
    hold: (chatId, worker) => lock.hold(chatId, worker),
    letGo: (kind, chatId, worker) => lock.letGo(kind, chatId, worker),
    renew: (kind, worker, chatIds) => lock.renew(kind, worker, chatIds),
    letAllGo: (worker) => lock.letAllGo(worker),
    takeNote: (worker) => jobs.take(worker),
    renewNote: (job, worker) => jobs.renew(job, worker),
    noteHeard: (job, worker, result) => jobs.heard(job, worker, result),
    returnNote: (job, worker) => jobs.giveBack(job, worker),
    slowNotes: (leastS) => jobs.slow(leastS),
    giveUpNotes: (afterS) => jobs.giveUp(afterS),
    bookSend: (limit, chatId) => lock.bookSend(limit, chatId),
    async depth(): Promise<WorkDepth> {
      const row = depthRow.parse(await soon.one(DEPTH));
      return {
        arrivals: row.arrivals,
        oldestArrivalS: row.oldest_arrival_s,
        replies: row.replies,
        oldestReplyS: row.oldest_reply_s,
        notes: row.notes,
        oldestNoteS: row.oldest_note_s,
      };
    },
    /** A newer program may have added to the tables meanwhile: that is how an upgrade goes without a pause. */
    async ready() {
      const rows = await soon.all("SELECT number, name, sha256 FROM migration");
      const applied = new Map(
        z
          .array(appliedRow)
          .parse(rows)
          .map(({ number, sha256 }) => [number, sha256]),
      );
      return postgresMigrations().every(({ number, sha256 }) => applied.get(number) === sha256);
    },
    async close() {
      await Promise.all([durable.close(), soon.close()]);
    },
  };
}
