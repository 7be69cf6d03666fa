/** What was acknowledged is there after the process was killed at any moment; a small version. */
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openSqliteStore } from "../../src/store/index.js";
import { startWriter } from "./child.js";
import { atSecond } from "./sample-turns.js";

const KILLS_A_LANE = 10;
const ENTRIES_A_TURN = 2;
/** Longest wait between the first acknowledged message and the kill, ms: some fifty turns. */
const LONGEST_MS = 40;
const now = () => atSecond(0);

/** The same moments in every run: a small linear congruential generator, 0 to 1. */
function moments(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1_103_515_245 + 12_345) % 2 ** 31;
    return state / 2 ** 31;
  };
}

describe("a killed process", () => {
  let folder: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "hearth-kill-"));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  async function standsWhole(file: string, acknowledged: ReadonlySet<string>): Promise<void> {
    const store = await openSqliteStore({ file, now });
    const counts = new Map<string, number>();
    for (const { messageId } of await store.everything()) {
      counts.set(messageId, (counts.get(messageId) ?? 0) + 1);
    }
    const lost = [...acknowledged].filter((id) => !counts.has(`m-${id}`));
    expect(lost).toEqual([]);
    const torn = [...counts].filter(([, count]) => count !== ENTRIES_A_TURN);
    expect(torn).toEqual([]);
    const replies = await store.unsent(1_000_000);
    expect(replies.map(({ messageId }) => messageId)).toEqual([...counts.keys()]);
    expect((await store.view("anvil", "odo", now())).messages).toBe(counts.size);
    await store.close();
  }

  it.each([1, 2])("loses nothing that was acknowledged, lane %i", async (lane) => {
    const file = join(folder, "log.sqlite");
    const moment = moments(lane);
    const acknowledged = new Set<string>();
    let midway = 0;
    for (let kill = 0; kill < KILLS_A_LANE; kill += 1) {
      const writer = startWriter(file, `${lane}-${kill}`);
      await writer.said(2);
      await pause(moment() * LONGEST_MS);
      await writer.kill();
      const [opened, ...ids] = writer.lines;
      expect(opened).toBe("open");
      for (const id of ids) acknowledged.add(id);
      if (ids.length > 0) midway += 1;
      await standsWhole(file, acknowledged);
    }
    expect(midway).toBe(KILLS_A_LANE);
  });

  it("leaves no half-made tables when it is killed while it makes them", async () => {
    const file = join(folder, "log.sqlite");
    const writer = startWriter(file, "first");
    while (!existsSync(`${file}-wal`)) await pause(0);
    await writer.kill();
    await standsWhole(file, new Set());
  });

  it("lets go of the log at once; a living one keeps others out, but not readers", async () => {
    const file = join(folder, "log.sqlite");
    const writer = startWriter(file, "living");
    await writer.said(3);
    await expect(openSqliteStore({ file, now })).rejects.toMatchObject({
      name: "StoreFailed",
      code: "in-use",
      message: expect.stringMatching(/log\.sqlite: another process .* stop it first/),
    });
    const second = startWriter(file, "second");
    await second.said(1);
    expect(second.lines).toEqual([expect.stringMatching(/^refused in-use /)]);

    const reader = await openSqliteStore({ file, now, readonly: true });
    const seen = await reader.everything();
    expect(seen.length).toBeGreaterThanOrEqual(ENTRIES_A_TURN);
    await reader.backup(join(folder, "copy.sqlite"));
    await reader.close();
    await writer.kill();
    await second.kill();
    const copy = await openSqliteStore({ file: join(folder, "copy.sqlite"), now });
    expect((await copy.everything()).slice(0, seen.length)).toEqual(seen);
    await copy.close();
    await (await openSqliteStore({ file, now })).close();
  });
});
