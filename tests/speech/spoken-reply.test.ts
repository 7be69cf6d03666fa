/** Spoken replies over real HTTP: what goes out to the messenger is an OGG/Opus voice note of the right length. */
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { OggOpusDecoder } from "ogg-opus-decoder";
import { afterEach, beforeEach, expect, test } from "vitest";
import { createMessenger, type Messenger } from "../../src/chat/index.js";
import { createHandler } from "../../src/conversation/index.js";
import { spokenLine } from "../../src/conversation/spoken.js";
import { speakNote } from "../../src/speech/index.js";
import { type Desk, keptLog, openDesk } from "../chat/desk.js";
import { says, TOKEN } from "../chat/wire.js";

const SMITH = 7;
interface Call {
  readonly method: string;
  readonly text: string;
  readonly voice: { readonly file: string | undefined; readonly body: Buffer } | undefined;
  readonly chat: string;
}

let server: Server;
let root: string;
let desk: Desk;
let log: ReturnType<typeof keptLog>;
let messenger: Messenger | undefined;
let updates: object[];
let calls: Call[];
/** Status and answer of `sendVoice`, if not the usual ones. */
let refusal: [number, object] | undefined;

beforeEach(async () => {
  desk = await openDesk();
  log = keptLog();
  updates = [];
  calls = [];
  refusal = undefined;
  server = createServer((request, response) => {
    const parts: Buffer[] = [];
    request.on("data", (part: Buffer) => parts.push(part));
    request.on("end", () => {
      const method = request.url?.split("/").at(-1) ?? "";
      let result: unknown = true;
      if (method === "getMe") result = { id: 1, is_bot: true, username: "forge_bot" };
      if (method === "getUpdates") result = updates.splice(0, 1);
      if (method === "sendMessage" || method === "sendVoice") {
        const type = request.headers["content-type"] ?? "";
        calls.push(callOf(method, Buffer.concat(parts), type));
        result = { message_id: calls.length, date: 1, chat: { id: SMITH, type: "private" } };
      }
      const refused = method === "sendVoice" ? refusal : undefined;
      response.statusCode = refused?.[0] ?? 200;
      response.end(JSON.stringify(refused?.[1] ?? { ok: true, result }));
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  root = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  messenger = createMessenger({
    token: TOKEN,
    apiRoot: root,
    handler: createHandler({ store: desk.store, newId: desk.newId, timezone: "UTC" }),
    store: desk.store,
    access: desk.access,
    newId: desk.newId,
    now: desk.now,
    logger: log,
    ownerId: String(SMITH),
    limits: {
      chat: { everyMs: 0, burst: 1 },
      group: { everyMs: 0, burst: 1 },
      all: { everyMs: 0, burst: 1 },
    },
    speak: (words) => speakNote(words),
  });
  await messenger.start();
});
afterEach(async () => {
  await messenger?.stop();
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
  await desk.close();
});

/** A call's fields: JSON, or the parts of a form where a file goes with it [Bot API, "Making requests"]. */
function callOf(method: string, body: Buffer, type: string): Call {
  if (!type.startsWith("multipart/form-data")) {
    const { text, chat_id } = JSON.parse(body.toString()) as { text?: string; chat_id: unknown };
    return { method, text: text ?? "", voice: undefined, chat: String(chat_id) };
  }
  const boundary = /boundary=([^;]+)/.exec(type)?.[1] ?? "";
  const parts = new Map<string, { readonly file: string | undefined; readonly body: Buffer }>();
  for (let from = body.indexOf(`--${boundary}`); from >= 0; ) {
    const next = body.indexOf(`--${boundary}`, from + 2);
    const gap = body.indexOf("\r\n\r\n", from);
    if (next < 0 || gap < 0) break;
    const head = body.subarray(from, gap).toString();
    const name = /[ ;]name="([^"]+)"/i.exec(head)?.[1] ?? "";
    const file = /filename="?([^";\r\n]+)/i.exec(head)?.[1];
    parts.set(name, { file, body: body.subarray(gap + 4, next - 2) });
    from = next;
  }
  const named = parts.get("voice")?.body.toString() ?? "";
  const voice = parts.get(named.startsWith("attach://") ? named.slice(9) : "voice");
  return { method, text: "", voice, chat: parts.get("chat_id")?.body.toString() ?? "" };
}

/** Says it and waits for the next written reply and, where `spoken`, for the voice after it. */
async function say(words: string, spoken: boolean): Promise<Call[]> {
  const before = calls.length;
  updates.push(says(words, { from: SMITH }));
  const wanted = spoken ? 2 : 1;
  await expect.poll(() => calls.length - before, { timeout: 20_000 }).toBe(wanted);
  return calls.slice(before);
}

/** Seconds by the pages of the file alone: the last page's position less the pre-skip, at 48 kHz [RFC 7845, 4 and 5.1]. */
function pagesS(file: Buffer): number {
  const head = file.indexOf("OpusHead");
  const last = file.lastIndexOf("OggS");
  return (Number(file.readBigInt64LE(last + 6)) - file.readUInt16LE(head + 10)) / 48_000;
}

test("`talk to me` sends each line that matters as a voice note too, `stop talking` ends it", async () => {
  const [quiet] = await say("new ingot 64 across 30 high 450 grams", false);
  expect(quiet?.method).toBe("sendMessage");
  await say("talk to me", false);
  const [written, spoken] = await say("heat 1 at 950, 58 by 30 by 34", true);
  expect([written?.method, spoken?.method]).toEqual(["sendMessage", "sendVoice"]);
  expect(spoken?.chat).toBe(String(SMITH));
  expect(spoken?.voice?.file).toMatch(/\.ogg$/);

  const file = spoken?.voice?.body ?? Buffer.alloc(0);
  expect(file.subarray(0, 4).toString()).toBe("OggS");
  const decoder = new OggOpusDecoder();
  await decoder.ready;
  const { channelData, sampleRate } = await decoder.decodeFile(new Uint8Array(file));
  decoder.free();
  const [samples = new Float32Array()] = channelData;
  const lengthS = samples.length / sampleRate;
  // One packet is 20 ms long.
  expect(Math.abs(lengthS - pagesS(file))).toBeLessThanOrEqual(0.021);
  // A slow speaker says one to four words a second (common practice, no source).
  const bold = /<b>(.*?)<\/b>/s.exec(written?.text ?? "")?.[1] ?? "";
  const count = spokenLine(bold).split(/\s+/).length;
  expect(count).toBeGreaterThan(3);
  expect(lengthS).toBeGreaterThan(count / 4);
  expect(lengthS).toBeLessThan(count);
  const power = samples.reduce((sum, value) => sum + value * value, 0) / samples.length;
  expect(Math.sqrt(power)).toBeGreaterThan(0.01);

  await say("stop talking", false);
  const [only] = await say("heat 2 at 950, 56 by 30 by 35", false);
  expect(only?.method).toBe("sendMessage");
  await messenger?.stop();
  expect(calls.filter(({ method }) => method === "sendVoice")).toHaveLength(1);
}, 60_000);

test("a voice that the messenger refuses leaves the written reply as it is, sent once", async () => {
  refusal = [
    400,
    {
      ok: false,
      error_code: 400,
      description: "Bad Request: VOICE_MESSAGES_FORBIDDEN",
    },
  ];
  await say("talk to me", false);
  const [written, tried] = await say("new ingot 64 across 30 high 450 grams", true);
  expect(written?.text).toMatch(/450/);
  expect(tried?.method).toBe("sendVoice");
  await messenger?.stop();
  expect(await desk.store.unsent(10)).toHaveLength(0);
  expect(calls).toHaveLength(3);
  expect(log.lines.join()).toContain("voice not sent");
  expect(log.lines.join()).not.toContain(TOKEN);
}, 60_000);
