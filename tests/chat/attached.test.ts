/** Files that go out with a reply: photo, document or group; what fails is said, and the reply stays sent. */
import { mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Readable, Writable } from "node:stream";
import { afterEach, beforeEach, expect, test } from "vitest";
import {
  createMessenger,
  type Messenger,
  type Render,
  runTerminal,
  type SentFile,
} from "../../src/chat/index.js";
import { renderWith } from "../../src/cli/attached.js";
import { saveBeside } from "../../src/cli/save-file.js";
import { createHandler } from "../../src/conversation/index.js";
import { type Desk, jumpingClock, keptLog, openDesk } from "./desk.js";
import { openWire, says, TOKEN, type Wire } from "./wire.js";

let desk: Desk;
let wire: Wire;
let messenger: Messenger | undefined;
beforeEach(async () => {
  desk = await openDesk();
  wire = openWire();
});
afterEach(async () => {
  await messenger?.stop();
  messenger = undefined;
  wire.close();
  await desk.close();
});

const handlerOf = ({ store, newId }: Desk) =>
  createHandler({ store, newId, timezone: "Europe/Berlin" });

async function run(render: Render, ...said: string[]): Promise<ReturnType<typeof keptLog>> {
  const log = keptLog();
  messenger = createMessenger({
    token: TOKEN,
    libraryClient: true,
    handler: handlerOf(desk),
    store: desk.store,
    access: desk.access,
    newId: desk.newId,
    now: desk.now,
    logger: log,
    ownerId: "7",
    clock: jumpingClock(),
    render,
  });
  await messenger.start();
  for (const text of said) {
    const before = wire.sent("7").length;
    wire.updates.push(says(text));
    await wire.until(() => wire.sent("7").length > before);
  }
  return log;
}
const methods = (): string[] => wire.calls.map(({ method }) => method);
const file = (name: string, picture?: SentFile["picture"]): SentFile => ({
  name,
  bytes: Buffer.from("x"),
  ...(picture === undefined ? {} : { picture }),
});

test.each<[string, SentFile[], string[]]>([
  ["a picture is a photo", [file("a.png", { width: 720, height: 2000 })], ["sendPhoto"]],
  [
    "one too long for a photo is a document",
    [file("a.png", { width: 300, height: 9900 })],
    ["sendDocument"],
  ],
  ["a page is a document", [file("a.html")], ["sendDocument"]],
  [
    "many go in groups of ten",
    Array.from({ length: 11 }, (_, n) => file(`${n}.csv`)),
    ["sendMediaGroup", "sendDocument"],
  ],
  ["none is nothing", [], []],
])("%s", async (_name, files, calls) => {
  let asked = 0;
  await run(
    async () => {
      asked += 1;
      return files;
    },
    "new ingot Rook 64 across 30 high 450 g",
    "/sheet",
  );
  await wire.until(
    () => asked === 1 && methods().filter((each) => calls.includes(each)).length === calls.length,
  );
  expect(methods().filter((each) => /^send(?!Message)/.test(each))).toEqual(calls);
});

test("a file that fails is said once, and the reply is not sent again", async () => {
  await run(
    async () => {
      throw new Error("no font");
    },
    "new ingot Rook 64 across 30 high 450 g",
    "/sheet",
  );
  const said = (): unknown[] => wire.sent("7").map(({ body }) => body.text);
  await wire.until(() => said().some((text) => /did not get through/.test(String(text))));
  expect(said().filter((text) => /^DAY/m.test(String(text)))).toHaveLength(1);
});

test("the terminal writes the picture beside its log, for its owner alone, and says where", async () => {
  const folder = mkdtempSync(join(tmpdir(), "hearth-files-"));
  try {
    let printed = "";
    await runTerminal({
      handler: handlerOf(desk),
      store: desk.store,
      newId: desk.newId,
      now: desk.now,
      input: Readable.from([
        Buffer.from("new ingot Rook 64 across 30 high 450 g\n/card\n/export\n"),
      ]),
      output: new Writable({
        write(chunk, _encoding, done) {
          printed += String(chunk);
          done();
        },
      }),
      chatId: "terminal",
      smithId: "wenna",
      colour: false,
      render: renderWith(desk.store, "UTC"),
      save: saveBeside(join(folder, "log.sqlite")),
    });
    const path = join(folder, "rook-card.png");
    expect(printed).toContain(`Written: ${path}`);
    expect(statSync(path).mode & 0o777).toBe(0o600);
    // The eight bytes that every PNG begins with (ISO/IEC 15948).
    expect([...readFileSync(path).subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
    expect(readFileSync(join(folder, "ingot.csv"), "utf8")).toMatch(/Rook/);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test("an export holds what this chat said and nothing of another", async () => {
  const handler = handlerOf(desk);
  for (const [chatId, name] of [
    ["a", "Rook"],
    ["b", "Wren"],
  ] as const) {
    const at = desk.now();
    await handler.handle({
      id: desk.newId(),
      sourceKey: `terminal:${chatId}:1`,
      edge: "terminal",
      chatId,
      smithId: "wenna",
      kind: "text",
      text: `new ingot ${name} 64 across 30 high 450 g`,
      sentAt: at,
      receivedAt: at,
    });
  }
  const files = await renderWith(desk.store, "UTC")({ kind: "export", as: "json" }, "a");
  const text = files.map(({ bytes }) => Buffer.from(bytes).toString()).join("");
  expect(text).toMatch(/Rook/);
  expect(text).not.toMatch(/Wren/);
});
