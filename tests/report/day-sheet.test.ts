import { describe, expect, it } from "vitest";
import { type Entry, foldIngot } from "../../src/logbook/index.js";
import { asOf, daySheet, dayWords, fireTime, LINE_WIDTH } from "../../src/report/index.js";
import { METRIC } from "../../src/units/index.js";
import { rows, type Said } from "./log.js";

const sheetOf = (date: string, timezone: string, said: readonly Said[]) => {
  const entries = rows(said);
  return daySheet({ date, timezone, entries, states: statesOf(entries) });
};
const statesOf = (entries: readonly Entry[]) =>
  new Map(
    [...new Set(entries.flatMap(({ ingotId }) => ingotId ?? []))].map((id) => [
      id,
      foldIngot(id, entries),
    ]),
  );
const heat = (at: string): Said => ({ at, ingotId: "i1", fact: { kind: "heat" } });

describe("a day across midnight, zones and daylight saving", () => {
  // One heat each side of midnight in Berlin (summer: two hours ahead of UTC).
  const night = [heat("2026-05-12T21:59:59Z"), heat("2026-05-12T22:00:00Z")];

  it("ends at the shop's midnight", () => {
    expect(sheetOf("2026-05-12", "Europe/Berlin", night).heats).toBe(1);
    expect(sheetOf("2026-05-13", "Europe/Berlin", night).heats).toBe(1);
    expect(sheetOf("2026-05-12", "UTC", night).heats).toBe(2);
    expect(sheetOf("2026-05-12", "America/Denver", night).heats).toBe(2);
    expect(sheetOf("2026-05-13", "Pacific/Auckland", night).heats).toBe(2);
  });

  it("has 23 and 25 hours where the clocks change", () => {
    // Berlin 2026: forward on 29 March at 01:00 UTC, back on 25 October at 01:00 UTC.
    const hourly = (from: string): Said[] =>
      Array.from({ length: 72 }, (_, hour) =>
        heat(new Date(Date.parse(from) + hour * 3_600_000).toISOString()),
      );
    const spring = hourly("2026-03-28T00:30:00Z");
    const autumn = hourly("2026-10-24T00:30:00Z");
    expect(sheetOf("2026-03-28", "Europe/Berlin", spring).heats).toBe(23);
    expect(sheetOf("2026-03-29", "Europe/Berlin", spring).heats).toBe(23);
    expect(sheetOf("2026-10-25", "Europe/Berlin", autumn).heats).toBe(25);
  });

  it("counts the minutes that passed, not those the clock shows", () => {
    // 02:50 summer time to 02:10 winter time: twenty minutes, though the clock went back forty.
    const sheet = sheetOf("2026-10-25", "Europe/Berlin", [
      heat("2026-10-25T00:50:00Z"),
      heat("2026-10-25T01:10:00Z"),
    ]);
    expect(sheet.fire?.minutes).toBe(40);
    expect(dayWords(sheet, METRIC)).toContain("02:50 to 02:10");
  });

  it("shows an ingot as it stood at the end of that day", () => {
    const said: Said[] = [
      {
        at: "2026-05-11T08:00:00Z",
        ingotId: "i1",
        fact: { kind: "ingot", name: "Wren", massG: 450 },
      },
      heat("2026-05-12T08:00:00Z"),
      {
        at: "2026-05-12T08:20:00Z",
        ingotId: "i1",
        fact: { kind: "size", thicknessMm: 22, widthMm: 30, lengthMm: 80, massG: 445 },
      },
      heat("2026-05-13T08:00:00Z"),
      { at: "2026-05-13T09:00:00Z", ingotId: "i1", fact: { kind: "finish", massG: 200 } },
      { at: "2026-05-13T10:00:00Z", ingotId: "i2", fact: { kind: "ingot", name: "Rook" } },
    ];
    const tuesday = sheetOf("2026-05-12", "Europe/Berlin", said);
    expect(tuesday.ingots.map(({ name }) => name)).toEqual(["Wren"]);
    expect(tuesday.ingots[0]).toMatchObject({ finished: false, heats: 1, massG: 445 });
    expect(tuesday.blades).toEqual([]);
    expect(tuesday.losses.scaleG).toBe(5);
    const wednesday = sheetOf("2026-05-13", "Europe/Berlin", said);
    expect(wednesday.ingots.map(({ name }) => name)).toEqual(["Wren", "Rook"]);
    expect(wednesday.blades).toHaveLength(1);
    expect(wednesday.losses.scaleG).toBe(0);
  });
});

describe("an ingot at a moment", () => {
  it("has the size it had, with what was not said again carried on", () => {
    const said: Said[] = [
      { at: "2026-05-12T08:00:00Z", ingotId: "i1", fact: { kind: "ingot", name: "Wren" } },
      heat("2026-05-12T08:10:00Z"),
      {
        at: "2026-05-12T08:20:00Z",
        ingotId: "i1",
        fact: { kind: "size", thicknessMm: 22, widthMm: 30, lengthMm: 80 },
      },
      { at: "2026-05-12T08:30:00Z", ingotId: "i1", fact: { kind: "size", thicknessMm: 20 } },
      { at: "2026-05-13T08:00:00Z", ingotId: "i1", fact: { kind: "size", lengthMm: 150 } },
    ];
    const state = statesOf(rows(said)).get("i1");
    if (state === undefined) throw new Error("no ingot");
    const then = asOf(state, "2026-05-13T00:00:00Z").piece;
    expect(then).toMatchObject({ thicknessMm: 20, widthMm: 30, lengthMm: 80, afterHeats: 1 });
    expect(asOf(state, "2026-05-12T08:15:00Z").piece).toBeUndefined();
    expect(asOf(state, "2026-05-14T00:00:00Z").piece).toEqual(state.piece);
  });
});

describe("time at the fire", () => {
  const at = (minutes: readonly number[], durationMin?: number) =>
    fireTime(
      minutes.map((minute) => ({
        at: new Date(Date.UTC(2026, 4, 12, 7) + minute * 60_000).toISOString(),
        durationMin,
      })),
    );

  it("adds the gaps, leaves the breaks out, gives the first heat after a break the middle gap", () => {
    // Gaps 10, 12, 90 (a break), 14: 10 + 12 + 14 and twice the middle gap of 12.
    expect(at([0, 10, 22, 112, 126])?.minutes).toBe(60);
  });
  it("knows nothing of a single heat, and goes by what was said when all was told at once", () => {
    expect(at([0])?.minutes).toBeUndefined();
    expect(at([0, 0, 0], 9)?.minutes).toBe(27);
    expect(at([])).toBeUndefined();
  });
});

describe("the sheet in words", () => {
  it("says melts, ingots, cracks, blades, losses in short lines", () => {
    const words = dayWords(
      sheetOf("2026-05-12", "Europe/Berlin", [
        {
          at: "2026-05-12T06:00:00Z",
          fact: {
            kind: "melt",
            number: 12,
            massG: 655,
            temperatureC: 1520,
            cooling: "in the furnace",
          },
        },
        {
          at: "2026-05-12T07:00:00Z",
          ingotId: "i1",
          fact: {
            kind: "ingot",
            name: "a name that is far longer than any smith says",
            massG: 450,
          },
        },
        heat("2026-05-12T07:10:00Z"),
        heat("2026-05-12T07:20:00Z"),
        {
          at: "2026-05-12T07:25:00Z",
          ingotId: "i1",
          fact: { kind: "crack", place: "edge", depthMm: 2 },
        },
        {
          at: "2026-05-12T07:30:00Z",
          ingotId: "i1",
          fact: { kind: "removal", method: "grind", massG: 4 },
        },
      ]),
      METRIC,
    );
    expect(words).toContain("DAY Tue 12 May 2026");
    expect(words).toContain("2 heats · 09:10 to 09:20");
    expect(words).toContain("MELT 12 · charge 655 g · peak 1520 °C");
    expect(words).toContain("LOST · taken off 4 g");
    for (const line of words.split("\n")) expect(line.length).toBeLessThanOrEqual(LINE_WIDTH);
  });
  it("says so when nothing was logged", () => {
    expect(dayWords(sheetOf("2026-05-12", "Europe/Berlin", []), METRIC)).toBe(
      "DAY Tue 12 May 2026\nNothing logged on this day.",
    );
  });
});

describe("what to order", () => {
  it("is what the day's melts used, one material one figure", () => {
    const melt = (
      at: string,
      number: number,
      charge: { what: string; massG?: number }[],
    ): Said => ({
      at,
      fact: { kind: "melt", number, charge },
    });
    const sheet = sheetOf("2026-05-12", "UTC", [
      melt("2026-05-11T10:00:00Z", 1, [{ what: "cast iron", massG: 999 }]),
      melt("2026-05-12T08:00:00Z", 2, [
        { what: "cast iron", massG: 230 },
        { what: "iron", massG: 400 },
      ]),
      melt("2026-05-12T12:00:00Z", 3, [
        { what: "pig iron", massG: 20 },
        { what: "bar iron", massG: 100 },
        { what: "glass" },
      ]),
    ]);
    expect(sheet.used).toEqual([
      { what: "bar iron", massG: 500, unweighed: 0 },
      { what: "cast iron", massG: 250, unweighed: 0 },
      { what: "flux", massG: 0, unweighed: 1 },
    ]);
    expect(dayWords(sheet, METRIC)).toMatch(/TO ORDER · bar iron 500 g · cast iron 250 g/);
  });
});
