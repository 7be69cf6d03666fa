/** A reply as the messenger shows it: escaped HTML and an inline keyboard. */
import type { Reply, ReplyBody } from "../logbook/index.js";
import { encodeButton } from "./button-data.js";
import { plainWords } from "./plain-words.js";

/** Most characters of one message after its marks are read [Bot API, sendMessage]; some are kept free. */
const PAGE_CHARACTERS = 4000;

/** Rows of buttons as they go over the wire. */
export interface InlineKeyboard {
  readonly inline_keyboard: { text: string; callback_data: string }[][];
}

export interface MessengerPage {
  readonly html: string;
  readonly plain: string;
}

export function escapeHtml(text: string): string {
  return text
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/"/g, "&quot;");
}

/** The pages of a reply, nearly always one; lines are kept whole unless a line alone is too long. */
export function messengerPages(body: ReplyBody): readonly MessengerPage[] {
  const pages: { html: string[]; plain: string[]; length: number }[] = [];
  for (const line of body.lines) {
    for (const words of slices(plainWords(line.text))) {
      let page = pages.at(-1);
      if (!page || page.length + words.length + 1 > PAGE_CHARACTERS) {
        page = { html: [], plain: [], length: 0 };
        pages.push(page);
      }
      const escaped = escapeHtml(words);
      page.html.push(line.bold === true && words !== "" ? `<b>${escaped}</b>` : escaped);
      page.plain.push(words);
      page.length += words.length + 1;
    }
  }
  const written = pages
    .map((page) => ({ html: page.html.join("\n"), plain: page.plain.join("\n") }))
    .filter((page) => page.plain.trim() !== "");
  return written.length > 0 ? written : [{ html: "…", plain: "…" }];
}

function slices(text: string): string[] {
  const parts: string[] = [];
  let rest = Array.from(text);
  while (rest.length > PAGE_CHARACTERS / 2) {
    parts.push(rest.slice(0, PAGE_CHARACTERS / 2).join(""));
    rest = rest.slice(PAGE_CHARACTERS / 2);
  }
  parts.push(rest.join(""));
  return parts;
}

export function inlineKeyboard(reply: Pick<Reply, "id" | "body">): InlineKeyboard | undefined {
  const rows = reply.body.buttons
    .filter((row) => row.length > 0)
    .map((row) =>
      row.map(({ label, code }) => ({
        text: plainWords(label).trim() || "…",
        callback_data: encodeButton({ replyId: reply.id, code }),
      })),
    );
  return rows.length > 0 ? { inline_keyboard: rows } : undefined;
}
