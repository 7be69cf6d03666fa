/** Voice notes over real HTTP: broken, huge and endless ones are one clear line, and no file stays. */
import { existsSync, statSync } from "node:fs";
import { createServer, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { afterEach, beforeEach, expect, test } from "vitest";
import { createMessenger, type Hear, type Messenger } from "../../src/chat/index.js";
import { VOICE_LIMIT_BYTES, withVoiceFile } from "../../src/chat/voice-note.js";
import { type Desk, jumpingClock, keptLog, openDesk } from "./desk.js";
import { createEchoHandler, type EchoHandler } from "./echo-handler.js";
import { messageOf, TOKEN, updateId } from "./wire.js";

let server: Server;
let root: string;
let note: (response: ServerResponse) => void;
let desk: Desk;
let handler: EchoHandler;
let messenger: Messenger | undefined;
const sent: string[] = [];
let updates: object[];

beforeEach(async () => {
  desk = await openDesk();
  handler = createEchoHandler(desk.store, desk.newId);
  updates = [];
  sent.length = 0;
  server = createServer((request, response) => {
    if (request.url?.startsWith("/file/")) return note(response);
    const parts: Buffer[] = [];
    request.on("data", (part: Buffer) => parts.push(part));
    request.on("end", () => {
      const method = request.url?.split("/").at(-1);
      const body = JSON.parse(Buffer.concat(parts).toString() || "{}") as { text?: string };
      let result: unknown = true;
      if (method === "getMe") result = { id: 1, username: "forge_bot" };
      if (method === "getUpdates") result = updates.splice(0);
      if (method === "getFile") result = { file_id: "f", file_path: "voice/file_1.oga" };
      if (method === "sendMessage") {
        sent.push(String(body.text));
        result = { message_id: sent.length };
      }
      response.end(JSON.stringify({ ok: true, result }));
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  root = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterEach(async () => {
  await messenger?.stop();
  messenger = undefined;
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
  await desk.close();
});

async function sendNote(hear: Hear | undefined, voice: object = { file_id: "f", duration: 3 }) {
  messenger = createMessenger({
    token: TOKEN,
    apiRoot: root,
    handler,
    store: desk.store,
    access: desk.access,
    newId: desk.newId,
    now: desk.now,
    logger: keptLog(),
    ownerId: "7",
    clock: jumpingClock(),
    ...(hear ? { hear } : {}),
  });
  await messenger.start();
  updates.push({ update_id: updateId(), message: messageOf({}, { voice }) });
  for (let tries = 0; tries < 2000 && sent.length === 0; tries += 1) {
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}
const never: Hear = async () => {
  throw new Error("must not be heard");
};

test("a note is heard from a private file that is gone afterwards", async () => {
  note = (response) => response.end("sound");
  let file = "";
  await sendNote(async (path) => {
    file = path;
    expect(statSync(path).mode & 0o777).toBe(0o600);
    expect(statSync(path).size).toBe(5);
    return { text: "heat four", confidence: 1.7 };
  });
  expect(handler.taken[0]).toMatchObject({ kind: "voice", text: "heat four", heardConfidence: 1 });
  expect(file).not.toBe("");
  expect(existsSync(file)).toBe(false);
});

test.each<
  [string, Hear | undefined, (response: ServerResponse) => void, object | undefined, RegExp]
>([
  ["no voice set up", undefined, (r) => r.end(), undefined, /not set up/],
  ["a missing file", never, (r) => r.writeHead(404).end("page"), undefined, /could not hear/],
  [
    "another address",
    never,
    (r) => r.writeHead(302, { location: "http://127.0.0.1:1/" }).end(),
    undefined,
    /could not hear/,
  ],
  [
    "cut off",
    never,
    (r) => {
      r.writeHead(200, { "content-length": "99" });
      r.write("x");
      setTimeout(() => r.destroy(), 5);
    },
    undefined,
    /could not hear/,
  ],
  [
    "a note that the recogniser trips over",
    async () => Promise.reject(new Error("x")),
    (r) => r.end("x"),
    undefined,
    /could not hear/,
  ],
  [
    "nothing but noise",
    async () => ({ text: " ", confidence: 0 }),
    (r) => r.end("x"),
    undefined,
    /no words/,
  ],
  ["a long one", never, (r) => r.end(), { file_id: "f", duration: 9999 }, /longer than/],
  ["a big one", never, (r) => r.end(), { file_id: "f", file_size: 1e9 }, /too big/],
])("%s is one clear line", async (_name, hear, answer, voice, line) => {
  note = answer;
  await sendNote(hear, voice);
  expect(sent).toHaveLength(1);
  expect(sent[0]).toMatch(line);
  // It leaves a trace in the log, without words.
  expect(handler.taken.map(({ kind, text }) => ({ kind, text }))).toEqual(
    hear === undefined ? [] : [{ kind: "voice", text: "" }],
  );
});

test("an endless note is left after the limit, and its file is gone", async () => {
  const block = Buffer.alloc(1_048_576);
  let given = 0;
  note = (response) => {
    const more = (): void => {
      while (!response.destroyed) {
        given += block.length;
        if (!response.write(block)) return void response.once("drain", more);
      }
    };
    more();
  };
  const signal = new AbortController().signal;
  const heard = withVoiceFile(`${root}/file/x`, signal, async () => "heard");
  await expect(heard).rejects.toThrow("too big");
  expect(given).toBeLessThan(VOICE_LIMIT_BYTES * 2);
});

test("a note that fails names no address", async () => {
  note = (response) => response.writeHead(500).end();
  const address = `${root}/file/bot${TOKEN}/x`;
  const heard = withVoiceFile(address, new AbortController().signal, async () => "heard");
  const error = await heard.catch((each: unknown) => each);
  expect(
    JSON.stringify([String(error), (error as Error).stack, (error as Error).cause]),
  ).not.toContain(TOKEN);
});
