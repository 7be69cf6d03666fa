/** The hour at which the day's sheet comes by itself: heard, kept, due by the clock of the chat's zone. */
import { describe, expect, it } from "vitest";
import { createDaySheets, dueSheet } from "../../src/conversation/index.js";
import { sheetHourIn } from "../../src/language/index.js";
import { Talk } from "./talk.js";

const at = (clock: string): number => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));

it.each([
  ["day sheet at 19:00", "19:00"],
  ["day sheet at 7 pm", "19:00"],
  ["send me the day sheet every evening at 7", "19:00"],
  ["sheet every day at six pm", "18:00"],
  ["Day sheet every day at half past six, please.", "18:30"],
  ["day sheet at 1900", "19:00"],
  ["day sheet at 7:30pm", "19:30"],
  ["day sheet at nineteen hundred", "19:00"],
  ["day sheet at seven thirty", "19:30"],
  ["day sheet every morning at 7", "07:00"],
  ["day sheet at 9 at night", "21:00"],
  ["day sheet at midnight", "00:00"],
  ["Every day at 19:00", "19:00"],
])("“%s” is %s", (words, clock) => {
  expect(sheetHourIn(words)).toBe(at(clock));
});

it.each([
  "day sheet off",
  "no more day sheets",
  "stop sending me the day sheet",
  "turn the day sheet off",
])("“%s” turns it off", (words) => {
  expect(sheetHourIn(words)).toBe("off");
});

it.each([
  "day sheet",
  "send me the sheet",
  "sheet for today",
  "day sheet of yesterday",
  "sheet 22 by 36",
  "heat 4 at 950, day sheet at 19:00",
  "day sheet at 25:00",
  "heat 4 at 950",
])("“%s” sets no hour", (words) => {
  expect(sheetHourIn(words)).toBeUndefined();
});

describe("due", () => {
  const hour = (clock: string, doneOn?: string) => ({
    minute: at(clock),
    at: "2026-01-01T10:00:00.000Z",
    ...(doneOn === undefined ? {} : { doneOn }),
  });
  const BERLIN = "Europe/Berlin";

  it.each([
    // Berlin is UTC+1 in winter and UTC+2 in summer; Kathmandu is UTC+5:45 all year.
    ["a minute early", hour("19:00"), "2026-03-02T17:59:59Z", BERLIN, undefined],
    ["on the minute", hour("19:00"), "2026-03-02T18:00:00Z", BERLIN, "2026-03-02"],
    ["in summer", hour("19:00"), "2026-07-02T17:00:00Z", BERLIN, "2026-07-02"],
    ["another zone", hour("19:00"), "2026-03-02T13:15:00Z", "Asia/Kathmandu", "2026-03-02"],
    [
      "its date is the zone's",
      hour("19:00"),
      "2026-03-03T02:00:00Z",
      "America/Denver",
      "2026-03-02",
    ],
    ["up again the same day", hour("19:00"), "2026-03-02T21:30:00Z", BERLIN, "2026-03-02"],
    ["up again soon after midnight", hour("22:00"), "2026-03-02T23:30:00Z", BERLIN, "2026-03-02"],
    ["up again too late", hour("19:00"), "2026-03-03T00:30:00Z", BERLIN, undefined],
    ["up again days later", hour("19:00"), "2026-03-05T08:00:00Z", BERLIN, undefined],
    ["done today", hour("19:00", "2026-03-02"), "2026-03-02T18:05:00Z", BERLIN, undefined],
    ["done yesterday", hour("19:00", "2026-03-01"), "2026-03-02T18:05:00Z", BERLIN, "2026-03-02"],
    ["late, but done", hour("23:59", "2026-03-02"), "2026-03-02T23:05:00Z", BERLIN, undefined],
    // 29 March 2026, 02:00 to 03:00 does not exist in Berlin.
    [
      "an hour that does not exist, before",
      hour("02:30"),
      "2026-03-29T00:59:00Z",
      BERLIN,
      undefined,
    ],
    [
      "an hour that does not exist, after",
      hour("02:30"),
      "2026-03-29T01:00:00Z",
      BERLIN,
      "2026-03-29",
    ],
    // 25 October 2026, 02:00 to 03:00 is shown twice.
    ["an hour shown twice, first", hour("02:30"), "2026-10-25T00:30:00Z", BERLIN, "2026-10-25"],
    [
      "an hour shown twice, between",
      hour("02:30", "2026-10-25"),
      "2026-10-25T01:10:00Z",
      BERLIN,
      undefined,
    ],
    [
      "an hour shown twice, second",
      hour("02:30", "2026-10-25"),
      "2026-10-25T01:30:00Z",
      BERLIN,
      undefined,
    ],
    [
      "one o'clock long gone",
      hour("01:00", "2026-10-25"),
      "2026-10-25T05:00:00Z",
      BERLIN,
      undefined,
    ],
    [
      "a zone further west than yesterday's",
      hour("19:00", "2026-03-03"),
      "2026-03-03T06:00:00Z",
      "America/Denver",
      undefined,
    ],
  ] as const)("%s", (_, set, now, zone, on) => {
    expect(dueSheet(set, now, zone)?.on).toBe(on);
  });

  it("an hour that had passed when it was set waits for the next day", () => {
    const set = { minute: at("19:00"), at: "2026-03-02T18:30:00.000Z" };
    expect(dueSheet(set, "2026-03-02T19:00:00Z", BERLIN)).toBeUndefined();
    expect(dueSheet(set, "2026-03-02T23:10:00Z", BERLIN)).toBeUndefined();
    expect(dueSheet(set, "2026-03-03T18:00:00Z", BERLIN)?.on).toBe("2026-03-03");
  });

  it("an hour before noon closes the day before", () => {
    expect(dueSheet(hour("00:30"), "2026-03-02T23:30:00Z", BERLIN)).toEqual({
      on: "2026-03-03",
      of: "2026-03-02",
    });
    expect(dueSheet(hour("19:00"), "2026-03-02T18:00:00Z", BERLIN)?.of).toBe("2026-03-02");
  });

  it("asked every few minutes of 400 days, each day comes once and in order", () => {
    for (const [zone, clock] of [
      [BERLIN, "02:30"],
      ["America/New_York", "23:59"],
      ["Australia/Lord_Howe", "01:45"],
      ["Pacific/Apia", "19:00"],
    ] as const) {
      let doneOn: string | undefined;
      const days: string[] = [];
      const start = Date.parse("2026-01-02T00:00:00Z");
      for (let minute = 0; minute < 400 * 1440; minute += 11) {
        const now = new Date(start + minute * 60_000).toISOString();
        const due = dueSheet(hour(clock, doneOn), now, zone);
        if (due === undefined) continue;
        doneOn = due.on;
        days.push(due.on);
      }
      expect(new Set(days).size, zone).toBe(days.length);
      expect([...days].sort(), zone).toEqual(days);
      expect(days.length, zone).toBeGreaterThanOrEqual(399);
    }
  }, 60_000);
});

describe("in a chat", () => {
  const wire = { edge: "messenger" as const };

  it("is confirmed with its zone, offered under the sheet and taken back by a button", async () => {
    const talk = await Talk.start();
    expect(await talk.say("day sheet at 7 pm", wire)).toEqual([
      "*Day sheet: every day at 19:00 (Europe/Berlin)*",
      "Nothing comes on a day without work.",
    ]);
    expect(await talk.press("Day sheet off")).toEqual(["*Day sheet: only when you ask for it.*"]);
    await talk.say("new ingot 64 across 30 high 450 g");
    await talk.say("day sheet");
    expect(await talk.press("Every day at 19:00")).toContain(
      "*Day sheet: every day at 19:00 (Europe/Berlin)*",
    );
    await talk.say("day sheet");
    expect(talk.buttons().map(({ label }) => label)).toContain("Day sheet off");
    expect(await talk.store.sheetHour("chat")).toMatchObject({
      minute: at("19:00"),
      smithId: "imre",
    });
  });

  it("writes nothing into the log", async () => {
    const talk = await Talk.start();
    const before = (await talk.store.everything()).length;
    for (const words of [
      "day sheet at 19:00",
      "send me the day sheet every evening at 7",
      "day sheet off",
    ]) {
      expect((await talk.say(words)).join("\n")).not.toContain("Not understood");
    }
    expect((await talk.store.everything()).length).toBe(before);
  });

  it("a terminal is told that it is not written to", async () => {
    const talk = await Talk.start();
    expect(await talk.say("day sheet at 00:30")).toEqual([
      "*Day sheet: every day at 00:30, of the day before (Europe/Berlin)*",
      "A terminal is not written to by itself. Here, say: day sheet",
    ]);
  });

  it("a terminal's chat and a day without work are passed over", async () => {
    const talk = await Talk.start({ at: "2026-05-12T08:00:00.000Z" });
    const sheets = createDaySheets({ store: talk.store, timezone: "Europe/Berlin" });
    await talk.say("day sheet at 19:00");
    await talk.say("new ingot 64 across 30 high 450 g");
    expect(await sheets.due("2026-05-12T17:00:00.000Z")).toEqual([]);
    await talk.say("day sheet at 19:00", { ...wire, chatId: "wired" });
    expect(await sheets.due("2026-05-12T17:00:00.000Z")).toEqual([]);
    expect((await talk.store.sheetHour("wired"))?.doneOn).toBe("2026-05-12");
    await talk.say("new ingot 64 across 30 high 450 g", { ...wire, chatId: "wired" });
    expect(await sheets.due("2026-05-12T19:00:00.000Z"), "its hour is past").toEqual([]);
  });
});
