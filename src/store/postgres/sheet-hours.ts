/** At which minute of its day a chat's sheet comes by itself, and the last day that was seen to. */
import type { SheetHour, Turn } from "../../logbook/index.js";
import { HOUR, refuseNoDay, sheetHourOf } from "../sheet-hours.js";
import { utc } from "../times.js";
import type { Sql } from "./database.js";

export async function writeSheetHour(
  sql: Sql,
  { at, chatId, sheetHour, smithId }: Turn,
): Promise<void> {
  if (sheetHour === undefined) return;
  // The last day stays: an hour set anew does not send a second sheet on the same day.
  await sql.run(
    `INSERT INTO day_sheet_hour (chat_id, minute, smith_id, at) VALUES ($1, $2, $3, $4)
     ON CONFLICT (chat_id) DO UPDATE SET minute = excluded.minute, smith_id = excluded.smith_id,
       at = excluded.at`,
    chatId,
    sheetHour === "off" ? null : sheetHour,
    smithId,
    utc(at),
  );
}

export async function sheetHours(sql: Sql): Promise<readonly SheetHour[]> {
  return (await sql.all(`${HOUR} ORDER BY h.chat_id`)).map(sheetHourOf);
}

export async function sheetHour(sql: Sql, chatId: string): Promise<SheetHour | undefined> {
  const row = await sql.one(`${HOUR} AND h.chat_id = $1`, chatId);
  return row === undefined ? undefined : sheetHourOf(row);
}

export async function sheetDone(sql: Sql, chatId: string, day: string): Promise<void> {
  refuseNoDay(day);
  await sql.run(
    "UPDATE day_sheet_hour SET done_on = $2 WHERE chat_id = $1 AND coalesce(done_on, '') < $2",
    chatId,
    day,
  );
}
