/**
 * A whole conversation of the bot itself against the package telegram-test-api, a messenger's server
 * that none of us wrote, over real HTTP.
 */

import { createRequire } from "node:module";
import { createServer } from "node:net";
import { afterEach, beforeEach, expect, test } from "vitest";
import { createMessenger, type Messenger } from "../../src/chat/index.js";
import { createHandler } from "../../src/conversation/index.js";
import { type Desk, keptLog, openDesk } from "./desk.js";

// Its types ask for more than is installed; what is used here is small.
interface Client {
  makeMessage(text: string): object;
  makeCommand(text: string): object;
  makeCallbackQuery(data: string): object;
  sendMessage(message: object): Promise<unknown>;
  sendCommand(message: object): Promise<unknown>;
  sendCallback(query: object): Promise<unknown>;
  getUpdates(): Promise<{
    result: {
      message: {
        text: string;
        reply_markup?: { inline_keyboard: { text: string; callback_data: string }[][] };
      };
    }[];
  }>;
}
interface Server {
  readonly config: { readonly apiURL: string };
  start(): Promise<void>;
  stop(): Promise<boolean>;
  getClient(token: string, options: object): Client;
}
const TestServer = createRequire(import.meta.url)("telegram-test-api") as new (
  config: object,
) => Server;

const TOKEN = "123456789:AAtesttoken-testtoken_testtoken12345";
const SMITH = 77;
let desk: Desk;
let server: Server;
let messenger: Messenger;
let smith: Client;

beforeEach(async () => {
  desk = await openDesk();
  server = new TestServer({ port: await freePort(), host: "127.0.0.1" });
  await server.start();
  smith = server.getClient(TOKEN, {
    userId: SMITH,
    chatId: SMITH,
    firstName: "Wenna",
    timeout: 20_000,
    interval: 20,
  });
  messenger = createMessenger({
    token: TOKEN,
    apiRoot: server.config.apiURL,
    handler: createHandler({ store: desk.store, newId: desk.newId, timezone: "UTC" }),
    store: desk.store,
    access: desk.access,
    newId: desk.newId,
    now: () => new Date().toISOString(),
    logger: keptLog(),
    ownerId: String(SMITH),
  });
  await messenger.start();
});
afterEach(async () => {
  await messenger.stop();
  await server.stop();
  await desk.close();
});

async function freePort(): Promise<number> {
  const probe = createServer();
  await new Promise<void>((resolve) => probe.listen(0, "127.0.0.1", resolve));
  const address = probe.address();
  await new Promise<void>((resolve) => probe.close(() => resolve()));
  return typeof address === "object" && address !== null ? address.port : 0;
}

async function answer(): Promise<{ text: string; buttons: { text: string; data: string }[] }> {
  const { result } = await smith.getUpdates();
  const message = result.at(-1)?.message;
  const rows = message?.reply_markup?.inline_keyboard ?? [];
  return {
    text: message?.text ?? "",
    buttons: rows.flat().map((each) => ({ text: each.text, data: each.callback_data })),
  };
}
async function say(text: string): ReturnType<typeof answer> {
  await smith.sendMessage(smith.makeMessage(text));
  return answer();
}

test("an ingot is told, forged and asked about; every line becomes a record and gets an answer", async () => {
  const opened = await say("ingot bowl 64 by 30, 450 g");
  expect(opened.text).toMatch(/64/);
  const heat = await say("heat 1 at 980, drew it to 24 by 30 by 70");
  expect(heat.text).toMatch(/24 × 30 × 70/);
  expect(heat.text.match(/<b>/g)).toHaveLength(1);
  await say("crack 2 deep on the spine");
  const undone = await say("undo");
  expect(undone.text).not.toBe("");

  const rows = await desk.store.everything();
  expect(rows.filter(({ kind }) => kind === "ingot").map(({ fact }) => fact)).toMatchObject([
    { shape: "bowl", diameterMm: 64, heightMm: 30, massG: 450 },
  ]);
  expect(rows.find(({ kind }) => kind === "heat")?.fact).toMatchObject({
    number: 1,
    temperatureC: 980,
    operation: "draw",
  });
  const crack = rows.find(({ kind }) => kind === "crack");
  expect(crack?.fact).toMatchObject({ depthMm: 2, place: "spine" });
  expect(crack?.takenBackBy).toBeDefined();
  expect(new Set(rows.map(({ smithId }) => smithId))).toEqual(new Set([String(SMITH)]));
});

test("a button of a real reply is pressed and answered", async () => {
  await say("ingot bowl 64 by 30, 450 g");
  const reply = await say("heat 1 at 980, drew it to 24 by 30 by 70");
  const next = reply.buttons.find(({ data }) => data.includes(":q:"));
  expect(next).toBeDefined();
  await smith.sendCallback(smith.makeCallbackQuery(String(next?.data)));
  expect((await answer()).text).not.toBe("");
  expect(await desk.store.unhandled()).toEqual([]);
});

test("a command is answered, and nothing is left unsent", async () => {
  await smith.sendCommand(smith.makeCommand("/start"));
  expect((await answer()).text).not.toBe("");
  for (let tries = 0; tries < 100 && (await desk.store.unsent(9)).length > 0; tries += 1) {
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  expect(await desk.store.unsent(9)).toEqual([]);
});
