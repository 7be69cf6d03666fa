/** The disk fills up, is read-only, is held by another, is damaged: nothing acknowledged is lost. */
import { execFileSync } from "node:child_process";
import {
  closeSync,
  existsSync,
  mkdtempSync,
  openSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeAll, beforeEach, expect, test } from "vitest";
import { KeptDatabase as Database } from "../../src/store/kept-database.js";
import { bundle } from "./bundle.js";
import { chanceFrom } from "./chance.js";
import { deliveredInOrder, recordOf, unsentIn, wordsOf } from "./record.js";
import { pause, type Running, run, until } from "./running.js";
import { FAULT_TOKEN, type FaultServer, openFaultServer } from "./server.js";
import { openShop, type Shop } from "./shop.js";
import { FIRST_SMITH, talk } from "./talk.js";

let program: string;
let server: FaultServer;
const bots: Running[] = [];
const undo: (() => void)[] = [];

beforeAll(async () => {
  program = await bundle("src/main.ts");
});
beforeEach(async () => {
  server = await openFaultServer(chanceFrom(3));
});
afterEach(async () => {
  for (const bot of bots.splice(0)) await bot.kill("SIGKILL");
  await server.close();
  for (const each of undo.splice(0).reverse()) each();
});

/** A small disk, with room for the journal (16 MB). Undefined where this process may not mount one. */
function smallDisk(size: string): string | undefined {
  const folder = mkdtempSync(join(tmpdir(), "hearth-disk-"));
  undo.push(() => rmSync(folder, { recursive: true, force: true }));
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", `size=${size}`, "tmpfs", folder], {
      stdio: "pipe",
    });
  } catch {
    return undefined;
  }
  undo.push(() => execFileSync("umount", ["-l", folder]));
  return folder;
}

function startBot(shop: Shop): Running {
  const bot = run(program, ["bot", "--db", shop.file], shop.env(server));
  bots.push(bot);
  return bot;
}
const smiths = [FIRST_SMITH, FIRST_SMITH + 1, FIRST_SMITH + 2];
const said = (words: string): number =>
  server.sent.filter(({ text }) => text.includes(words)).length;

test("a full disk: the bot says so, acknowledges nothing it lost, and goes on by itself", async (context) => {
  const disk = smallDisk("32m");
  if (disk === undefined) return context.skip("this process may not mount a small disk");
  const shop = await openShop(smiths, disk);
  const updates = talk(3, 12, chanceFrom(11));
  const bot = startBot(shop);
  for (const update of updates.slice(0, 12)) server.give(update);
  await until(() => server.open() === 0, 30_000, "messages before the disk is full");
  const filler = join(disk, "filler");
  fill(filler);
  for (const update of updates.slice(12)) server.give(update);
  await until(() => said("the disk is full") > 0, 30_000, "the bot says that the disk is full");
  await pause(500);
  expect(server.open()).toBeGreaterThan(0);
  expect(bot.child.exitCode).toBeNull();
  rmSync(filler);
  await until(() => server.open() === 0, 60_000, "what waited is taken");
  await until(() => unsentIn(shop.file) === 0, 60_000, "every reply is sent");
  await bot.kill("SIGTERM");

  const record = await recordOf(shop.file);
  for (const smith of smiths) {
    const own = record.get(String(smith));
    expect(own?.messages).toHaveLength(12);
    const sent = server.sent
      .filter(({ chatId, text }) => chatId === String(smith) && !text.includes("cannot write"))
      .map(({ text }) => wordsOf(text));
    expect(deliveredInOrder(sent, own?.replies ?? [])).toHaveProperty("repeats");
  }
});

test("killed while the disk is full: what was acknowledged is there, the rest comes again", async (context) => {
  const disk = smallDisk("32m");
  if (disk === undefined) return context.skip("this process may not mount a small disk");
  const shop = await openShop(smiths, disk);
  const updates = talk(3, 8, chanceFrom(12));
  const first = startBot(shop);
  for (const update of updates.slice(0, 9)) server.give(update);
  await until(() => server.open() === 0, 30_000, "messages before the disk is full");
  const filler = join(disk, "filler");
  fill(filler);
  for (const update of updates.slice(9)) server.give(update);
  await until(() => said("the disk is full") > 0, 30_000, "the bot says that the disk is full");
  await first.kill("SIGKILL");
  rmSync(filler);
  startBot(shop);
  await until(() => server.open() === 0, 60_000, "the rest is taken");
  await until(() => unsentIn(shop.file) === 0, 60_000, "every reply is sent");
  const record = await recordOf(shop.file);
  for (const smith of smiths) expect(record.get(String(smith))?.messages).toHaveLength(8);
});

test("a read-only disk is refused with one clear line, and the log is as it was", async (context) => {
  const disk = smallDisk("8m");
  if (disk === undefined) return context.skip("this process may not mount a small disk");
  const shop = await openShop(smiths, disk);
  execFileSync("mount", ["-o", "remount,ro", disk]);
  const refused = startBot(shop);
  expect((await refused.ended).code).toBe(1);
  expect(refused.output().trim().split("\n")).toHaveLength(1);
  expect(refused.output()).toMatch(/written|read-only/);
  execFileSync("mount", ["-o", "remount,rw", disk]);
  startBot(shop);
  for (const update of talk(3, 2, chanceFrom(13))) server.give(update);
  await until(() => server.open() === 0, 30_000, "all is taken once it can be written");
});

test("a second process on the same log is refused with one clear line; the first goes on", async () => {
  const shop = await openShop(smiths);
  undo.push(shop.remove);
  startBot(shop);
  await until(() => server.polls() > 0, 20_000, "the first polls");
  const second = startBot(shop);
  expect((await second.ended).code).toBe(1);
  expect(second.output()).toMatch(/another process/);
  for (const update of talk(3, 2, chanceFrom(14))) server.give(update);
  await until(() => server.open() === 0, 30_000, "the first still takes messages");
});

test("a damaged page is found at the start, and the line says what to do", async () => {
  const shop = await openShop(smiths);
  undo.push(shop.remove);
  const bot = startBot(shop);
  for (const update of talk(3, 20, chanceFrom(15))) server.give(update);
  await until(() => server.open() === 0, 60_000, "messages are taken");
  await bot.kill("SIGTERM");
  const { size } = statSync(shop.file);
  const file = openSync(shop.file, "r+");
  const noise = Buffer.alloc(4096, 0xa5);
  writeSync(file, noise, 0, noise.length, Math.floor(size / 2));
  closeSync(file);
  const refused = startBot(shop);
  expect((await refused.ended).code).toBe(1);
  expect(refused.output()).toMatch(/damaged/);
  expect(refused.output()).toMatch(/backup/);
});

/** 20 in a full run; fewer where FAULTS_KILLS makes it smaller, as a start takes a second or two. */
const STARTS = Math.min(20, Math.max(6, Math.round(Number(process.env.FAULTS_KILLS ?? 300) / 15)));
test(`killed ${STARTS} times while the tables are made: the next start makes them whole`, async () => {
  const folder = mkdtempSync(join(tmpdir(), "hearth-new-"));
  undo.push(() => rmSync(folder, { recursive: true, force: true }));
  const chance = chanceFrom(17);
  const fresh = (name: string): Shop => ({
    folder,
    file: join(folder, name),
    env: (at) => ({
      BOT_TOKEN: FAULT_TOKEN,
      BOT_API_ROOT: at.root,
      OWNER_ID: String(FIRST_SMITH),
      LOG_LEVEL: "warn",
    }),
    remove: () => undefined,
  });
  let half = 0;
  for (let index = 0; index < STARTS; index += 1) {
    const shop = fresh(`log-${index}.sqlite`);
    const first = startBot(shop);
    // From before the file is there to after the tables are.
    while (!existsSync(shop.file) && first.child.exitCode === null) await pause(1);
    await pause(chance.below(25));
    await first.kill("SIGKILL");
    const polls = server.polls();
    if (!hasTables(shop.file)) half += 1;
    const second = startBot(shop);
    await until(() => server.polls() > polls, 20_000, `start ${index}: ${second.output()}`);
    await second.kill("SIGKILL");
  }
  console.log(`${half} of ${STARTS} were killed before the tables were in the file`);
});

test("told to stop, the bot ends what is in flight and leaves with 0", async () => {
  const shop = await openShop(smiths);
  undo.push(shop.remove);
  const bot = startBot(shop);
  await until(() => server.polls() > 0, 20_000, "the bot polls");
  for (const update of talk(3, 20, chanceFrom(16))) server.give(update);
  await pause(60);
  const from = performance.now();
  await bot.kill("SIGTERM");
  expect(await bot.ended).toEqual({ code: 0, signal: null });
  expect(performance.now() - from).toBeLessThan(10_000);
  // No update that was acknowledged is unanswered in the log.
  const keys = [...(await recordOf(shop.file)).values()].flatMap(({ messages }) => messages);
  expect(keys.filter(({ key }) => key.includes("not answered"))).toEqual([]);
  startBot(shop);
  await until(() => server.open() === 0, 30_000, "the next run takes the rest");
});

function hasTables(file: string): boolean {
  const db = new Database(file);
  try {
    return db.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'message'").get() !== undefined;
  } finally {
    db.close();
  }
}

/** Takes all the room that is left. */
function fill(file: string): void {
  const block = Buffer.alloc(65_536);
  for (let size = block.length; size >= 512; size /= 2) {
    try {
      for (;;) writeFileSync(file, block.subarray(0, size), { flag: "a" });
    } catch (error) {
      if (!(error instanceof Error && "code" in error && error.code === "ENOSPC")) throw error;
    }
  }
}
