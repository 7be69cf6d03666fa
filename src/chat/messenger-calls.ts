/** Every call that goes out to the messenger; the only holder of the token. */
import { Api, InputFile, InputMediaBuilder } from "grammy";
import type { Reply } from "../logbook/index.js";
import { isPhoto, type Render, type SentFile } from "./attached.js";
import type { ChatIds } from "./chat-ids.js";
import type { ChatLogger } from "./chat-logger.js";
import type { DoorLine } from "./door.js";
import { inlineKeyboard, messengerPages } from "./messenger-page.js";
import { platformFetch } from "./platform-fetch.js";
import { failedSend, type SendOutcome } from "./send-outcome.js";
import type { Hear } from "./terminal.js";
import { describeTrouble } from "./trouble.js";
import { withVoiceFile } from "./voice-note.js";

export interface CallsOptions {
  readonly token: string;
  readonly apiRoot: string;
  readonly libraryClient: boolean;
  readonly logger: ChatLogger;
  readonly signal: AbortSignal;
  readonly speak?: Speak;
  readonly render?: Render;
}

/** Words to a voice note, OGG/Opus. */
export type Speak = (words: string) => Promise<Uint8Array>;

export type MessengerCalls = ReturnType<typeof createCalls>;

/** Longer than the long poll. */
const CALL_TIMEOUT_S = 40;
/** Documents in one group, published by the messenger. */
const MOST_IN_GROUP = 10;
const KINDS = ["message", "edited_message", "callback_query"] as const;

export function createCalls({
  token,
  apiRoot,
  libraryClient,
  logger,
  signal,
  speak,
  render,
}: CallsOptions) {
  const api = new Api(token, {
    apiRoot,
    timeoutSeconds: CALL_TIMEOUT_S,
    ...(libraryClient ? {} : { fetch: platformFetch }),
  });

  /** The pages of a reply; the buttons hang on the last. `plainly`: without marks and buttons. */
  async function sendPages(ids: ChatIds, reply: Reply, plainly: boolean): Promise<string> {
    const pages = messengerPages(reply.body);
    const keyboard = plainly ? undefined : inlineKeyboard(reply);
    const wireId = ids.toWire(reply.chatId);
    let sentAs = "";
    for (const [index, page] of pages.entries()) {
      const last = index === pages.length - 1;
      const sent = await api.sendMessage(wireId, plainly ? page.plain : page.html, {
        ...(plainly ? {} : { parse_mode: "HTML" as const }),
        ...(last && keyboard ? { reply_markup: keyboard } : {}),
        ...answered(reply, wireId),
      });
      sentAs = String(sent.message_id);
    }
    return sentAs;
  }

  /** The written reply is out already: a voice that fails is not tried again. */
  async function sendSpoken(ids: ChatIds, reply: Reply): Promise<void> {
    const { spoken } = reply.body;
    if (spoken === undefined || speak === undefined) return;
    try {
      const note = new InputFile(await speak(spoken), "next.ogg");
      await api.sendVoice(ids.toWire(reply.chatId), note);
    } catch (error) {
      logger.warn({ reply: reply.id, trouble: describeTrouble(error) }, "voice not sent");
    }
  }

  /** As with the voice: what fails is said, and not tried again. */
  async function sendAttached(ids: ChatIds, reply: Reply): Promise<void> {
    const { attach } = reply.body;
    if (attach === undefined || render === undefined) return;
    const wireId = ids.toWire(reply.chatId);
    try {
      const files = await render(attach, reply.chatId);
      for (let from = 0; from < files.length; from += MOST_IN_GROUP) {
        await sendFiles(wireId, files.slice(from, from + MOST_IN_GROUP));
      }
    } catch (error) {
      logger.warn({ reply: reply.id, trouble: describeTrouble(error) }, "file not sent");
      await api
        .sendMessage(wireId, "The file did not get through. Ask for it again.")
        .catch(() => undefined);
    }
  }

  async function sendFiles(wireId: string, files: readonly SentFile[]): Promise<void> {
    const [first] = files;
    if (first === undefined) return;
    const input = ({ bytes, name }: SentFile): InputFile => new InputFile(bytes, name);
    if (files.length > 1) {
      const group = files.map((file) => InputMediaBuilder.document(input(file)));
      await api.sendMediaGroup(wireId, group);
    } else if (isPhoto(first)) await api.sendPhoto(wireId, input(first));
    else await api.sendDocument(wireId, input(first));
  }

  return {
    username: async (): Promise<string> => (await api.getMe()).username,

    updates: (ask: { readonly offset?: number; readonly timeoutS: number }, until: AbortSignal) =>
      api.getUpdates(
        {
          ...(ask.offset === undefined ? {} : { offset: ask.offset }),
          timeout: ask.timeoutS,
          limit: 100,
          allowed_updates: KINDS,
        },
        until as Parameters<typeof api.getUpdates>[1],
      ),

    async ownUpdates(): Promise<void> {
      // While a webhook is set the messenger refuses to be asked, which shows as 409 and is tried again.
      await api.deleteWebhook().catch(() => undefined);
    },

    /** Never throws: the error would carry the token or the secret. */
    async deliverTo(url: string, secret: string): Promise<"done" | "later" | "refused"> {
      try {
        await api.setWebhook(url, { secret_token: secret, allowed_updates: KINDS });
        return "done";
      } catch (error) {
        logger.warn({ trouble: describeTrouble(error) }, "webhook address not taken");
        return failedSend(error).kind === "later" ? "later" : "refused";
      }
    },

    /** Never throws. */
    async send(ids: ChatIds, reply: Reply, plainly: boolean): Promise<SendOutcome> {
      try {
        const sentAs = await sendPages(ids, reply, plainly);
        await sendSpoken(ids, reply);
        await sendAttached(ids, reply);
        return { kind: "sent", sentAs };
      } catch (error) {
        if (!(error instanceof RangeError)) return failedSend(error);
        logger.error({ reply: reply.id }, "a button of ours is too long");
        return { kind: "unreadable", reason: "button" };
      }
    },

    /** One line beside the log; not tried again. */
    async say(ids: ChatIds, chatId: string, line: DoorLine): Promise<void> {
      const rows = (line.buttons ?? []).map(({ label, data }) => [
        { text: label, callback_data: data },
      ]);
      try {
        await api.sendMessage(
          ids.toWire(chatId),
          line.text,
          rows.length > 0 ? { reply_markup: { inline_keyboard: rows } } : {},
        );
      } catch (error) {
        logger.warn({ chat: chatId, trouble: describeTrouble(error) }, "line not sent");
      }
    },

    async sendFile(ids: ChatIds, chatId: string, name: string, text: string): Promise<void> {
      await api.sendDocument(ids.toWire(chatId), new InputFile(Buffer.from(text), name));
    },

    async endPress(queryId: string, text: string | undefined): Promise<void> {
      // Only a courtesy: the press itself is committed or refused already.
      await api
        .answerCallbackQuery(queryId, text === undefined ? {} : { text })
        .catch(() => undefined);
    },

    async hearNote(
      hear: Hear,
      fileId: string,
      who: Parameters<Hear>[1],
      keep: (file: string) => Promise<void>,
    ): ReturnType<Hear> {
      const { file_path: path } = await api.getFile(fileId);
      if (path === undefined || !/^[\w./-]+$/.test(path) || path.includes("..")) {
        throw new RangeError("the messenger gave no usable path");
      }
      return withVoiceFile(`${apiRoot}/file/bot${token}/${path}`, signal, async (file) => {
        await keep(file);
        return hear(file, who);
      });
    },
  };
}

/** In a group a reply hangs on the message it answers, so that each smith sees their own. */
function answered(
  reply: Reply,
  wireId: string,
): {
  reply_parameters?: { message_id: number; allow_sending_without_reply: true };
} {
  const [, chat, message] = /^messenger:(-\d+):(\d+)(?::|$)/.exec(reply.sourceKey) ?? [];
  if (message === undefined || chat !== wireId) return {};
  return {
    reply_parameters: { message_id: Number(message), allow_sending_without_reply: true },
  };
}
