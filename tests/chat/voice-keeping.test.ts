/** Voice notes that the owner keeps: off until said, private to the machine, given out and removed by forget me. */
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { createMessenger, type Hear, type Messenger } from "../../src/chat/index.js";
import { createVoiceKeeping } from "../../src/chat/voice-keeping.js";
import { type Desk, jumpingClock, keptLog, openDesk } from "./desk.js";
import { createEchoHandler, type EchoHandler } from "./echo-handler.js";
import { messageOf, presses, says, TOKEN, updateId } from "./wire.js";

const OWNER = 7;
const SMITH = 8;
let desk: Desk;
let server: Server;
let updates: { update_id: number }[];
let sent: { method: string; chat: string; body: string }[];
let handler: EchoHandler;
let messenger: Messenger;
let folder: string;
let log: ReturnType<typeof keptLog>;
let heard: Hear;

beforeEach(async () => {
  desk = await openDesk();
  handler = createEchoHandler(desk.store, desk.newId);
  folder = `${desk.file}.voice`;
  updates = [];
  sent = [];
  heard = async () => ({ text: "heat four", confidence: 1 });
  server = createServer((request, response) => {
    if (request.url?.startsWith("/file/")) return response.end("OggS sound of a note");
    const parts: Buffer[] = [];
    request.on("data", (part: Buffer) => parts.push(part));
    request.on("end", () => {
      const body = Buffer.concat(parts).toString();
      const method = request.url?.split("/").at(-1) ?? "";
      let result: unknown = true;
      if (method === "getMe") result = { id: 1, username: "forge_bot" };
      if (method === "getFile") result = { file_id: "f", file_path: "voice/file_1.oga" };
      if (method === "getUpdates") {
        const offset = Number((JSON.parse(body) as { offset?: number }).offset ?? 0);
        while (updates[0] !== undefined && updates[0].update_id < offset) updates.shift();
        result = [...updates];
      }
      if (method.startsWith("send")) {
        const chat = /"chat_id":"?(\d+)/.exec(body)?.[1] ?? "";
        sent.push({ method, chat, body });
        result = { message_id: sent.length };
      }
      response.end(JSON.stringify({ ok: true, result }));
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  await desk.access.setOwner(String(OWNER), desk.now());
  const soon = new Date(Date.parse(desk.now()) + 60_000).toISOString();
  await desk.access.createInvite({
    codeHash: "a".repeat(64),
    role: "smith",
    at: desk.now(),
    expiresAt: soon,
  });
  await desk.access.useInvite("a".repeat(64), { id: String(SMITH), name: "Wenna" }, desk.now());
  await start();
});
afterEach(async () => {
  await messenger.stop();
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
  await desk.close();
});

async function start(): Promise<void> {
  log = keptLog();
  messenger = createMessenger({
    token: TOKEN,
    apiRoot: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    handler,
    store: desk.store,
    access: desk.access,
    privacy: desk.access,
    newId: desk.newId,
    now: desk.now,
    logger: log,
    clock: jumpingClock(),
    hear: (file, who) => heard(file, who),
    voiceFolder: folder,
  });
  await messenger.start();
}
async function take(...more: { update_id: number }[]): Promise<void> {
  updates.push(...more);
  const end = performance.now() + 20_000;
  while (updates.length > 0) {
    if (performance.now() > end) throw new Error("waited in vain");
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}
const note = (from: number, messageId: number) => ({
  update_id: updateId(),
  message: messageOf({ from, messageId }, { voice: { file_id: "f", duration: 3 } }),
});
const modeOf = (path: string): number => statSync(path).mode & 0o777;
const textTo = (chat: number): string =>
  String(
    (
      JSON.parse(sent.filter((each) => each.chat === String(chat)).at(-1)?.body ?? "{}") as {
        text?: string;
      }
    ).text,
  );

test("nothing is kept until the owner says so, and nothing from when they take it back", async () => {
  await take(note(SMITH, 1));
  expect(existsSync(folder)).toBe(false);
  await take(says("/keepvoice", { from: OWNER }));
  expect(textTo(OWNER)).toMatch(/are kept from now on/);
  await take(note(SMITH, 2));
  expect(readdirSync(join(folder, "8"))).toEqual(["8-2.ogg"]);
  await take(says("/people", { from: OWNER }));
  expect(textTo(OWNER)).toMatch(/Voice notes are kept/);
  await take(says("/dropvoice", { from: OWNER }), note(SMITH, 3));
  expect(readdirSync(join(folder, "8"))).toEqual(["8-2.ogg"]);
  expect(handler.taken.map(({ kind }) => kind)).toEqual(["voice", "voice", "voice"]);
});

test("kept files are whole and nobody else's on the machine, whatever was there before", async () => {
  mkdirSync(folder, { mode: 0o755 });
  await take(says("/keepvoice", { from: OWNER }), note(SMITH, 2));
  const file = join(folder, "8", "8-2.ogg");
  expect(readFileSync(file, "utf8")).toBe("OggS sound of a note");
  expect([modeOf(folder), modeOf(join(folder, "8")), modeOf(file)]).toEqual([0o700, 0o700, 0o600]);
});

test("the choice outlives the run", async () => {
  await take(says("/keepvoice", { from: OWNER }));
  await messenger.stop();
  await start();
  await take(note(OWNER, 5));
  expect(readdirSync(join(folder, "7"))).toEqual(["7-5.ogg"]);
});

test("only the owner chooses; to a smith the command is a word like any other", async () => {
  await take(says("/keepvoice", { from: SMITH }), says("/keepvoice", { from: 99 }), note(SMITH, 9));
  expect(await desk.access.keepsVoice()).toBe(false);
  expect(existsSync(folder)).toBe(false);
  expect(handler.taken.map(({ text }) => text)).toEqual(["keepvoice", "heat four"]);
});

test("a note delivered twice, and one that nobody could hear, are kept once each", async () => {
  heard = async () => ({ text: "", confidence: 0, trouble: "silent" });
  await take(says("/keepvoice", { from: OWNER }), note(SMITH, 2), note(SMITH, 2));
  expect(readdirSync(join(folder, "8"))).toEqual(["8-2.ogg"]);
});

test("a note that cannot be kept is heard all the same, and leaves no half of a file", async () => {
  writeFileSync(folder, "in the way");
  await take(says("/keepvoice", { from: OWNER }), note(SMITH, 2));
  expect(handler.taken.map(({ text }) => text)).toEqual(["heat four"]);
  expect(log.lines.join()).toContain("voice note not kept");
});

test("forget me gives the sounds out and removes them, the person's own only", async () => {
  await take(says("/keepvoice", { from: OWNER }), note(OWNER, 1), note(SMITH, 2));
  await take(says("forget me", { from: SMITH }));
  const given = sent.find(({ method }) => method === "sendDocument")?.body ?? "";
  expect(given).toContain('"8-2.ogg"');
  expect(given).toContain(Buffer.from("OggS sound of a note").toString("base64"));
  expect(given).not.toContain('"7-1.ogg"');
  const asked = sent.filter(({ chat }) => chat === String(SMITH)).at(-1)?.body ?? "";
  const yes = String(/"(forget:yes:[\w-]+)"/.exec(asked)?.[1]);
  await take(presses(yes, "q1", { from: OWNER }));
  expect(existsSync(join(folder, "8"))).toBe(true);
  await take(presses(yes, "q2", { from: SMITH }));
  expect(textTo(SMITH)).toBe("Removed. Nothing of you is kept.");
  expect(readdirSync(folder)).toEqual(["7"]);
});

test("sounds beyond the limit are named without their sound, and no other path is reached", async () => {
  const keeping = createVoiceKeeping(folder, log);
  const file = join(desk.folder, "note");
  for (const size of [60, 50, 30]) {
    writeFileSync(file, Buffer.alloc(size, 1));
    await keeping.keep(file, "8", `8-${size}`);
  }
  const found = await keeping.of("8", 85);
  expect(found.map(({ name, bytes, sound }) => [name, bytes, sound !== undefined])).toEqual([
    ["8-30.ogg", 30, true],
    ["8-50.ogg", 50, true],
    ["8-60.ogg", 60, false],
  ]);
  expect(await keeping.of("12", 85)).toEqual([]);
  for (const person of ["", "..", "8/../..", "8\n", "/etc"]) {
    expect(() => keeping.forget(person)).toThrow(RangeError);
    await expect(keeping.of(person, 1)).rejects.toThrow(RangeError);
  }
  await keeping.keep(file, "8", "../../out");
  expect(existsSync(join(desk.folder, "out.ogg"))).toBe(false);
});
