/** Plans a second, and what planning adds to a turn: the same messages with an ingot to plan for and without. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { performance } from "node:perf_hooks";
import { createHandler } from "../../src/conversation/index.js";
import { planForging } from "../../src/forging/index.js";
import { openSqliteStore } from "../../src/store/index.js";

const PLANS = 400;
const ROUNDS = 9;
const MESSAGES = 30;
const START = Date.parse("2026-05-12T06:00:00Z");

export async function benchPlan(): Promise<void> {
  const request = (n: number) =>
    ({
      ingot: { shape: "bowl", diameterMm: 60 + (n % 20), heightMm: 28 + (n % 7), massG: 450 + n },
      blade: { edge: "single", lengthMm: 150 + (n % 50), widthMm: 28 },
      shop: { pressKn: 200, welder: true },
    }) as const;
  for (let n = 0; n < PLANS; n += 1) planForging(request(n));
  const start = performance.now();
  for (let n = 0; n < PLANS; n += 1) planForging(request(n));
  const planMs = (performance.now() - start) / PLANS;

  const folder = mkdtempSync(join(tmpdir(), "hearth-plan-"));
  try {
    const planned = await shop(join(folder, "planned.sqlite"), "new ingot 64 across 30 high 450 g");
    const unplanned = await shop(join(folder, "unplanned.sqlite"), "new ingot Rook");
    const times: [number[], number[]] = [[], []];
    for (let round = 0; round < ROUNDS; round += 1) {
      times[0].push(await planned.round());
      times[1].push(await unplanned.round());
    }
    const [withMs, withoutMs] = times.map(median) as [number, number];
    console.log(
      `${Math.round(1000 / planMs)} plans a second, ${planMs.toFixed(3)} ms a plan of all routes`,
    );
    console.log(
      `turn with planning ${withMs.toFixed(3)} ms, without ${withoutMs.toFixed(3)} ms: planning is ${((100 * (withMs - withoutMs)) / withMs).toFixed(0)} % of a turn`,
    );
    await planned.close();
    await unplanned.close();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function shop(file: string, opening: string) {
  const store = await openSqliteStore({ file, now: () => new Date(START).toISOString() });
  let count = 0;
  let ids = 0;
  const handler = createHandler({
    store,
    newId: () => `p${(++ids).toString(36).padStart(8, "0")}`,
    timezone: "Europe/Berlin",
  });
  const send = async (text: string): Promise<void> => {
    count += 1;
    const at = new Date(START + count * 60_000).toISOString();
    await handler.handle({
      id: `plan-${count}`,
      sourceKey: `terminal:plan:${count}`,
      edge: "terminal",
      chatId: "plan",
      smithId: "plan",
      kind: "text",
      text,
      sentAt: at,
      receivedAt: at,
    });
  };
  return {
    close: () => store.close(),
    async round(): Promise<number> {
      await send(opening);
      const start = performance.now();
      for (let n = 1; n <= MESSAGES; n += 1) await send(`heat ${n} at ${900 + n}`);
      return (performance.now() - start) / MESSAGES;
    },
  };
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
