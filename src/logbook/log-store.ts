/**
 * What the log needs from a database. Asynchronous even where the driver is not; no callback
 * transactions: what belongs together goes in one call. One contract suite runs over every store.
 */
import { z } from "zod";
import { draftSchema, type Fact, type FactKind } from "./entry.js";
import type { SheetHourStore } from "./sheet-hour.js";

export const EDGES = ["terminal", "messenger"] as const;
export const MESSAGE_KINDS = ["text", "button", "voice", "edit"] as const;

/** What came in, as it is stored before anything is made of it. */
export const incomingSchema = z.strictObject({
  /** Made by us. */
  id: z.string().min(1).max(64),
  /** Edge, chat, message, edit: the same key twice is the same message. */
  sourceKey: z.string().min(1).max(300),
  edge: z.enum(EDGES),
  chatId: z.string().min(1).max(100),
  smithId: z.string().min(1).max(100),
  smithName: z.string().max(200).optional(),
  kind: z.enum(MESSAGE_KINDS),
  /** The words, typed or heard; for a button its code. */
  text: z.string().max(20_000),
  sentAt: z.iso.datetime({ offset: true }),
  receivedAt: z.iso.datetime({ offset: true }),
  /** For an edit: source key of the message whose words this one replaces. */
  edits: z.string().max(300).optional(),
  /** For a voice note: how sure the recogniser was, 0 to 1. */
  heardConfidence: z.number().min(0).max(1).optional(),
});
export type Incoming = z.infer<typeof incomingSchema>;

/** Rows that take others back; the first three are said by a person, with no table of their own. */
export const TAKE_BACK_KINDS = ["undo", "correct", "edit"] as const;
export type TakeBackKind = (typeof TAKE_BACK_KINDS)[number];

/** One row of the log. Times are ISO 8601 in UTC. */
export interface Entry {
  readonly id: string;
  /** Order of arrival, given by the store. */
  readonly seq: number;
  readonly chatId: string;
  readonly smithId: string;
  readonly messageId: string;
  /** Id of the entry that opened the ingot; absent for what belongs to the shop. */
  readonly ingotId?: string;
  readonly kind: FactKind | TakeBackKind;
  /** When it happened. */
  readonly at: string;
  /** When the message came in. */
  readonly arrived: string;
  /** Order among entries of the same `at`: own `seq`, or the place of the row it replaces. */
  readonly place: number;
  /** Id of the entry that takes this one back. */
  readonly takenBackBy?: string;
  /** Id of the entry whose place this one takes. */
  readonly replaces?: string;
  /** Fields that were not said but follow from a rule or the state. */
  readonly implied: readonly string[];
  /** How sure the reading was, 0 to 1. */
  readonly confidence: number;
  /** Absent for a row that only takes back. */
  readonly fact?: Fact;
}

/** An entry before the store has given it its place. `replaces` inherits the place of that row. */
export type NewEntry = Omit<Entry, "seq" | "place" | "takenBackBy">;

const buttonSchema = z.strictObject({
  label: z.string().min(1).max(60),
  /** At most 64 bytes on the wire, checked where it is encoded. */
  code: z.string().min(1).max(40),
});
/** A file that goes out with a reply: which, of what (ingot's id, or date), in which form. */
const attachSchema = z.strictObject({
  kind: z.enum(["card", "day", "export"]),
  id: z.string().min(1).max(64).optional(),
  as: z.enum(["png", "page", "csv", "json"]),
});
export type Attach = z.infer<typeof attachSchema>;
/** A reply: short lines, at most one of them bold; buttons in rows. */
export const replySchema = z.strictObject({
  lines: z.array(z.strictObject({ text: z.string(), bold: z.boolean().optional() })),
  buttons: z.array(z.array(buttonSchema)),
  /** The same for the ear, where the chat wants spoken replies. */
  spoken: z.string().min(1).max(400).optional(),
  /** Made and sent by the edge once the lines are out. */
  attach: attachSchema.optional(),
});
export type Button = z.infer<typeof buttonSchema>;
export type ReplyBody = z.infer<typeof replySchema>;

const storedDraft = z.strictObject({
  body: draftSchema,
  implied: z.array(z.string()),
  confidence: z.number().min(0).max(1),
});
/** A question that waits for a button or a word. */
export const askSchema = z.strictObject({
  id: z.string().min(1).max(64),
  about: z.string().min(1).max(60),
  choices: z.array(z.strictObject({ label: z.string(), drafts: z.array(storedDraft) })),
});
export type StoredAsk = z.infer<typeof askSchema>;
export interface OpenAsk extends StoredAsk {
  /** The message that raised the question. */
  readonly messageId: string;
  readonly askedAt: string;
  readonly answered: boolean;
}

export interface NewReply {
  readonly id: string;
  readonly body: ReplyBody;
  /** Codes of the safety lines it carries. */
  readonly safety: readonly string[];
}
export interface Reply extends NewReply {
  readonly chatId: string;
  /** Message it answers, and that message's source key. */
  readonly messageId: string;
  readonly sourceKey: string;
  readonly createdAt: string;
  readonly attempts: number;
}

/** Everything that one message leads to, written at once. */
export interface Turn {
  readonly messageId: string;
  readonly chatId: string;
  readonly smithId: string;
  readonly entries: readonly NewEntry[];
  readonly takeBacks: readonly {
    readonly entryId: string;
    readonly by: string;
  }[];
  readonly replies: readonly NewReply[];
  readonly ask?: StoredAsk;
  /** Id of the question that this message settles. */
  readonly answers?: string;
  /** Words that were not understood. */
  readonly unread: readonly string[];
  /** Minute of the chat's day at which its day sheet comes by itself from now on. */
  readonly sheetHour?: number | "off";
  readonly at: string;
}

/** An ingot as the chat knows it by name. */
export interface IngotName {
  readonly ingotId: string;
  readonly name: string;
  /** True once it came to an end: a finished blade is logged for it, or it was given up. */
  readonly finished: boolean;
  readonly openedAt: string;
}

/** What a turn needs to know of a chat, bounded however long the log is. */
export interface ChatView {
  /** Messages of this chat before this one. */
  readonly messages: number;
  /** Standing settings of the chat, in order. */
  readonly settings: readonly Entry[];
  /** Ingot in hand of this smith, and the one before it. */
  readonly inHand?: string;
  readonly previousInHand?: string;
  /** Highest number given to an ingot of this chat: by count, or by a name that is a whole number. */
  readonly ingotsOpened: number;
  /** Latest ingots of the chat, newest first, at most `limits.names`. */
  readonly ingots: readonly IngotName[];
  /** Standing entries of this smith's latest messages that have any, newest message first. */
  readonly lastTurns: readonly {
    readonly messageId: string;
    readonly entries: readonly Entry[];
  }[];
  /** The latest question put to this smith. */
  readonly ask?: OpenAsk;
  /** Safety codes shown in the chat since `since`. */
  readonly safetyShown: readonly string[];
  /** Heat entries of the chat since `since`, for the first heat of the day. */
  readonly entriesSince: number;
}

export interface LogStore extends SheetHourStore {
  /**
   * Stores a message before anything is made of it. `again`: seen before, under the id that `unhandled`
   * gives; `handled`: and answered. Survives the end of the process; the end of the power only with the
   * `commit` that follows, so nothing may be acknowledged in between.
   */
  receive(message: Incoming): Promise<"new" | "again" | "handled">;
  /** Everything a turn needs. `since` is the start of the chat's day, ISO 8601. */
  view(chatId: string, smithId: string, since: string): Promise<ChatView>;
  /** All rows of an ingot of this chat, taken back or not, in the order they happened. */
  ingotLog(chatId: string, ingotId: string): Promise<readonly Entry[]>;
  /** An ingot of the chat by its name, letter case ignored. */
  findIngot(chatId: string, name: string): Promise<IngotName | undefined>;
  /**
   * Standing and taken-back entries of the message with this source key and of its edits, in order. Here and below, who
   * knows the chat says it: a database of many chats then looks nowhere else.
   */
  entriesOfMessage(sourceKey: string, chatId?: string): Promise<readonly Entry[]>;
  /** Rows of this chat by their ids, standing or not; ids of other chats are passed over. */
  entriesById(chatId: string, ids: readonly string[]): Promise<readonly Entry[]>;
  /** A question by its id, if it belongs to this chat. */
  findAsk(chatId: string, askId: string): Promise<OpenAsk | undefined>;
  /**
   * Writes a turn: entries, take-backs, replies, question, all or nothing. Twice is once. Fails with code
   * `stale` if a row was taken back in the meantime: view and decide again. RangeError: our own mistake.
   */
  commit(turn: Turn): Promise<void>;
  /** Messages stored and not yet handled, oldest first. */
  unhandled(): Promise<readonly Incoming[]>;
  /** Replies not yet sent, oldest first; of one chat if given. */
  unsent(limit: number, chatId?: string): Promise<readonly Reply[]>;
  /** The reply left the house; `sentAs` is the messenger's id for it. */
  markSent(replyId: string, at: string, sentAs?: string, chatId?: string): Promise<void>;
  /** A send failed; the reply stays in the outbox. `final`: never try again. */
  markFailed(
    replyId: string,
    at: string,
    reason: string,
    final: boolean,
    chatId?: string,
  ): Promise<void>;
  /** Entries of a chat that happened in [from, to), in order. */
  day(chatId: string, from: string, to: string): Promise<readonly Entry[]>;
  /** Latest ingots of a chat that came to an end (finished blade or given up), newest end first. */
  finishedIngots(chatId: string, limit: number): Promise<readonly IngotName[]>;
  chats(): Promise<readonly { readonly chatId: string; readonly edge: string }[]>;
  /** Every entry with its ingot's name and smith, in order of arrival, for export. */
  everything(): Promise<
    readonly (Entry & {
      readonly ingotName?: string;
      readonly smithName?: string;
    })[]
  >;
  /** A consistent copy while others write. Throws if the file exists. */
  backup(file: string): Promise<void>;
  close(): Promise<void>;
}
