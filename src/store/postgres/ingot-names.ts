/** What the ingots of a chat are called: numbers given, names found again whatever their letter case. */
import { type FactOf, givenUp, type IngotName, type NewEntry } from "../../logbook/index.js";
import {
  ingotNameOf,
  latestEnds,
  NAME_COLUMNS,
  nameKey,
  numberFor,
  WHOLE_NUMBER,
} from "../ingot-names.js";
import { VIEW_LIMITS } from "../view-limits.js";
import type { Sql } from "./database.js";

const INSERT =
  "INSERT INTO ingot_name (chat_id, seq, ingot_id, number, name_key) VALUES ($1, $2, $3, $4, $5)";

/** Notes the name that an ingot row gives. An opening row without a name takes the next number. */
export async function nameIngot(
  sql: Sql,
  seq: number,
  { chatId, id, ingotId }: NewEntry,
  fact: FactOf<"ingot">,
): Promise<void> {
  if (ingotId === undefined) return;
  const key = fact.name === undefined ? "" : nameKey(fact.name);
  if (ingotId !== id) {
    const known = await sql.one<{ number: number }>(
      `SELECT n.number FROM entry o JOIN ingot_name n ON n.chat_id = o.chat_id AND n.seq = o.seq
       WHERE o.chat_id = $1 AND o.id = $2`,
      chatId,
      ingotId,
    );
    if (known !== undefined && key !== "") {
      await sql.run(INSERT, chatId, seq, ingotId, known.number, key);
    }
    return;
  }
  const chat = await sql.one<{ highest_number: number }>(
    "SELECT highest_number FROM chat WHERE id = $1",
    chatId,
  );
  const highest = chat?.highest_number ?? 0;
  const number = numberFor(key, highest);
  if (number > highest) {
    await sql.run("UPDATE chat SET highest_number = $2 WHERE id = $1", chatId, number);
  }
  await sql.run(INSERT, chatId, seq, ingotId, number, key === "" ? String(number) : key);
}

/** Marks a note that gives its ingot up. */
export async function noted(
  sql: Sql,
  seq: number,
  { chatId, ingotId }: NewEntry,
  note: string,
): Promise<void> {
  if (ingotId === undefined) return;
  const called = await sql.one<{ name: string }>(
    "SELECT n.name FROM named_ingot n WHERE n.chat_id = $1 AND n.ingot_id = $2",
    chatId,
    ingotId,
  );
  if (givenUp(note, [called?.name ?? ""]) === undefined) return;
  await sql.run(
    "INSERT INTO given_up (chat_id, seq, ingot_id) VALUES ($1, $2, $3)",
    chatId,
    seq,
    ingotId,
  );
}

/** By name, else by number; of several the newest that is not finished, else the newest. */
export async function findIngot(
  sql: Sql,
  chatId: string,
  name: string,
): Promise<IngotName | undefined> {
  const key = nameKey(name);
  const named = await called(sql, chatId, NAMED, key);
  const found =
    named.length === 0 && WHOLE_NUMBER.test(key)
      ? await called(sql, chatId, NUMBERED, Number(key))
      : named;
  return found.find((one) => !one.finished) ?? found[0];
}

const NAMED = `SELECT k.ingot_id FROM ingot_name k JOIN entry e ON e.chat_id = k.chat_id AND e.seq = k.seq
  WHERE k.chat_id = $1 AND k.name_key = $2 AND e.taken_back_by IS NULL ORDER BY k.seq DESC LIMIT 20`;
const NUMBERED = `SELECT k.ingot_id FROM ingot_name k WHERE k.chat_id = $1 AND k.number = $2
  ORDER BY k.seq DESC LIMIT 20`;

/** Standing ingots of that name or number, the newest name first. */
async function called(
  sql: Sql,
  chatId: string,
  which: string,
  value: string | number,
): Promise<readonly IngotName[]> {
  const keys = await sql.all<{ ingot_id: string }>(which, chatId, value);
  if (keys.length === 0) return [];
  const ids = [...new Set(keys.map(({ ingot_id }) => ingot_id))];
  const rows = await sql.all(
    `SELECT ${NAME_COLUMNS} FROM named_ingot n WHERE n.chat_id = $1 AND n.ingot_id = ANY ($2::text[])`,
    chatId,
    ids,
  );
  const ingots = new Map(rows.map(ingotNameOf).map((ingot) => [ingot.ingotId, ingot]));
  return ids.flatMap((id) => ingots.get(id) ?? []);
}

/** Of standing ingots, newest first, at most `VIEW_LIMITS.names`. */
export async function latestIngots(sql: Sql, chatId: string): Promise<readonly IngotName[]> {
  const rows = await sql.all(
    `SELECT ${NAME_COLUMNS} FROM named_ingot n WHERE n.chat_id = $1 ORDER BY n.seq DESC
     LIMIT ${VIEW_LIMITS.names}`,
    chatId,
  );
  return rows.map(ingotNameOf);
}

/** Ended, with a blade or without, the latest end first. */
export async function finishedIngots(
  sql: Sql,
  chatId: string,
  limit: number,
): Promise<readonly IngotName[]> {
  const finished = await sql.all(
    `SELECT ${NAME_COLUMNS}, f.at FROM entry f
       JOIN named_ingot n ON n.chat_id = f.chat_id AND n.ingot_id = f.ingot_id
     WHERE f.chat_id = $1 AND f.kind = 'finish' AND f.taken_back_by IS NULL
       AND NOT EXISTS (SELECT 1 FROM entry later WHERE later.chat_id = f.chat_id
         AND later.ingot_id = f.ingot_id AND later.kind = 'finish' AND later.taken_back_by IS NULL
         AND (later.at, later.place, later.seq) > (f.at, f.place, f.seq))
     ORDER BY f.at DESC, f.place DESC LIMIT $2`,
    chatId,
    limit,
  );
  const givenUp = await sql.all(
    `SELECT ${NAME_COLUMNS}, e.at FROM given_up g JOIN entry e ON e.chat_id = g.chat_id AND e.seq = g.seq
       JOIN named_ingot n ON n.chat_id = g.chat_id AND n.ingot_id = g.ingot_id
     WHERE g.chat_id = $1 AND e.taken_back_by IS NULL AND n.finished = 0
       AND NOT EXISTS (SELECT 1 FROM given_up later
         JOIN entry l ON l.chat_id = later.chat_id AND l.seq = later.seq
         WHERE later.chat_id = g.chat_id AND later.ingot_id = g.ingot_id AND later.seq > g.seq
           AND l.taken_back_by IS NULL)
     ORDER BY g.seq DESC LIMIT $2`,
    chatId,
    limit,
  );
  return latestEnds([...finished, ...givenUp], limit);
}
