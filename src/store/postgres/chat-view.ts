/** What a turn needs to know of a chat: a fixed number of indexed look-ups, however long the log is. */
import type { ChatView, Entry } from "../../logbook/index.js";
import type { Row } from "../columns.js";
import { parseTexts } from "../rows.js";
import { utc } from "../times.js";
import { LastTurns, StandingSettings } from "../view-parts.js";
import { latestAsk } from "./asks.js";
import type { Sql } from "./database.js";
import { ENTRY, readEntry } from "./facts.js";
import { latestIngots } from "./ingot-names.js";

/** Rows of one page: what most turns need of settings, hands and last messages. */
const PAGE = 32;

const SETTINGS = `SELECT ${ENTRY} FROM entry e WHERE e.chat_id = $1 AND e.kind = 'setting'
  AND e.taken_back_by IS NULL ORDER BY e.at DESC, e.place DESC, e.seq DESC`;
// An opening row (or what replaced it) or a switch; details told later do not change hands.
const IN_HAND = `SELECT e.ingot_id FROM entry e WHERE e.chat_id = $1 AND e.smith_id = $2
    AND e.kind IN ('ingot', 'switch') AND e.taken_back_by IS NULL AND e.ingot_id IS NOT NULL
    AND (e.kind = 'switch'
      OR e.place = (SELECT seq FROM entry WHERE chat_id = e.chat_id AND id = e.ingot_id))
    AND EXISTS (SELECT 1 FROM entry o WHERE o.chat_id = e.chat_id AND o.ingot_id = e.ingot_id
      AND o.kind = 'ingot' AND o.taken_back_by IS NULL)
  ORDER BY e.place DESC, e.seq DESC`;
const SAID = `SELECT ${ENTRY} FROM entry e WHERE e.chat_id = $1 AND e.smith_id = $2
  AND e.taken_back_by IS NULL AND e.kind NOT IN ('undo', 'correct', 'edit') ORDER BY e.seq DESC`;
const CHAT = `SELECT c.turns, c.highest_number,
    (SELECT count(*) FROM entry WHERE chat_id = $1 AND at >= $2 AND kind = 'heat' AND taken_back_by IS NULL) AS heats,
    (SELECT json_agg(safety) FROM reply WHERE chat_id = $1 AND created_at >= $2 AND safety <> '[]') AS safety
  FROM chat c WHERE c.id = $1`;
/**
 * Every look-up here is the first few rows of an index. A server that takes a chat for short, as it does where people write
 * in few chats each, would rather fetch and sort all that was ever said in it.
 */
const FIRST_ROWS = "SET LOCAL enable_sort = off; SET LOCAL enable_bitmapscan = off";
interface Chat {
  readonly turns: number;
  readonly highest_number: number;
  readonly heats: number;
  readonly safety: readonly string[] | null;
}

export async function viewOf(
  sql: Sql,
  chatId: string,
  smithId: string,
  sinceTime: string,
): Promise<ChatView> {
  // Sent together: none of them waits for another's rows.
  const [, chat, [inHand, previousInHand], ask, settings, ingots, turns] = await Promise.all([
    sql.script(FIRST_ROWS),
    sql.one<Chat>(CHAT, chatId, utc(sinceTime)),
    hands(sql, chatId, smithId),
    latestAsk(sql, chatId, smithId),
    standingSettings(sql, chatId),
    latestIngots(sql, chatId),
    lastTurns(sql, chatId, smithId),
  ]);
  return {
    messages: chat?.turns ?? 0,
    settings,
    ...(inHand !== undefined && { inHand }),
    ...(previousInHand !== undefined && { previousInHand }),
    ingotsOpened: chat?.highest_number ?? 0,
    ingots,
    lastTurns: turns,
    ...(ask !== undefined && { ask }),
    safetyShown: [...new Set((chat?.safety ?? []).flatMap((text) => parseTexts(text)))],
    entriesSince: chat?.heats ?? 0,
  };
}

async function standingSettings(sql: Sql, chatId: string): Promise<readonly Entry[]> {
  const settings = new StandingSettings();
  for await (const row of inPages<Row>(sql, SETTINGS, chatId)) {
    if (!settings.wants(readEntry(row))) break;
  }
  return settings.inOrder();
}

async function hands(sql: Sql, chatId: string, smithId: string): Promise<readonly string[]> {
  const found = new Set<string>();
  for await (const { ingot_id } of inPages<{ ingot_id: string }>(sql, IN_HAND, chatId, smithId)) {
    found.add(ingot_id);
    if (found.size === 2) break;
  }
  return [...found];
}

async function lastTurns(
  sql: Sql,
  chatId: string,
  smithId: string,
): Promise<ChatView["lastTurns"]> {
  const last = new LastTurns();
  for await (const row of inPages<Row>(sql, SAID, chatId, smithId)) {
    if (!last.wants(readEntry(row))) break;
  }
  return last.turns;
}

/** Rows a page at a time, for who stops at the first few that he needs. */
async function* inPages<T>(
  sql: Sql,
  text: string,
  ...values: readonly string[]
): AsyncGenerator<T> {
  const paged = `${text} LIMIT ${PAGE} OFFSET $${values.length + 1}`;
  for (let offset = 0; ; offset += PAGE) {
    const rows = await sql.all<T>(paged, ...values, offset);
    yield* rows;
    if (rows.length < PAGE) return;
  }
}
