/** `npm run demo`: an invented week of a small shop through the real bot, both sides, then a card and a day's sheet. */
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Reply } from "../src/logbook/index.js";
import { clockIn, dateIn } from "../src/report/index.js";
import { openSqliteStore } from "../src/store/index.js";
import { play } from "./player.js";
import { readWeek } from "./week.js";
import { sheetOfDay, summaryOf } from "./wrap-up.js";

const SHOP_ZONE = "Europe/Ljubljana";
const CARD_OF = "Alder";
const SHEET_OF = "2026-06-03";

const week = readWeek(await readFile(new URL("week.jsonl", import.meta.url), "utf8"));
const folder = await mkdtemp(join(tmpdir(), "hearth-tally-demo-"));
const store = await openSqliteStore({
  file: join(folder, "week.sqlite"),
  now: () => week[0]?.at ?? "",
});
try {
  let date = "";
  for await (const { message, replies } of play(store, week)) {
    const today = dateIn(message.at, SHOP_ZONE);
    if (today !== date) {
      date = today;
      print("", `──── ${date} ────`);
    }
    const said = message.text ?? `[${message.button}]`;
    print("", `${clockIn(message.at, SHOP_ZONE)} ${message.smith}: ${said}`);
    for (const reply of replies) print(...linesOf(reply));
  }
  const chat = week[0]?.chat ?? "";
  print("", `──── the summary of ${CARD_OF} ────`, "", await summaryOf(store, chat, CARD_OF));
  print("", `──── the sheet of ${SHEET_OF} ────`, "", await sheetOfDay(store, chat, SHEET_OF));
} finally {
  await store.close();
  await rm(folder, { recursive: true, force: true });
}

function linesOf({ body }: Reply): string[] {
  const lines = body.lines.map(({ bold, text }) =>
    `      ${bold === true ? `» ${text}` : text}`.trimEnd(),
  );
  const buttons = body.buttons.flat().map(({ label }) => `[${label}]`);
  return buttons.length === 0 ? lines : [...lines, `      ${buttons.join(" ")}`];
}

function print(...lines: readonly string[]): void {
  for (const line of lines) process.stdout.write(`${line}\n`);
}
