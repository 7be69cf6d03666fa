import { PassThrough, Readable, Writable } from "node:stream";
import { afterEach, beforeEach, expect, test } from "vitest";
import { runTerminal, type TerminalOptions } from "../../src/chat/index.js";
import { type Desk, openDesk } from "./desk.js";
import { createEchoHandler, type EchoHandler } from "./echo-handler.js";

let desk: Desk;
let handler: EchoHandler;
beforeEach(async () => {
  desk = await openDesk();
  handler = createEchoHandler(desk.store, desk.newId);
});
afterEach(() => desk.close());

async function type(
  input: Readable | string,
  more: Partial<TerminalOptions> = {},
): Promise<string> {
  let printed = "";
  const output = new Writable({
    write(chunk, _encoding, done) {
      printed += String(chunk);
      done();
    },
  });
  await runTerminal({
    handler,
    store: desk.store,
    newId: desk.newId,
    now: desk.now,
    input: typeof input === "string" ? Readable.from([Buffer.from(input)]) : input,
    output,
    chatId: "terminal",
    smithId: "wenna",
    colour: false,
    ...more,
  });
  return printed;
}

test("a pipe reads as a conversation: line, reply, numbered buttons", async () => {
  expect(await type("heat 4 at 950\n")).toBe(
    "> heat 4 at 950\ntext: heat 4 at 950\n» 22 × 36 × 180 mm\n[1] Next size  [2] Heat done\n\n",
  );
});

test("each reply is printed before the next line is read", async () => {
  const input = new PassThrough();
  let printed = "";
  const output = new Writable({
    write(chunk, _encoding, done) {
      printed += String(chunk);
      // The next line exists only once the reply to the one before is out.
      if (printed.endsWith("done\n\n") && handler.taken.length === 1) input.write("second\n");
      if (printed.includes("text: second")) input.end();
      done();
    },
  });
  input.write("first\n");
  await type(input, { output });
  expect(printed.indexOf("text: first")).toBeLessThan(printed.indexOf("> second"));
});

test("a digit or the button's words press the button of the reply shown last", async () => {
  await type("heat 4\n2\nhello\nNEXT SIZE\n9\n");
  expect(handler.taken.map(({ kind, text }) => [kind, text])).toEqual([
    ["text", "heat 4"],
    ["button", "heat"],
    ["text", "hello"],
    ["button", "q:next"],
    ["text", "9"],
  ]);
});

test("a digit without any button shown is a message", async () => {
  const plain = createEchoHandler(desk.store, desk.newId, () => ({
    lines: [{ text: "yes" }],
    buttons: [],
  }));
  await type("1\n2\n", { handler: plain });
  expect(plain.taken.map(({ kind }) => kind)).toEqual(["text", "text"]);
});

test("an action button has the same key each time, an asking one never", async () => {
  await type("heat\n2\n");
  const press = handler.taken[1];
  expect(press?.sourceKey).toMatch(/^terminal:terminal:b:[0-9a-z]+:heat$/);
  await type("heat\n1\n");
  expect(handler.taken[3]?.sourceKey).not.toContain("q:next");
});

test("bold is ANSI on a terminal that shows it", async () => {
  expect(await type("x\n", { colour: true })).toContain("\u001b[1m22 × 36 × 180 mm\u001b[22m");
});

test("empty lines are passed over, the last line needs no end", async () => {
  await type("\n   \n\r\nheat 4");
  expect(handler.taken.map(({ text }) => text)).toEqual(["heat 4"]);
});

test("a line beyond 20,000 characters gets one clear line and is not kept", async () => {
  const printed = await type(`${"x".repeat(20_001)}\nheat 4\n`);
  expect(printed).toContain("longer than 20000 characters");
  expect(handler.taken.map(({ text }) => text)).toEqual(["heat 4"]);
});

test("binary junk is taken as words without control marks and never ends the run", async () => {
  const junk = Buffer.from(Array.from({ length: 4096 }, (_, index) => (index * 7919) % 256));
  const printed = await type(Readable.from([junk, Buffer.from("\nheat 4\n")]));
  expect(handler.taken.at(-1)?.text).toBe("heat 4");
  expect(printed).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/);
});

test("letters split between two chunks are whole", async () => {
  const bytes = Buffer.from("½ inch\n");
  await type(Readable.from([bytes.subarray(0, 1), bytes.subarray(1)]));
  expect(handler.taken[0]?.text).toBe("½ inch");
});

test("what a reply quotes cannot steer the terminal", async () => {
  const loud = createEchoHandler(desk.store, desk.newId, () => ({
    lines: [{ text: "a\u001b[2Jb\u0007" }],
    buttons: [],
  }));
  expect(await type("x\n", { handler: loud })).not.toMatch(/[\u001b\u0007]/);
});

test("a voice note is heard where voice is set up, and refused in one line where not", async () => {
  expect(await type("voice note.ogg\n")).toContain("Voice is not set up here");
  await type("voice my notes/heat 4.ogg\n", {
    hear: async (file) => ({ text: `from ${file}`, confidence: 0.8 }),
  });
  expect(handler.taken[0]).toMatchObject({
    kind: "voice",
    text: "from my notes/heat 4.ogg",
    heardConfidence: 0.8,
  });
});

test("a note that cannot be opened is one line, and the run goes on", async () => {
  const missing = Object.assign(new Error("secret path"), { code: "ENOENT" });
  const printed = await type("voice gone.ogg\nheat 4\n", {
    hear: () => Promise.reject(missing),
  });
  expect(printed).toContain("there is no such file");
  expect(printed).not.toContain("secret path");
  expect(handler.taken).toHaveLength(1);
});

test("a fault of the handler is one line, and the run goes on", async () => {
  handler.faults.push(Object.assign(new Error("x"), { code: "SQLITE_FULL" }));
  const printed = await type("heat 4\nheat 5\n");
  expect(printed).toContain("the disk is full");
  expect(printed).toContain("text: heat 5");
});

test("what the last run did not print is printed first", async () => {
  const first = desk.now();
  await handler.handle({
    id: desk.newId(),
    sourceKey: "terminal:terminal:old",
    edge: "terminal",
    chatId: "terminal",
    smithId: "wenna",
    kind: "text",
    text: "from before",
    sentAt: first,
    receivedAt: first,
  });
  expect(await type("")).toContain("text: from before");
  expect(await type("")).toBe("");
});

test("a reader who goes away ends the run quietly", async () => {
  const output = new Writable({
    write(_chunk, _encoding, done) {
      done(Object.assign(new Error("gone"), { code: "EPIPE" }));
    },
  });
  await type("heat 4\nheat 5\nheat 6\n", { output });
  expect(handler.taken.length).toBeLessThanOrEqual(1);
});

test("at a keyboard there is a prompt and no echo, and the end of the input ends the run", async () => {
  const input = Object.assign(new PassThrough(), { isTTY: true });
  input.write("heat 4\n");
  input.end();
  const printed = await type(input);
  expect(printed).toContain("Ctrl-D ends");
  expect(printed).not.toContain("> heat 4");
  expect(printed).toContain("text: heat 4");
  expect(handler.taken).toHaveLength(1);
});
