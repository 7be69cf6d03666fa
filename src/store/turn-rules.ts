/** What holds for a turn and its entries in every database, before anything is written. */
import { type Entry, type Fact, factSchema, type NewEntry, type Turn } from "../logbook/index.js";
import type { StoredMessage } from "./messages.js";
import { StoreFailed } from "./store-failed.js";
import { utc } from "./times.js";

/** False if the turn was written before. Throws `unknown-message`, or RangeError for entries of another message. */
export function isToBeWritten(turn: Turn, message: StoredMessage | undefined): boolean {
  if (message?.chat_id !== turn.chatId || message.smith_id !== turn.smithId) {
    throw new StoreFailed("unknown-message", `no message ${turn.messageId} of this chat and smith`);
  }
  if (message.handled_at !== null) return false;
  for (const { id, chatId, smithId, messageId, replaces } of turn.entries) {
    // What undo makes stand again points at the message that said it first.
    const ours = messageId === turn.messageId || replaces !== undefined;
    if (chatId !== turn.chatId || smithId !== turn.smithId || !ours) {
      throw new RangeError(`entry ${id} is not of message ${turn.messageId}`);
    }
  }
  return true;
}

/** What the entry says, checked. */
export function factSaid(entry: NewEntry): Fact | undefined {
  const fact = entry.fact === undefined ? undefined : factSchema.parse(entry.fact);
  if (fact !== undefined && fact.kind !== entry.kind) {
    throw new RangeError(`entry ${entry.id}: kind ${entry.kind}, but it says a ${fact.kind}`);
  }
  return fact;
}

/** The header row of an entry, but for its seq and place. */
export const headerOf = (entry: NewEntry) => ({
  id: entry.id,
  chatId: entry.chatId,
  smithId: entry.smithId,
  messageId: entry.messageId,
  ingotId: entry.ingotId ?? null,
  kind: entry.kind satisfies Entry["kind"],
  at: utc(entry.at),
  arrived: utc(entry.arrived),
  replaces: entry.replaces ?? null,
  implied: JSON.stringify(entry.implied),
  confidence: entry.confidence,
});
