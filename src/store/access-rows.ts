/** Rows of the access side as they are read back, and what both databases keep to. */
import { z } from "zod";
import {
  type AccessStore,
  type LastRun,
  type Person,
  type PrivacyStore,
  type ReplyOwner,
  type RunStore,
  replySchema,
} from "../logbook/index.js";
import { utc } from "./times.js";

export type Access = AccessStore & RunStore & PrivacyStore & { close(): Promise<void> };

/** Runs remembered. Common practice, no source; 10 to 10,000. */
export const RUNS_KEPT = 1000;

const personRow = z.object({
  id: z.string(),
  name: z.string().nullable(),
  role: z.enum(["owner", "smith"]),
  since: z.string(),
});
const runRow = z.object({
  started_at: z.string(),
  beat_at: z.string(),
  ended_at: z.string().nullable(),
});
const replyRow = z.object({ chat_id: z.string(), smith_id: z.string(), body: z.string() });
const movedRow = z.object({ from_id: z.string(), to_id: z.string() });

export function personOf(raw: unknown): Person {
  const { name, ...row } = personRow.parse(raw);
  return { ...row, ...(name === null ? {} : { name }) };
}

export function lastRunOf(raw: unknown, badLately: number): LastRun {
  const row = runRow.parse(raw);
  return {
    startedAt: row.started_at,
    beatAt: row.beat_at,
    endedWell: row.ended_at !== null,
    badLately,
  };
}

export function replyOwnerOf(raw: unknown): ReplyOwner {
  const row = replyRow.parse(raw);
  const { buttons } = replySchema.parse(JSON.parse(row.body));
  return {
    chatId: row.chat_id,
    smithId: row.smith_id,
    codes: buttons.flat().map(({ code }) => code),
  };
}

export function movedOf(raw: unknown): { readonly from: string; readonly to: string } {
  const row = movedRow.parse(raw);
  return { from: row.from_id, to: row.to_id };
}

export const hourBefore = (at: string): string =>
  new Date(Date.parse(utc(at)) - 3_600_000).toISOString();
