/** The day's sheet comes by itself: once a day, through the outbox, over restarts, to nobody who was let out. */
import { afterEach, beforeEach, expect, test } from "vitest";
import { createMessenger, type Messenger, type SentFile } from "../../src/chat/index.js";
import { createDaySheets, createHandler, type DaySheets } from "../../src/conversation/index.js";
import { type Desk, jumpingClock, keptLog, openDesk } from "./desk.js";
import { messageOf, openWire, presses, type SaidBy, TOKEN, updateId, type Wire } from "./wire.js";

/** The desk's clock starts at 08:00 UTC of Monday 2 March 2026, 09:00 in Berlin. */
const HOUR = 3_600_000;

let desk: Desk;
let wire: Wire;
let messenger: Messenger | undefined;
let looks = 0;
let drawn: string[] = [];
beforeEach(async () => {
  desk = await openDesk();
  wire = openWire();
  looks = 0;
  drawn = [];
});
afterEach(async () => {
  await messenger?.stop();
  messenger = undefined;
  wire.close();
  await desk.close();
});

const picture: SentFile = {
  name: "day.png",
  bytes: Buffer.from("x"),
  picture: { width: 1080, height: 2000 },
};

async function start(change: (sheets: DaySheets) => DaySheets = (same) => same): Promise<void> {
  const sheets = change(createDaySheets({ store: desk.store, timezone: "Europe/Berlin" }));
  messenger = createMessenger({
    token: TOKEN,
    libraryClient: true,
    handler: createHandler({
      store: desk.store,
      newId: desk.newId,
      timezone: "Europe/Berlin",
    }),
    daySheets: {
      ...sheets,
      due: async (now) => {
        const due = await sheets.due(now);
        looks += 1;
        return due;
      },
    },
    store: desk.store,
    access: desk.access,
    newId: desk.newId,
    now: desk.now,
    logger: keptLog(),
    ownerId: "7",
    clock: jumpingClock(),
    render: async ({ kind, id }) => {
      drawn.push(`${kind} ${id}`);
      return [picture];
    },
  });
  await messenger.start();
}
async function stop(): Promise<void> {
  await messenger?.stop();
  messenger = undefined;
}
async function say(text: string, by: SaidBy = {}): Promise<void> {
  const chat = String(by.chat ?? by.from ?? 7);
  const before = wire.sent(chat).length;
  const date = Math.floor(Date.parse(desk.now()) / 1000);
  wire.updates.push({ update_id: updateId(), message: messageOf(by, { text, date }) } as never);
  await wire.until(() => wire.sent(chat).length > before);
}
/** Until the clock of the sheets has looked twice more: what was due is written by then, and is being sent. */
async function looked(): Promise<void> {
  const from = looks;
  await wire.until(() => looks >= from + 2);
}
const texts = (chat = "7"): string[] => wire.sent(chat).map(({ body }) => String(body.text));
const sheets = (chat = "7"): string[] =>
  texts(chat).flatMap((text) => /^(?:<b>)?DAY (\w+ \d+ \w+)/.exec(text)?.[1] ?? []);

test("at the hour, once a day, with its picture; nothing on a day without work", async () => {
  await start();
  await say("new ingot Rook 64 across 30 high 450 g");
  await say("day sheet at 19:00");
  expect(texts().at(-1)).toContain("Day sheet: every day at 19:00");
  desk.pass(9 * HOUR + 59 * 60_000);
  await looked();
  expect(sheets()).toEqual([]);
  desk.pass(60_000);
  await wire.until(() => sheets().length === 1 && drawn.length === 1);
  expect(sheets()).toEqual(["Mon 2 Mar"]);
  expect(texts().at(-1)).toContain("Rook");
  expect(drawn).toEqual(["day 2026-03-02"]);
  await wire.until(() => wire.calls.some(({ method }) => method === "sendPhoto"));
  desk.pass(3 * HOUR);
  await looked();
  desk.pass(21 * HOUR + 60_000);
  await looked();
  expect(sheets(), "Tuesday: nothing was logged").toEqual(["Mon 2 Mar"]);
  desk.pass(16 * HOUR);
  await say("heat 1 at 950");
  desk.pass(8 * HOUR);
  await wire.until(() => sheets().length === 2);
  expect(sheets()).toEqual(["Mon 2 Mar", "Wed 4 Mar"]);
  await stop();
  expect(await desk.store.unsent(9)).toEqual([]);
});

test("under it a button turns it off", async () => {
  await start();
  await say("new ingot Rook 64 across 30 high 450 g");
  await say("day sheet at 7 pm");
  desk.pass(10 * HOUR);
  await wire.until(() => sheets().length === 1);
  const markup = wire.sent("7").at(-1)?.body.reply_markup as
    | { inline_keyboard: { text: string; callback_data: string }[][] }
    | undefined;
  const off = markup?.inline_keyboard.flat().find(({ text }) => text === "Day sheet off");
  wire.updates.push(presses(off?.callback_data ?? "", "q1"));
  await wire.until(() => /only when you ask/.test(texts().at(-1) ?? ""));
  desk.pass(15 * HOUR);
  await say("heat 1 at 950");
  desk.pass(9 * HOUR);
  await looked();
  expect(sheets()).toEqual(["Mon 2 Mar"]);
});

test("a bot that was down sends it when it is up again the same day, and once only", async () => {
  await start();
  await say("new ingot Rook 64 across 30 high 450 g");
  await say("day sheet at 19:00");
  await stop();
  desk.pass(13 * HOUR);
  await start();
  await wire.until(() => sheets().length === 1);
  await stop();
  await start();
  await looked();
  expect(sheets()).toEqual(["Mon 2 Mar"]);
});

test("a bot that was down until the next morning does not send it late", async () => {
  await start();
  await say("new ingot Rook 64 across 30 high 450 g");
  await say("day sheet at 19:00");
  await stop();
  desk.pass(24 * HOUR);
  await start();
  await looked();
  expect(sheets()).toEqual([]);
});

test("a process that ends between writing the sheet and noting it writes no second one", async () => {
  await start((own) => ({
    ...own,
    done: async () => {
      throw new RangeError("the process ended here");
    },
  }));
  await say("new ingot Rook 64 across 30 high 450 g");
  await say("day sheet at 19:00");
  desk.pass(10 * HOUR);
  await looked();
  await stop();
  await start();
  await wire.until(() => sheets().length === 1);
  await looked();
  expect(sheets()).toEqual(["Mon 2 Mar"]);
  expect((await desk.store.sheetHour("7"))?.doneOn).toBe("2026-03-02");
});

test("its clock is that of the chat's time zone", async () => {
  await start();
  await say("time zone Asia/Kathmandu");
  await say("new ingot Rook 64 across 30 high 450 g");
  await say("day sheet at 19:00");
  // 13:15 UTC is 19:00 in Kathmandu.
  desk.pass(5 * HOUR + 14 * 60_000);
  await looked();
  expect(sheets()).toEqual([]);
  desk.pass(60_000);
  await wire.until(() => sheets().length === 1);
});

test("nothing goes to a smith or a group that was let out meanwhile", async () => {
  await desk.access.setOwner("7", desk.now());
  await desk.access.createInvite({
    codeHash: "a".repeat(64),
    role: "smith",
    at: desk.now(),
    expiresAt: new Date(Date.parse(desk.now()) + HOUR).toISOString(),
  });
  await desk.access.useInvite("a".repeat(64), { id: "8" }, desk.now());
  await start();
  await say("new ingot Rook 64 across 30 high 450 g", { from: 8 });
  await say("day sheet at 19:00", { from: 8 });
  await say("/letin", { chat: -50, type: "group" });
  await say("new ingot Finch 64 across 30 high 450 g", { chat: -50, type: "group", from: 9 });
  await say("day sheet at 19:00", { chat: -50, type: "group", from: 9 });
  await say("/letout", { chat: -50, type: "group" });
  await desk.access.removePerson("8", desk.now());
  desk.pass(10 * HOUR);
  await looked();
  expect([...sheets("8"), ...sheets("-50")]).toEqual([]);
});

test("who is forgotten gets no sheet any more, and no row of theirs stays", async () => {
  await start();
  await say("new ingot Rook 64 across 30 high 450 g");
  await say("day sheet at 19:00");
  expect((await desk.access.recordsOf("7")).day_sheet_hour).toHaveLength(1);
  await desk.access.forget("7");
  expect(await desk.store.sheetHours()).toEqual([]);
  expect(await desk.access.recordsOf("7")).not.toHaveProperty("day_sheet_hour");
  desk.pass(10 * HOUR);
  await looked();
  expect(sheets()).toEqual([]);
});
