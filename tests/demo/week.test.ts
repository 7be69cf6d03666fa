import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import { play } from "../../demo-data/player.js";
import { readWeek } from "../../demo-data/week.js";
import { ingotByName, sheetOfDay, summaryOf } from "../../demo-data/wrap-up.js";
import type { IngotState, LogStore } from "../../src/logbook/index.js";
import { ASSUMED_CARBON_PCT, massBar } from "../../src/report/index.js";
import { densityGPerMm3 } from "../../src/steel/index.js";
import { openSqliteStore } from "../../src/store/index.js";

const INGOTS = ["Birch", "Alder", "Hazel", "Rowan", "Yew"] as const;
const CHAT = "yard";

describe("the demo week", () => {
  const states = new Map<string, IngotState>();
  const unread: string[] = [];
  let store: LogStore;

  beforeAll(async () => {
    const lines = await readFile(new URL("../../demo-data/week.jsonl", import.meta.url), "utf8");
    store = await openSqliteStore({ file: ":memory:", now: () => "2026-06-01T00:00:00Z" });
    for await (const { message, replies } of play(store, readWeek(lines))) {
      expect(replies.length, message.text).toBeGreaterThan(0);
      for (const { body } of replies) {
        for (const { text } of body.lines) {
          if (text.startsWith("Not understood") || text.startsWith("Kept as said"))
            unread.push(text);
        }
      }
    }
    for (const name of INGOTS) states.set(name, await ingotByName(store, CHAT, name));
    return () => store.close();
  });

  it("is understood but for what is no business of the log", () => {
    // The kettle, and the worry about a cold edge: said back, kept by nobody.
    expect(unread).toHaveLength(2);
  });

  it("takes five ingots on five ways, loses one, finishes four", () => {
    const routes = INGOTS.map((name) => states.get(name)?.route);
    expect(routes.map((route) => route?.route)).toEqual(["face", "spine", "ring", "end", "spine"]);
    expect(routes.map((route) => route?.split === true)).toEqual([
      false,
      false,
      false,
      false,
      true,
    ]);
    const blades = INGOTS.map((name) => states.get(name)?.finishes.length);
    expect(blades).toEqual([1, 1, 0, 1, 2]);
    expect(INGOTS.flatMap((name) => states.get(name)?.cracks ?? []).length).toBeGreaterThan(4);
  });

  it("is physically possible: no ingot gives more than it had", () => {
    for (const name of INGOTS) {
      const bar = massBar(states.get(name) as IngotState, 1.5);
      expect(
        bar?.parts.some(({ kind }) => kind === "surplus"),
        name,
      ).toBe(false);
    }
  });

  it("has bars whose sizes weigh what the scale says, within 4 %", () => {
    let compared = 0;
    for (const [name, { facts, sizes }] of states) {
      const density = densityGPerMm3(facts.carbonPct ?? ASSUMED_CARBON_PCT);
      for (const { value } of sizes) {
        const { lengthMm, massG, thicknessMm, widthMm } = value;
        if (!lengthMm || !massG || !thicknessMm || !widthMm) continue;
        compared += 1;
        const off = (thicknessMm * widthMm * lengthMm * density) / massG - 1;
        expect(Math.abs(off), `${name} ${massG} g`).toBeLessThan(0.04);
      }
    }
    expect(compared).toBeGreaterThanOrEqual(8);
  });

  it("ends in a summary and a day's sheet", async () => {
    const summary = await summaryOf(store, CHAT, "Alder");
    expect(summary).toContain("INGOT Alder · blade done");
    expect(summary).toContain("548 g together");
    const sheet = await sheetOfDay(store, CHAT, "2026-06-03");
    expect(sheet).toContain("DAY Wed 3 Jun 2026");
    expect(sheet).toContain("INGOT Hazel");
  });
});
