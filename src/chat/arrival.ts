/** One update of the messenger, read into what matters here; anything else is "nothing". */
import { z } from "zod";
import { plainName, plainWords } from "./plain-words.js";

export interface Place {
  /** The messenger's id of the chat. */
  readonly chatId: string;
  readonly isPrivate: boolean;
  readonly title: string;
}
export interface Sender {
  readonly id: string;
  readonly name: string;
}
interface FromSomeone extends Place {
  readonly from: Sender;
}
interface Said extends FromSomeone {
  readonly updateId: number;
  readonly messageId: number;
  /** ISO 8601; absent if the messenger's own figure is none. */
  readonly sentAt?: string;
}

export type Arrival =
  | (Said & {
      readonly kind: "words";
      readonly text: string;
      /** When it was edited, in the messenger's seconds. */
      readonly editedS?: number;
      /** The words came under a picture or file. */
      readonly caption: boolean;
    })
  | (Said & {
      readonly kind: "voice";
      readonly fileId: string;
      readonly durationS?: number;
      readonly bytes?: number;
    })
  | (FromSomeone & { readonly kind: "other" })
  | (FromSomeone & { readonly kind: "press"; readonly queryId: string; readonly data: string })
  | { readonly kind: "moved"; readonly chatId: string; readonly to: string }
  | { readonly kind: "nothing" };

const id = z.number().int().safe();
const user = z.looseObject({
  id,
  is_bot: z.boolean().optional(),
  first_name: z.string().optional(),
  last_name: z.string().optional(),
});
const chat = z.looseObject({ id, type: z.string(), title: z.string().optional() });
const file = z.looseObject({
  file_id: z.string().min(1).max(300),
  duration: z.number().nonnegative().optional(),
  file_size: z.number().nonnegative().optional(),
});
const message = z.looseObject({
  message_id: id.nonnegative(),
  date: z.number().optional(),
  edit_date: z.number().optional(),
  chat,
  from: user.optional(),
  text: z.string().optional(),
  caption: z.string().optional(),
  voice: file.optional(),
  audio: file.optional(),
  migrate_to_chat_id: id.optional(),
});
const press = z.looseObject({
  id: z.string().min(1).max(100),
  from: user,
  data: z.string().optional(),
  message: z.looseObject({ chat }).optional(),
});
const updateSchema = z.looseObject({
  update_id: id,
  message: message.optional(),
  edited_message: message.optional(),
  callback_query: press.optional(),
});

/** What a phone can send that holds no words of the trade. */
const WORDLESS =
  "photo sticker video video_note animation document contact location venue poll dice story game".split(
    " ",
  );
const NOTHING: Arrival = { kind: "nothing" };

export function readUpdate(raw: unknown): Arrival {
  const parsed = updateSchema.safeParse(raw);
  if (!parsed.success) return NOTHING;
  const {
    update_id: updateId,
    message: sent,
    edited_message: edited,
    callback_query,
  } = parsed.data;
  if (callback_query) return readPress(callback_query);
  const body = sent ?? edited;
  return body ? readMessage(updateId, body, edited !== undefined && sent === undefined) : NOTHING;
}

function readPress(query: z.infer<typeof press>): Arrival {
  if (query.message === undefined || query.data === undefined) return NOTHING;
  return {
    kind: "press",
    ...place(query.message.chat),
    from: sender(query.from),
    queryId: query.id,
    data: query.data,
  };
}

function readMessage(updateId: number, body: z.infer<typeof message>, edited: boolean): Arrival {
  const where = place(body.chat);
  if (body.migrate_to_chat_id !== undefined) {
    return { kind: "moved", chatId: where.chatId, to: String(body.migrate_to_chat_id) };
  }
  if (!body.from || body.from.is_bot === true || body.chat.type === "channel") return NOTHING;
  const from = sender(body.from);
  const sentAt = isoOf(edited ? (body.edit_date ?? body.date) : body.date);
  const said: Said = {
    ...where,
    from,
    updateId,
    messageId: body.message_id,
    ...(sentAt === undefined ? {} : { sentAt }),
  };
  const words = body.text ?? body.caption;
  if (words !== undefined && words.trim() !== "") {
    return {
      kind: "words",
      ...said,
      text: plainWords(words).trim(),
      ...(edited ? { editedS: body.edit_date ?? 0 } : {}),
      caption: body.text === undefined,
    };
  }
  if (edited) return NOTHING;
  const note = body.voice ?? body.audio;
  if (note) {
    return {
      kind: "voice",
      ...said,
      fileId: note.file_id,
      ...(note.duration === undefined ? {} : { durationS: note.duration }),
      ...(note.file_size === undefined ? {} : { bytes: note.file_size }),
    };
  }
  return WORDLESS.some((key) => key in body) ? { kind: "other", ...where, from } : NOTHING;
}

function place(of: z.infer<typeof chat>): Place {
  return {
    chatId: String(of.id),
    isPrivate: of.type === "private",
    title: plainName(of.title ?? ""),
  };
}

function sender(of: z.infer<typeof user>): Sender {
  return { id: String(of.id), name: plainName(`${of.first_name ?? ""} ${of.last_name ?? ""}`) };
}

/** The messenger counts seconds since 1970; figures outside 2000 to 2100 are none. */
function isoOf(seconds: number | undefined): string | undefined {
  if (seconds === undefined || !(seconds >= 946_684_800 && seconds < 4_102_444_800))
    return undefined;
  return new Date(Math.floor(seconds) * 1000).toISOString();
}
