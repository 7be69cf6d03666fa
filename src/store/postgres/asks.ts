/** Questions put to a smith, and whether they were answered. */
import { askSchema, type OpenAsk, type Turn } from "../../logbook/index.js";
import { askOf } from "../rows.js";
import { utc } from "../times.js";
import type { Sql } from "./database.js";

const COLUMNS = "id, about, choices, message_id, asked_at, answered_by";

export async function writeAsk(sql: Sql, turn: Turn): Promise<void> {
  if (turn.answers !== undefined) {
    await sql.run(
      "UPDATE ask SET answered_by = $1 WHERE chat_id = $2 AND id = $3 AND answered_by IS NULL",
      turn.messageId,
      turn.chatId,
      turn.answers,
    );
  }
  if (turn.ask === undefined) return;
  const ask = askSchema.parse(turn.ask);
  await sql.run(
    `INSERT INTO ask (id, chat_id, smith_id, message_id, about, choices, asked_at)
     VALUES ($1, $2, $3, $4, $5, $6, $7)`,
    ask.id,
    turn.chatId,
    turn.smithId,
    turn.messageId,
    ask.about,
    JSON.stringify(ask.choices),
    utc(turn.at),
  );
}

export async function findAsk(
  sql: Sql,
  chatId: string,
  askId: string,
): Promise<OpenAsk | undefined> {
  const row = await sql.one(
    `SELECT ${COLUMNS} FROM ask WHERE chat_id = $1 AND id = $2`,
    chatId,
    askId,
  );
  return row === undefined ? undefined : askOf(row);
}

export async function latestAsk(
  sql: Sql,
  chatId: string,
  smithId: string,
): Promise<OpenAsk | undefined> {
  const row = await sql.one(
    `SELECT ${COLUMNS} FROM ask WHERE chat_id = $1 AND smith_id = $2 ORDER BY seq DESC LIMIT 1`,
    chatId,
    smithId,
  );
  return row === undefined ? undefined : askOf(row);
}
