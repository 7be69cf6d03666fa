/** What a log holds, without what differs from run to run: ids and the time of arrival. */

import type { LogStore } from "../../src/logbook/index.js";
import { openSqliteStore } from "../../src/store/index.js";
import { KeptDatabase as Database } from "../../src/store/kept-database.js";
import { PostgresDatabase } from "../../src/store/postgres/database.js";
import { PostgresStore } from "../../src/store/postgres/postgres-store.js";

export interface ChatRecord {
  readonly messages: readonly { readonly key: string; readonly text: string }[];
  readonly entries: readonly unknown[];
  /** Words of each reply, in the order they were written. */
  readonly replies: readonly string[];
}

type Rows = Awaited<ReturnType<LogStore["everything"]>>;
interface MessageRow {
  readonly chat_id: string;
  readonly source_key: string;
  readonly text: string;
  readonly handled_at: string | null;
}
interface ReplyRow {
  readonly chat_id: string;
  readonly body: string;
}
const MESSAGES = "SELECT chat_id, source_key, text, handled_at FROM message ORDER BY seq";
const REPLIES = "SELECT chat_id, body FROM reply ORDER BY seq";
const UNSENT = "SELECT count(*) AS left FROM reply WHERE sent_at IS NULL AND given_up = 0";
const now = () => "2026-03-02T08:00:00Z";

export async function recordOf(file: string): Promise<ReadonlyMap<string, ChatRecord>> {
  const store = await openSqliteStore({ file, readonly: true, now });
  const rows = await store.everything();
  await store.close();
  const db = new Database(file, { readonly: true });
  const messages = db.prepare(MESSAGES).all() as MessageRow[];
  const replies = db.prepare(REPLIES).all() as ReplyRow[];
  db.close();
  return recordFrom(rows, messages, replies);
}

/** Read past the check of versions, as the tables may be those of a newer program. */
export async function recordOfPostgres(address: string): Promise<ReadonlyMap<string, ChatRecord>> {
  const database = new PostgresDatabase({ address });
  try {
    const messages = await database.read((sql) => sql.all<MessageRow>(MESSAGES));
    const replies = await database.read((sql) => sql.all<ReplyRow>(REPLIES));
    return recordFrom(await new PostgresStore(database).everything(), messages, replies);
  } finally {
    await database.close();
  }
}

/** How much still waits: replies in the outbox, updates put down. */
export async function waitingInPostgres(
  address: string,
): Promise<{ readonly replies: number; readonly arrivals: number }> {
  const database = new PostgresDatabase({ address });
  try {
    const replies = await database.read((sql) => sql.one<{ left: number }>(UNSENT));
    const arrivals = await database.read((sql) =>
      sql.one<{ left: number }>("SELECT count(*) AS left FROM arrival"),
    );
    return { replies: replies?.left ?? 0, arrivals: arrivals?.left ?? 0 };
  } finally {
    await database.close();
  }
}

function recordFrom(
  rows: Rows,
  messages: readonly MessageRow[],
  replies: readonly ReplyRow[],
): ReadonlyMap<string, ChatRecord> {
  const chats = new Map<string, ChatRecord>();
  for (const chatId of new Set(messages.map((message) => message.chat_id))) {
    const own = rows.filter((row) => row.chatId === chatId);
    const place = new Map(own.map((row, index) => [row.id, index]));
    const keys = new Map<string, number>();
    chats.set(chatId, {
      messages: messages
        .filter((message) => message.chat_id === chatId)
        .map(({ source_key: key, text, handled_at: handled }) => ({
          // An edit's key ends with the number of its update, which differs from run to run.
          key: `${key.replace(/(:e\d+)\.\d+$/, "$1")}${handled === null ? " not answered" : ""}`,
          text,
        })),
      entries: own.map((row) => {
        if (!keys.has(row.messageId)) keys.set(row.messageId, keys.size);
        return {
          message: keys.get(row.messageId),
          smith: row.smithId,
          kind: row.kind,
          at: row.at,
          fact: row.fact,
          implied: row.implied,
          ingot: place.get(row.ingotId ?? ""),
          takenBackBy: place.get(row.takenBackBy ?? ""),
          replaces: place.get(row.replaces ?? ""),
        };
      }),
      replies: replies
        .filter((reply) => reply.chat_id === chatId)
        .map(({ body }) =>
          (JSON.parse(body) as { lines: { text: string }[] }).lines
            .map(({ text }) => text)
            .join("\n"),
        ),
    });
  }
  return chats;
}

/** Replies that still wait in the outbox. */
export function unsentIn(file: string): number {
  const db = new Database(file, { readonly: true });
  try {
    return Number(db.prepare(UNSENT).pluck().get());
  } finally {
    db.close();
  }
}

/** Words of a sent HTML page as they were before they were escaped. */
export function wordsOf(html: string): string {
  return html
    .replace(/<\/?b>/g, "")
    .replace(/&lt;/g, "<")
    .replace(/&gt;/g, ">")
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, "&");
}

/**
 * Whether `sent` is `replies` in order, each at least once, a repetition only right after itself.
 * Returns how many were sent again, or where it breaks.
 */
export function deliveredInOrder(
  sent: readonly string[],
  replies: readonly string[],
): { readonly repeats: number } | { readonly brokenAt: number } {
  // Several replies may have the same words, so all places that fit are followed.
  let places = new Set([-1]);
  for (const [index, words] of sent.entries()) {
    const fitting = new Set<number>();
    for (const place of places) {
      if (place >= 0 && replies[place] === words) fitting.add(place);
      if (replies[place + 1] === words) fitting.add(place + 1);
    }
    if (fitting.size === 0) return { brokenAt: index };
    places = fitting;
  }
  return places.has(replies.length - 1)
    ? { repeats: sent.length - replies.length }
    : { brokenAt: sent.length };
}
