/** The log itself: rows written, taken back and read, with what each says. */
import type { Entry, NewEntry } from "../../logbook/index.js";
import type { Row } from "../columns.js";
import { StoreFailed } from "../store-failed.js";
import { utc } from "../times.js";
import { factSaid, headerOf } from "../turn-rules.js";
import type { Sql } from "./database.js";
import { ENTRY, insertOf, readEntry, writeLists } from "./facts.js";
import { nameIngot, noted } from "./ingot-names.js";

const IN_ORDER = "ORDER BY e.at, e.place, e.seq";

// A replacement inherits the place of the row it replaces; any other row's place is its own seq.
const HEADER = `INSERT INTO entry (seq, id, chat_id, smith_id, message_id, ingot_id, kind, at, arrived, place, replaces,
    implied, confidence)
  SELECT n.seq, $1, $2, $3, $4, $5, $6, $7, $8,
    coalesce((SELECT place FROM entry WHERE chat_id = $2 AND id = $9), n.seq), $9, $10, $11
  FROM (SELECT nextval('entry_seq_seq') AS seq) n RETURNING chat_id, seq`;
const HEADER_VALUES = 11;

/** Gives the row's seq. The chat's row is locked, so that seqs of a chat follow its turns. */
export async function writeEntry(sql: Sql, entry: NewEntry): Promise<number> {
  const fact = factSaid(entry);
  const header = headerOf(entry);
  const values = [
    header.id,
    header.chatId,
    header.smithId,
    header.messageId,
    header.ingotId,
    header.kind,
    header.at,
    header.arrived,
    header.replaces,
    header.implied,
    header.confidence,
  ];
  const said = fact === undefined ? undefined : insertOf(fact, HEADER_VALUES + 1);
  const text = said === undefined ? HEADER : `WITH e AS (${HEADER}) ${said.text}`;
  const row = await sql.one<{ seq: number }>(text, ...values, ...(said?.values ?? []));
  if (row === undefined) throw new RangeError(`entry ${entry.id}: no row was written`);
  if (fact !== undefined) await writeLists(sql, entry.chatId, row.seq, fact);
  if (fact?.kind === "ingot") await nameIngot(sql, row.seq, entry, fact);
  if (fact?.kind === "note") await noted(sql, row.seq, entry, fact.note);
  return row.seq;
}

/** Throws `stale` if it is no standing row of this chat. */
export async function takeBack(
  sql: Sql,
  chatId: string,
  entryId: string,
  by: string,
): Promise<void> {
  const changed = await sql.run(
    "UPDATE entry SET taken_back_by = $1 WHERE id = $2 AND chat_id = $3 AND taken_back_by IS NULL",
    by,
    entryId,
    chatId,
  );
  if (changed !== 1) {
    throw new StoreFailed("stale", `entry ${entryId} is no longer there to be taken back`);
  }
}

async function entries(sql: Sql, text: string, ...values: unknown[]): Promise<readonly Entry[]> {
  return (await sql.all<Row>(text, ...values)).map(readEntry);
}

export const entriesOfIngot = (sql: Sql, chatId: string, ingotId: string) =>
  entries(
    sql,
    `SELECT ${ENTRY} FROM entry e WHERE e.chat_id = $1 AND e.ingot_id = $2 ${IN_ORDER}`,
    chatId,
    ingotId,
  );

/** Without a chat, every chat is searched. */
export const entriesOfMessage = (sql: Sql, sourceKey: string, chatId?: string) =>
  entries(
    sql,
    `SELECT ${ENTRY} FROM message m JOIN entry e ON e.chat_id = m.chat_id
       AND e.seq BETWEEN m.first_entry AND m.last_entry AND e.message_id = m.id
     WHERE ${chatId === undefined ? "" : "m.chat_id = $2 AND "}(m.source_key = $1 OR m.edits = $1) ${IN_ORDER}`,
    sourceKey,
    ...(chatId === undefined ? [] : [chatId]),
  );

export const entriesById = (sql: Sql, chatId: string, ids: readonly string[]) =>
  entries(
    sql,
    `SELECT ${ENTRY} FROM entry e WHERE e.chat_id = $1 AND e.id = ANY ($2::text[]) ${IN_ORDER}`,
    chatId,
    ids,
  );

export const entriesOfDay = (sql: Sql, chatId: string, from: string, to: string) =>
  entries(
    sql,
    `SELECT ${ENTRY} FROM entry e WHERE e.chat_id = $1 AND e.at >= $2 AND e.at < $3 ${IN_ORDER}`,
    chatId,
    utc(from),
    utc(to),
  );

type Named = Row & { readonly ingot_name: string | null; readonly smith_name: string | null };

/** Rows fetched at a time: about 4 MB. */
const PAGE = 5000;

/** In order of arrival, a page at a time in one moment of the log. */
export async function allEntries(
  sql: Sql,
): Promise<readonly (Entry & { readonly ingotName?: string; readonly smithName?: string })[]> {
  const found: (Entry & { ingotName?: string; smithName?: string })[] = [];
  await sql.script(`DECLARE everything NO SCROLL CURSOR FOR
    SELECT ${ENTRY}, s.name AS smith_name, n.name AS ingot_name
    FROM entry e LEFT JOIN smith s ON s.chat_id = e.chat_id AND s.id = e.smith_id
      LEFT JOIN named_ingot n ON n.chat_id = e.chat_id AND n.ingot_id = e.ingot_id
    ORDER BY e.seq`);
  for (;;) {
    const rows = await sql.all<Named>(`FETCH ${PAGE} FROM everything`);
    for (const row of rows) {
      found.push({
        ...readEntry(row),
        ...(row.ingot_name !== null && { ingotName: row.ingot_name }),
        ...(row.smith_name !== null && { smithName: row.smith_name }),
      });
    }
    if (rows.length < PAGE) return found;
  }
}
