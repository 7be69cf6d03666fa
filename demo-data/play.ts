/** `npm run demo`: an invented week of a small shop through the real bot, both sides, then a card and a day's sheet. */
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Reply } from "../src/logbook/index.js";
import { clockIn, dateIn } from "../src/report/index.js";
import { openSqliteStore } from "../src/store/index.js";
import { play } from "./player.js";
import { readWeek } from "./week.js";

const SHOP_ZONE = "Europe/Ljubljana";
/** Asked at the end, so that a card and a sheet stand last. */
const LAST_QUESTIONS = ["summary of Alder", "show me the day"];

const week = readWeek(await readFile(new URL("week.jsonl", import.meta.url), "utf8"));
const folder = await mkdtemp(join(tmpdir(), "hearth-tally-demo-"));
const last = week.at(-1);
const asked = LAST_QUESTIONS.map((text) => ({
  at: last?.at ?? "",
  smith: last?.smith ?? "",
  chat: last?.chat ?? "",
  text,
}));
const store = await openSqliteStore({
  file: join(folder, "week.sqlite"),
  now: () => week[0]?.at ?? "",
});
try {
  let date = "";
  for await (const { message, replies } of play(store, [...week, ...asked])) {
    const today = dateIn(message.at, SHOP_ZONE);
    if (today !== date) {
      date = today;
      print("", `──── ${date} ────`);
    }
    const said = message.text ?? `[${message.button}]`;
    print("", `${clockIn(message.at, SHOP_ZONE)} ${message.smith}: ${said}`);
    for (const reply of replies) print(...linesOf(reply));
  }
} finally {
  await store.close();
  await rm(folder, { recursive: true, force: true });
}

function linesOf({ body }: Reply): string[] {
  const lines = body.lines.map(({ bold, text }) => `      ${bold === true ? `» ${text}` : text}`);
  const buttons = body.buttons.flat().map(({ label }) => `[${label}]`);
  return buttons.length === 0 ? lines : [...lines, `      ${buttons.join(" ")}`];
}

function print(...lines: readonly string[]): void {
  for (const line of lines) process.stdout.write(`${line}\n`);
}
