/** 1,000 attempts of people who were not let in: nothing is read, nothing is written but a counter. */
import { randomBytes } from "node:crypto";
import { afterAll, beforeAll, expect, test } from "vitest";
import { KeptDatabase as Database } from "../../src/store/kept-database.js";
import { bundle } from "./bundle.js";
import { type Chance, chanceFrom } from "./chance.js";
import { unsentIn } from "./record.js";
import { type Running, run, until } from "./running.js";
import { type FaultServer, openFaultServer, SECRET, type Update } from "./server.js";
import { freePort, OWNER_ID, openShop, type Shop } from "./shop.js";
import { FIRST_SMITH, talk } from "./talk.js";

const ATTEMPTS = 1000;
let shop: Shop;
let server: FaultServer;
let bot: Running;
let port: number;
let program: string;

beforeAll(async () => {
  program = await bundle("src/main.ts");
  shop = await openShop([FIRST_SMITH, FIRST_SMITH + 1]);
  server = await openFaultServer(chanceFrom(21));
  port = await freePort();
  server.webhook = `http://127.0.0.1:${port}/updates`;
  bot = run(program, ["bot", "--db", shop.file, "--webhook", String(port)], shop.env(server));
  for (const update of talk(2, 15, chanceFrom(22))) server.give(update);
  await until(() => server.open() === 0, 60_000, "two smiths have a log");
  await until(() => unsentIn(shop.file) === 0, 60_000, "and their replies");
});
afterAll(async () => {
  await bot.kill("SIGKILL");
  await server.close();
  shop.remove();
});

/** Every row of every table but the counter. */
function everythingIn(file: string): string {
  const db = new Database(file, { readonly: true });
  const tables = db
    .prepare(
      "SELECT name FROM sqlite_schema WHERE type = 'table' AND name <> 'stranger_count' ORDER BY name",
    )
    .pluck()
    .all() as string[];
  const rows = tables
    .filter((table) => table !== "run")
    .map((table) => [table, db.prepare(`SELECT * FROM "${table}"`).all()]);
  db.close();
  return JSON.stringify(rows);
}
function idsIn(file: string, table: string): string[] {
  const db = new Database(file, { readonly: true });
  const ids = db.prepare(`SELECT id FROM "${table}"`).pluck().all() as string[];
  db.close();
  return ids;
}
function strangersCounted(file: string): number {
  const db = new Database(file, { readonly: true });
  const count = db.prepare("SELECT coalesce(sum(attempts), 0) FROM stranger_count").pluck().get();
  db.close();
  return Number(count);
}

const stranger = (chance: Chance): number => 900_000 + chance.below(300);
const personal = (id: number) => ({ id, type: "private" });
const from = (id: number) => ({ id, is_bot: false, first_name: "Sly", last_name: "<b>" });

/** One attempt through the messenger; the stranger's own chat or a group that was not let in. */
function attempt(index: number, chance: Chance, replies: string[], asks: string[]): Update {
  const who = stranger(chance);
  const chat = chance.hits(0.2) ? { id: -7000 - chance.below(20), type: "group" } : personal(who);
  const message = { message_id: index + 1, date: 1_772_438_400, chat, from: from(who) };
  const press = (data: string, where: object = chat) => ({
    update_id: index,
    callback_query: {
      id: `s${index}`,
      from: from(who),
      message: { ...message, chat: where },
      chat_instance: "1",
      data,
    },
  });
  const reply = chance.pick(replies);
  return chance.pick([
    () => ({ update_id: index, message: { ...message, text: "status" } }),
    () => ({ update_id: index, message: { ...message, text: "ingot 1" } }),
    () => ({
      update_id: index,
      message: { ...message, text: `/start ${randomBytes(16).toString("base64url")}` },
    }),
    () => ({
      update_id: index,
      message: {
        ...message,
        text: chance.pick(["/invite", "/people", "/letin", "/keepvoice", "forget me"]),
      },
    }),
    () => ({
      update_id: index,
      edited_message: { ...message, message_id: 1 + chance.below(15), edit_date: 1, text: "undo" },
    }),
    () => press(`${reply}:${chance.pick(["undo", "q:next", "q:status", "heat", "q:plan"])}`),
    // As if the press came from the smith's own chat.
    () => press(`${reply}:q:next`, personal(FIRST_SMITH)),
    () => press(`${reply}:a:${asks.length > 0 ? chance.pick(asks) : "x"}:0`),
    () => press(`door-remove:${FIRST_SMITH}`),
    () => press(`forget:yes:${randomBytes(12).toString("base64url")}`),
    () => ({ update_id: index, message: { ...message, voice: { file_id: "f", duration: 1 } } }),
    () => ({ update_id: index, message: { ...message, photo: [{ file_id: "f" }] } }),
    // A migration that would take over a smith's chat.
    () => ({ update_id: index, message: { ...message, chat, migrate_to_chat_id: -1 } }),
  ])();
}

test(`none of ${ATTEMPTS} attempts reads or writes anything`, async () => {
  const chance = chanceFrom(23);
  const before = everythingIn(shop.file);
  const sentBefore = server.sent.length;
  const replies = idsIn(shop.file, "reply");
  const asks = idsIn(shop.file, "ask");
  const statuses = new Map<number, number>();
  let hooked = 0;
  for (let index = 0; index < ATTEMPTS; index += 1) {
    if (chance.hits(0.25)) {
      // A forged delivery in a smith's own name, without the secret or with a wrong one.
      const forged = talk(2, 1, chance)[0];
      const secret = chance.pick(["", "x", SECRET.slice(1), `${SECRET} `, SECRET.toUpperCase()]);
      const response = await fetch(`http://127.0.0.1:${port}/updates`, {
        method: "POST",
        body: JSON.stringify(forged),
        headers:
          secret === ""
            ? {}
            : { "x-telegram-bot-api-secret-token": secret.trim() === SECRET ? "no" : secret },
      });
      await response.arrayBuffer();
      statuses.set(response.status, (statuses.get(response.status) ?? 0) + 1);
      hooked += 1;
    } else {
      server.give(attempt(index, chance, replies, asks));
    }
  }
  await until(() => server.open() === 0, 120_000, "every attempt is dealt with");
  expect([...statuses]).toEqual([[401, hooked]]);
  expect(everythingIn(shop.file)).toBe(before);
  const lines = new Set(server.sent.slice(sentBefore).map(({ text }) => text));
  for (const line of lines) {
    expect([
      "This is a private forge log. Ask its owner for an invitation link.",
      "This is a private forge log. Its owner can let this group in with /letin.",
      "Only the owner can do that.",
      "That question is over. Say: forget me.",
    ]).toContain(line);
  }
  const toSmiths = server.sent
    .slice(sentBefore)
    .filter(({ chatId }) =>
      [String(FIRST_SMITH), String(FIRST_SMITH + 1), OWNER_ID].includes(chatId),
    );
  expect(toSmiths).toEqual([]);
  expect(strangersCounted(shop.file)).toBeGreaterThan(300);
  expect(bot.child.exitCode).toBeNull();
  console.log(
    `${ATTEMPTS} attempts, ${hooked} at the webhook; ${server.sent.length - sentBefore} polite lines sent, ` +
      `${strangersCounted(shop.file)} counted`,
  );
});
