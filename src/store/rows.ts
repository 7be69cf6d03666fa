/** Rows of the header tables as they are read back: shapes checked by zod, names put into ours. */

import { z } from "zod";
import {
  askSchema,
  type Entry,
  FACT_KINDS,
  type Fact,
  type FactKind,
  type Incoming,
  incomingSchema,
  type OpenAsk,
  type Reply,
  replySchema,
  TAKE_BACK_KINDS,
} from "../logbook/index.js";

const utcTime = z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
const jsonText = z.string().transform((text, context) => {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    context.addIssue({ code: "custom", message: "not JSON" });
    return z.NEVER;
  }
});
const texts = jsonText.pipe(z.array(z.string()));

const entryRow = z.object({
  seq: z.int(),
  id: z.string(),
  chat_id: z.string(),
  smith_id: z.string(),
  message_id: z.string(),
  ingot_id: z.string().nullable(),
  kind: z.enum([...FACT_KINDS, ...TAKE_BACK_KINDS]),
  at: utcTime,
  arrived: utcTime,
  place: z.int(),
  taken_back_by: z.string().nullable(),
  replaces: z.string().nullable(),
  implied: texts,
  confidence: z.number(),
});
export const ENTRY_COLUMNS = Object.keys(entryRow.shape)
  .map((name) => `e.${name}`)
  .join(", ");

const takesBack: ReadonlySet<string> = new Set(TAKE_BACK_KINDS);
const isFactKind = (kind: Entry["kind"]): kind is FactKind => !takesBack.has(kind);

/** A header row, with what it says from the table of its kind. */
export function entryOf(raw: unknown, facts: { read(seq: number, kind: FactKind): Fact }): Entry {
  const row = entryRow.parse(raw);
  return {
    id: row.id,
    seq: row.seq,
    chatId: row.chat_id,
    smithId: row.smith_id,
    messageId: row.message_id,
    ...(row.ingot_id !== null && { ingotId: row.ingot_id }),
    kind: row.kind,
    at: row.at,
    arrived: row.arrived,
    place: row.place,
    ...(row.taken_back_by !== null && { takenBackBy: row.taken_back_by }),
    ...(row.replaces !== null && { replaces: row.replaces }),
    implied: row.implied,
    confidence: row.confidence,
    ...(isFactKind(row.kind) && { fact: facts.read(row.seq, row.kind) }),
  };
}

/** A row of `message` joined with the name of its smith. */
export function incomingOf(raw: unknown): Incoming {
  const known = Object.entries(raw as Record<string, unknown>).filter(
    ([, value]) => value !== null,
  );
  return incomingSchema.parse(Object.fromEntries(known));
}
/** The columns of `message m` and `smith s` under our names. */
export const INCOMING_COLUMNS = `m.id, m.source_key AS "sourceKey", m.edge, m.chat_id AS "chatId",
  m.smith_id AS "smithId", s.name AS "smithName", m.kind, m.text, m.sent_at AS "sentAt",
  m.received_at AS "receivedAt", m.edits, m.heard_confidence AS "heardConfidence"`;

const replyRow = z.object({
  id: z.string(),
  chat_id: z.string(),
  message_id: z.string(),
  source_key: z.string(),
  body: jsonText.pipe(replySchema),
  safety: texts,
  created_at: utcTime,
  attempts: z.int(),
});
/** A row of `reply` joined with its message. */
export function replyOf(raw: unknown): Reply {
  const row = replyRow.parse(raw);
  return {
    id: row.id,
    body: row.body,
    safety: row.safety,
    chatId: row.chat_id,
    messageId: row.message_id,
    sourceKey: row.source_key,
    createdAt: row.created_at,
    attempts: row.attempts,
  };
}

const askRow = z.object({
  id: z.string(),
  about: z.string(),
  choices: jsonText.pipe(askSchema.shape.choices),
  message_id: z.string(),
  asked_at: utcTime,
  answered_by: z.string().nullable(),
});
export function askOf(raw: unknown): OpenAsk {
  const row = askRow.parse(raw);
  return {
    id: row.id,
    about: row.about,
    choices: row.choices,
    messageId: row.message_id,
    askedAt: row.asked_at,
    answered: row.answered_by !== null,
  };
}
export const parseTexts = (text: unknown): readonly string[] => texts.parse(text);
