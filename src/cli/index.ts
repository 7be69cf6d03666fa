/** The commands of the command line; docs/contract.md is their agreement with other programs. */
import { ZodError } from "zod";
import { readConfig } from "../config.js";
import { StoreFailed } from "../store/index.js";
import { backup } from "./backup.js";
import { bot } from "./bot.js";
import { card } from "./card.js";
import { chat } from "./chat.js";
import type { Command } from "./command.js";
import { day } from "./day.js";
import { exportAll } from "./export.js";
import { hear } from "./hear.js";
import { move } from "./move.js";
import { phrase } from "./phrase.js";
import { plan } from "./plan.js";
import { read } from "./read.js";
import { Refused, Usage } from "./refused.js";
import { restore } from "./restore.js";

const COMMANDS: Readonly<Record<string, { readonly run: Command; readonly usage: string }>> = {
  chat: { run: chat, usage: "chat [--db FILE] [--smith NAME] [--at ISO]" },
  bot: {
    run: bot,
    usage:
      "bot [--db FILE|postgres://…] [--webhook PORT] [--metrics PORT] [--role all|hands|ears] [--threads N]   environment: BOT_TOKEN, OWNER_ID, BOT_API_ROOT, WEBHOOK_URL, WEBHOOK_SECRET, WEBHOOK_HOST, METRICS_HOST, VOICE_FOLDER, LEASE_S, LOG_LEVEL, SPEECH_MODEL",
  },
  read: { run: read, usage: "read [--at ISO] [--units mm|inch]" },
  hear: { run: hear, usage: "hear FILE…" },
  plan: { run: plan, usage: "plan < request.json" },
  card: { run: card, usage: "card INGOT [--db FILE] [--png FILE] [--page FILE]" },
  day: { run: day, usage: "day [DATE] [--db FILE] [--png FILE] [--page FILE]" },
  export: { run: exportAll, usage: "export [--db FILE] --format csv|json --out DIR" },
  backup: { run: backup, usage: "backup FILE [--db FILE]" },
  restore: { run: restore, usage: "restore BACKUP [--db FILE] [--aside FILE]" },
  move: { run: move, usage: "move --from FILE|postgres://… --to postgres://…|FILE" },
  phrase: { run: phrase, usage: 'phrase "WORDS" [--units mm|inch]' },
};

/** Exit status: 0 done, 1 refused with one line on standard error, 2 wrong usage. */
export async function run(argv: readonly string[]): Promise<number> {
  const [name = "", ...args] = argv;
  const command = COMMANDS[name];
  if (command === undefined) {
    const wanted = name === "help" || name === "--help" || name === "-h";
    const text = [
      "hearth-tally COMMAND",
      ...Object.values(COMMANDS).map(({ usage }) => `  ${usage}`),
    ];
    (wanted ? process.stdout : process.stderr).write(`${text.join("\n")}\n`);
    return wanted ? 0 : 2;
  }
  try {
    await command.run(args, readConfig());
    return 0;
  } catch (cause) {
    if (cause instanceof Usage) {
      process.stderr.write(`${cause.message}\nusage: hearth-tally ${command.usage}\n`);
      return 2;
    }
    if (cause instanceof Refused || cause instanceof StoreFailed) {
      process.stderr.write(`${cause.message}\n`);
      return 1;
    }
    if (cause instanceof ZodError) {
      const first = cause.issues[0];
      process.stderr.write(
        `${first?.path.join(".") ?? ""}: ${first?.message ?? "not understood"}\n`,
      );
      return 1;
    }
    throw cause;
  }
}
