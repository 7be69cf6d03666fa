/** The files that the chat sends: pictures, pages, the log as tables. */
import type { Render, SentFile } from "../chat/index.js";
import type { LogStore } from "../logbook/index.js";
import {
  exportRows,
  type PrintedSheet,
  printPage,
  sheetHourTable,
  toCsv,
} from "../report/index.js";
import { renderPng } from "./png.js";
import { cardOf, sheetOf, shopOf } from "./sheets.js";

export function renderWith(store: LogStore, timezone: string): Render {
  return async ({ as, id, kind }, chatId) => {
    if (kind === "export") return exported(store, chatId, as === "json" ? "json" : "csv");
    if (id === undefined) return [];
    if (kind === "card") {
      const card = await cardOf(store, chatId, id, timezone);
      return [drawn(`${fileName(card.name)}-card`, card, as === "page")];
    }
    const sheet = await sheetOf(store, chatId, id, await shopOf(store, chatId, timezone));
    return sheet === undefined ? [] : [drawn(`${id}-day`, sheet, as === "page")];
  };
}

function drawn(name: string, sheet: PrintedSheet, page: boolean): SentFile {
  if (page) {
    return { name: `${name}.html`, bytes: Buffer.from(printPage(sheet.drawing.title, [sheet])) };
  }
  const { height, width } = sheet.drawing;
  return { name: `${name}.png`, bytes: renderPng(sheet.drawing), picture: { width, height } };
}

/** Only what this chat said: other chats of the same log are not its business. */
async function exported(
  store: LogStore,
  chatId: string,
  format: "csv" | "json",
): Promise<readonly SentFile[]> {
  const own = (await store.everything()).filter((entry) => entry.chatId === chatId);
  const hours = (await store.sheetHours()).filter((hour) => hour.chatId === chatId);
  return [...exportRows(own), ...sheetHourTable(hours)].map(({ columns, kind, rows }) => ({
    name: `${kind}.${format}`,
    bytes: Buffer.from(
      format === "csv" ? toCsv(rows, columns) : `${JSON.stringify(rows, null, 1)}\n`,
    ),
  }));
}

/** Letters and figures of any script; all else is a dash. */
const fileName = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-+|-+$/g, "") || "ingot";
