import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { createMessenger, type Messenger, type MessengerOptions } from "../../src/chat/index.js";
import { type Desk, keptLog, openDesk } from "./desk.js";
import { createEchoHandler, type EchoHandler } from "./echo-handler.js";
import { edits, messageOf, openWire, presses, says, TOKEN, updateId, type Wire } from "./wire.js";

const OWNER = "7";
const FAST = {
  chat: { everyMs: 0, burst: 1 },
  group: { everyMs: 0, burst: 1 },
  all: { everyMs: 0, burst: 1 },
};
const quickClock = {
  nowMs: () => performance.now(),
  sleep: (ms: number, signal?: AbortSignal) =>
    new Promise<void>((resolve) => {
      const timer = setTimeout(resolve, Math.min(ms, 10));
      signal?.addEventListener("abort", () => {
        clearTimeout(timer);
        resolve();
      });
    }),
};

let desk: Desk;
let wire: Wire;
let handler: EchoHandler;
let log: ReturnType<typeof keptLog>;
let messenger: Messenger | undefined;
let printed: string[];

beforeEach(async () => {
  desk = await openDesk();
  wire = openWire();
  handler = createEchoHandler(desk.store, desk.newId);
  log = keptLog();
  printed = [];
});
afterEach(async () => {
  await messenger?.stop();
  messenger = undefined;
  wire.close();
  await desk.close();
});

async function run(more: Partial<MessengerOptions> = {}): Promise<void> {
  messenger = createMessenger({
    token: TOKEN,
    libraryClient: true,
    handler,
    store: desk.store,
    access: desk.access,
    privacy: desk.access,
    runs: desk.access,
    newId: desk.newId,
    now: desk.now,
    logger: log,
    ownerId: OWNER,
    limits: FAST,
    clock: quickClock,
    print: (line) => printed.push(line),
    ...more,
  });
  await messenger.start();
}
/** Waits until so many replies are left, as a reply is noted as sent only after it is out. */
async function untilUnsent(count: number): Promise<void> {
  const unsent = async (): Promise<number> => (await desk.store.unsent(1000)).length;
  for (let tries = 0; tries < 2000 && (await unsent()) !== count; tries += 1) {
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  expect(await unsent()).toBe(count);
}
const texts = (chat?: string): unknown[] => wire.sent(chat).map(({ body }) => body.text);

describe("messages", () => {
  test("a message is answered as HTML with its bold line and its buttons", async () => {
    await run();
    wire.updates.push(says('heat <4> & "950"'));
    await wire.until(() => wire.sent().length === 1);
    const body = wire.sent()[0]?.body ?? {};
    expect(body.text).toBe("text: heat &lt;4&gt; &amp; &quot;950&quot;\n<b>22 × 36 × 180 mm</b>");
    expect(body.parse_mode).toBe("HTML");
    const reply = await desk.access.findReply(
      String(JSON.stringify(body.reply_markup).match(/"([0-9a-z]+):q:next"/)?.[1]),
    );
    expect(reply).toEqual({ chatId: "7", smithId: "7", codes: ["q:next", "heat"] });
  });

  test("an update is acknowledged only after it is committed", async () => {
    let release = (): void => {};
    const held = new Promise<void>((resolve) => {
      release = resolve;
    });
    const slow = {
      ...handler,
      handle: async (m: Parameters<typeof handler.handle>[0]) => {
        await held;
        await handler.handle(m);
      },
    };
    await run({ handler: slow });
    const update = says("heat 4");
    wire.updates.push(update);
    const asked = (): Call[] => wire.calls.filter(({ method }) => method === "getUpdates");
    type Call = (typeof wire.calls)[number];
    await wire.until(() => asked().length >= 5);
    for (const { body } of asked())
      expect(Number(body.offset ?? 0)).toBeLessThanOrEqual(update.update_id);
    release();
    await wire.until(() => asked().some(({ body }) => body.offset === update.update_id + 1));
    expect(handler.taken).toHaveLength(1);
  });

  test("one chat waits while another is answered", async () => {
    await desk.access.createInvite({
      codeHash: "a".repeat(64),
      role: "smith",
      at: desk.now(),
      expiresAt: "2027-01-01T00:00:00Z",
    });
    await desk.access.useInvite("a".repeat(64), { id: "8" }, desk.now());
    let release = (): void => {};
    const held = new Promise<void>((resolve) => {
      release = resolve;
    });
    const slow = {
      ...handler,
      handle: async (m: Parameters<typeof handler.handle>[0]) => {
        if (m.chatId === "7") await held;
        await handler.handle(m);
      },
    };
    await run({ handler: slow });
    wire.updates.push(says("one"), says("two"), says("other", { from: 8 }));
    await wire.until(() => wire.sent("8").length === 1);
    expect(wire.sent("7")).toHaveLength(0);
    release();
    await wire.until(() => wire.sent("7").length === 2);
    expect(texts("7").map((text) => String(text).split("\n")[0])).toEqual([
      "text: one",
      "text: two",
    ]);
  });

  test("the same message twice is logged once", async () => {
    await run();
    const update = says("heat 4");
    wire.updates.push(update, { ...update, update_id: updateId() });
    await wire.until(() => wire.updates.length === 0);
    expect(handler.taken).toHaveLength(1);
    expect(wire.sent()).toHaveLength(1);
  });

  test("an edit replaces the words of its message, each edit once", async () => {
    await run();
    const message = says("heat 4", { messageId: 41 });
    const first = edits("heat 5", 41, 1_772_438_500);
    wire.updates.push(message, first, { ...first }, edits("heat 6", 41, 1_772_438_500));
    await wire.until(() => wire.updates.length === 0);
    expect(handler.taken.map(({ kind, text, edits: of }) => [kind, text, of])).toEqual([
      ["text", "heat 4", undefined],
      ["edit", "heat 5", "messenger:7:41"],
      ["edit", "heat 6", "messenger:7:41"],
    ]);
  });

  test("words that come after the edit that replaced them are not logged any more", async () => {
    await run();
    const message = says("heat 4", { messageId: 42 });
    const first = edits("heat 5", 42, 1_772_438_500);
    const second = edits("heat 6", 42, 1_772_438_600);
    const other = says("heat 7", { messageId: 43 });
    wire.updates.push(second);
    await wire.until(() => wire.updates.length === 0);
    for (const late of [first, message, other]) {
      wire.updates.push({ ...late, update_id: late.update_id + 1000 });
      await wire.until(() => wire.updates.length === 0);
    }
    expect(handler.taken.map(({ text }) => text)).toEqual(["heat 6", "heat 7"]);
  });

  test("a command is its word", async () => {
    await run();
    wire.updates.push(says("/next@forge_bot"), says("/start"), says("/undo@other_bot"));
    await wire.until(() => wire.updates.length === 0);
    expect(handler.taken.map(({ text }) => text)).toEqual(["next", "help"]);
  });

  test("a picture is one clear line; the words under it are taken", async () => {
    await run();
    wire.updates.push(
      { update_id: updateId(), message: messageOf({}, { photo: [{ file_id: "x" }] }) } as never,
      {
        update_id: updateId(),
        message: messageOf({}, { photo: [{}], caption: "heat 4" }),
      } as never,
      { update_id: updateId(), message: messageOf({}, { sticker: { file_id: "x" } }) } as never,
    );
    await wire.until(() => wire.sent().length >= 4);
    expect(handler.taken.map(({ text }) => text)).toEqual(["heat 4"]);
    expect(texts().filter((text) => String(text).startsWith("I keep words"))).toHaveLength(3);
  });

  test("a hostile name is one plain line of at most 64 characters", async () => {
    await run();
    wire.updates.push(says("heat 4", { name: `\u202eevil\n<b>${"x".repeat(200)}\u0000` }));
    await wire.until(() => handler.taken.length === 1);
    expect(handler.taken[0]?.smithName).toMatch(/^evil <b>x{56}$/);
  });

  test("in a group the reply hangs on its message", async () => {
    await desk.access.letGroupIn("-50", OWNER, desk.now());
    await run();
    wire.updates.push(says("heat 4", { from: 9, chat: -50, type: "group", messageId: 77 }));
    await wire.until(() => wire.sent("-50").length === 1);
    expect(wire.sent("-50")[0]?.body.reply_parameters).toEqual({
      message_id: 77,
      allow_sending_without_reply: true,
    });
  });
});

describe("buttons", () => {
  async function pressed(code: string): Promise<string> {
    await run();
    wire.updates.push(says("heat 4"));
    await wire.until(() => wire.sent().length === 1);
    const markup = JSON.stringify(wire.sent()[0]?.body.reply_markup);
    return String(new RegExp(`"([0-9a-z]+:${code})"`).exec(markup)?.[1]);
  }
  const ended = () => wire.calls.filter(({ method }) => method === "answerCallbackQuery");

  test("an action button does its thing once, an asking one every time", async () => {
    const heat = await pressed("heat");
    wire.updates.push(presses(heat, "q1"), presses(heat, "q2"));
    await wire.until(() => ended().length === 2);
    expect(handler.taken.filter(({ kind }) => kind === "button")).toHaveLength(1);
    const next = heat.replace(":heat", ":q:next");
    wire.updates.push(presses(next, "q3"), presses(next, "q4"), presses(next, "q4"));
    await wire.until(() => ended().length === 5);
    expect(handler.taken.filter(({ text }) => text === "q:next")).toHaveLength(2);
  });

  test("somebody else's, forged, malformed and foreign buttons are refused", async () => {
    const heat = await pressed("heat");
    await desk.access.letGroupIn("-50", OWNER, desk.now());
    const group = { from: 9, chat: -50, type: "group" };
    wire.updates.push(says("heat 9", group));
    await wire.until(() => wire.sent("-50").length === 1);
    const markup = JSON.stringify(wire.sent("-50")[0]?.body.reply_markup);
    const theirs = String(/"([0-9a-z]+:heat)"/.exec(markup)?.[1]);
    const before = handler.taken.length;
    const bad = [
      presses(theirs, "b1", { from: 10, chat: -50, type: "group" }),
      presses(heat, "b2", group),
      presses(heat.replace("heat", "undo"), "b3"),
      presses("zzzz:heat", "b4"),
      presses("", "b5"),
      presses(":", "b6"),
      presses("x".repeat(65), "b7"),
    ];
    wire.updates.push(...bad);
    await wire.until(() => ended().length === bad.length);
    expect(handler.taken).toHaveLength(before);
    const first = ended().find(({ body }) => body.callback_query_id === "b1");
    expect(first?.body.text).toBe("That button answers somebody else.");
  });
});

describe("sending", () => {
  test("429 is waited for as long as asked, then sent; order is kept", async () => {
    wire.script("sendMessage", [
      429,
      {
        ok: false,
        error_code: 429,
        description: "Too Many Requests",
        parameters: { retry_after: 3 },
      },
    ]);
    await run();
    wire.updates.push(says("one"), says("two"));
    await wire.until(() => wire.sent().length === 3);
    expect(texts().map((text) => String(text).split("\n")[0])).toEqual([
      "text: one",
      "text: one",
      "text: two",
    ]);
    await wire.until(() => wire.updates.length === 0);
  });

  test.each([
    ["500", 500, { ok: false, error_code: 500, description: "Internal" }],
    ["502 with a page", 502, "<html>bad gateway</html>"],
    ["garbage", 200, '{"ok":tru'],
    ["nothing", 200, "null"],
  ])("%s is tried again", async (_name, status, body) => {
    wire.script("sendMessage", [status, body], [status, body]);
    await run();
    wire.updates.push(says("one"));
    await wire.until(() => wire.sent().length === 3);
    await untilUnsent(0);
  });

  test.each([
    [403, "Forbidden: bot was blocked by the user"],
    [400, "Bad Request: chat not found"],
  ])("%i %s ends the trying", async (code, description) => {
    wire.script("sendMessage", [code, { ok: false, error_code: code, description }]);
    await run();
    wire.updates.push(says("one"), says("two"));
    await wire.until(() => wire.sent().length === 2);
    await untilUnsent(0);
  });

  test("a text whose marks are refused goes out plainly", async () => {
    wire.script("sendMessage", [
      400,
      { ok: false, error_code: 400, description: "Bad Request: can't parse entities" },
    ]);
    await run();
    wire.updates.push(says("a < b"));
    await wire.until(() => wire.sent().length === 2);
    expect(wire.sent()[1]?.body).toMatchObject({ text: "text: a < b\n22 × 36 × 180 mm" });
    expect(wire.sent()[1]?.body.parse_mode).toBeUndefined();
  });

  test("a group that became a supergroup keeps its log and is answered there", async () => {
    await desk.access.letGroupIn("-50", OWNER, desk.now());
    wire.script("sendMessage", [
      400,
      {
        ok: false,
        error_code: 400,
        description: "Bad Request: group chat was upgraded",
        parameters: { migrate_to_chat_id: -100777 },
      },
    ]);
    await run();
    wire.updates.push(says("one", { from: 9, chat: -50, type: "group", messageId: 3 }));
    await wire.until(() => wire.sent("-100777").length === 1);
    wire.updates.push(says("two", { from: 9, chat: -100777, type: "supergroup", messageId: 3 }));
    await wire.until(() => wire.sent("-100777").length === 2);
    expect(handler.taken.map(({ chatId, sourceKey }) => [chatId, sourceKey])).toEqual([
      ["-50", "messenger:-50:3"],
      ["-50", "messenger:-100777:3"],
    ]);
    await messenger?.stop();
    await run();
    wire.updates.push(says("three", { from: 9, chat: -100777, type: "supergroup" }));
    await wire.until(() => wire.sent("-100777").length === 3);
    expect(handler.taken.at(-1)?.chatId).toBe("-50");
  });

  test("after a restart what was unsent is sent, what was unanswered is answered", async () => {
    const message = (key: string) => ({
      id: desk.newId(),
      sourceKey: `messenger:7:${key}`,
      edge: "messenger" as const,
      chatId: "7",
      smithId: "7",
      kind: "text" as const,
      text: key,
      sentAt: desk.now(),
      receivedAt: desk.now(),
    });
    await handler.handle(message("901"));
    await desk.store.receive(message("902"));
    await run();
    await wire.until(() => wire.sent().length === 2);
    expect(texts().map((text) => String(text).split("\n")[0])).toEqual(["text: 901", "text: 902"]);
  });

  test("replies of the terminal are left alone", async () => {
    const at = desk.now();
    await handler.handle({
      id: desk.newId(),
      sourceKey: "terminal:t:1",
      edge: "terminal",
      chatId: "t",
      smithId: "w",
      kind: "text",
      text: "x",
      sentAt: at,
      receivedAt: at,
    });
    await run();
    wire.updates.push(says("one"));
    await wire.until(() => wire.sent().length === 1);
    await untilUnsent(1);
  });
});

describe("trouble", () => {
  test("a full disk is said once, nothing is acknowledged, and all is taken when there is room", async () => {
    const full = Object.assign(new Error("x"), { code: "SQLITE_FULL" });
    handler.faults.push(full, full, full);
    await run();
    wire.updates.push(says("heat 4"), says("heat 5"));
    await wire.until(() => wire.updates.length === 0);
    expect(handler.taken.map(({ text }) => text)).toEqual(["heat 4", "heat 5"]);
    expect(texts().filter((text) => String(text).includes("the disk is full"))).toHaveLength(1);
  });

  test("a fault of our own is tried three times, said, and does not hold up the rest", async () => {
    handler.faults.push(new TypeError("a"), new TypeError("b"), new TypeError("c"));
    await run();
    wire.updates.push(says("heat 4"), says("heat 5"));
    await wire.until(() => wire.updates.length === 0);
    expect(handler.taken.map(({ text }) => text)).toEqual(["heat 5"]);
    expect(String(texts()[0])).toContain("stumbled");
  });

  test("a refused token is said without the token", async () => {
    wire.script("getMe", [401, { ok: false, error_code: 401, description: "Unauthorized" }]);
    await expect(run()).rejects.toThrow(/check BOT_TOKEN/);
    messenger = undefined;
  });

  test("updates are fetched again after every kind of failure", async () => {
    wire.script(
      "getUpdates",
      [500, { ok: false, error_code: 500, description: "x" }],
      [502, "<html>"],
      [200, "{{{"],
      [409, { ok: false, error_code: 409, description: "Conflict" }],
      [429, { ok: false, error_code: 429, description: "x", parameters: { retry_after: 1 } }],
      [200, { ok: true, result: [{ update_id: "x" }, null, 5] }],
    );
    await run();
    wire.updates.push(says("heat 4"));
    await wire.until(() => wire.sent().length === 1);
  });

  test("the log of the run holds no token and no words, whatever fails", async () => {
    wire.script("getMe", [500, "<html>"]);
    wire.script(
      "sendMessage",
      [502, "<html>"],
      [403, { ok: false, error_code: 403, description: "Forbidden" }],
    );
    wire.script("getUpdates", [502, "<html>"]);
    handler.faults.push(new TypeError(`https://api.telegram.org/bot${TOKEN}/x secret words`));
    await run();
    wire.updates.push(says("secret words"));
    await wire.until(() => wire.sent().length >= 2);
    await messenger?.stop();
    expect(log.lines.length).toBeGreaterThan(2);
    expect(log.lines.join("\n")).not.toContain(TOKEN.slice(10));
    expect(log.lines.join("\n")).not.toContain("secret");
  });

  test("the owner is told when the last run ended badly, and only then", async () => {
    await run();
    await messenger?.stop();
    await run();
    await messenger?.stop();
    expect(texts("7")).toEqual([]);
    await desk.access.beginRun("crashed", desk.now());
    desk.pass(1000);
    await run();
    expect(String(texts("7")[0])).toContain("ended badly");
  });
});

describe("webhook", () => {
  const post = (port: number, body: string, headers: Record<string, string>) =>
    fetch(`http://127.0.0.1:${port}/updates`, { method: "POST", body, headers });
  const secret = { "x-telegram-bot-api-secret-token": "s3cret" };

  test("takes what carries the secret, answers 200 after the commit, 503 when it must come again", async () => {
    const nock = (await import("nock")).default;
    nock.enableNetConnect("127.0.0.1");
    await run({ webhook: { port: 0, secret: "s3cret" } });
    const port = messenger?.port() ?? 0;
    expect((await post(port, JSON.stringify(says("heat 4")), secret)).status).toBe(200);
    expect(handler.taken).toHaveLength(1);
    handler.faults.push(Object.assign(new Error("x"), { code: "SQLITE_FULL" }));
    const again = JSON.stringify(says("heat 5"));
    expect((await post(port, again, secret)).status).toBe(503);
    expect((await fetch(`http://127.0.0.1:${port}/healthz`)).status).toBe(503);
    expect((await post(port, again, secret)).status).toBe(200);
    expect((await fetch(`http://127.0.0.1:${port}/healthz`)).status).toBe(200);
    expect(handler.taken).toHaveLength(2);
  });

  test("the address is told to the messenger with the secret, again if it fails", async () => {
    wire.script("setWebhook", [502, "<html>"], [200, "{"]);
    const url = "https://forge.example/updates";
    await run({ webhook: { port: 0, secret: "s3cret", url } });
    const told = wire.calls.filter(({ method }) => method === "setWebhook");
    expect(told).toHaveLength(3);
    expect(told[2]?.body).toMatchObject({ url, secret_token: "s3cret" });
    expect(log.lines.join("\n")).not.toContain("s3cret");
  });

  test("an address that the messenger refuses is said without token and secret", async () => {
    const no = { ok: false, error_code: 400, description: "Bad Request: bad webhook" };
    wire.script("setWebhook", [400, no]);
    const started = run({ webhook: { port: 0, secret: "s3cret", url: "https://x.example/" } });
    const error = await started.catch((each: unknown) => each);
    expect(String(error)).toContain("check WEBHOOK_URL");
    expect(JSON.stringify(error) + String((error as Error).stack)).not.toMatch(/s3cret|AAtest/);
  });

  test("without a secret given one is made that only the token's owner can name", async () => {
    await run({ webhook: { port: 0, url: "https://forge.example/updates" } });
    const [told] = wire.calls.filter(({ method }) => method === "setWebhook");
    expect(told?.body.secret_token).toMatch(/^[0-9a-f]{64}$/);
  });

  test("refuses everything else", async () => {
    const nock = (await import("nock")).default;
    nock.enableNetConnect("127.0.0.1");
    await run({ webhook: { port: 0, secret: "s3cret" } });
    const port = messenger?.port() ?? 0;
    const good = JSON.stringify(says("heat 4"));
    expect((await post(port, good, {})).status).toBe(401);
    expect((await post(port, good, { "x-telegram-bot-api-secret-token": "s3cre" })).status).toBe(
      401,
    );
    expect((await post(port, "{", secret)).status).toBe(400);
    expect((await post(port, " ".repeat(1_048_577), secret)).status).toBe(413);
    expect((await fetch(`http://127.0.0.1:${port}/updates`)).status).toBe(405);
    expect((await fetch(`http://127.0.0.1:${port}/`)).status).toBe(404);
    expect((await post(port, "[1,null]", secret)).status).toBe(200);
    expect(handler.taken).toHaveLength(0);
  });
});
