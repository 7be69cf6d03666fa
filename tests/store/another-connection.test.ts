/** What the store keeps in memory follows what another connection to the same file does. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import type { LogStore } from "../../src/logbook/index.js";
import { openSqliteAccess, openSqliteStore } from "../../src/store/index.js";
import { atSecond, sampleMessage, sampleTurn } from "./sample-turns.js";

let folder: string;
let file: string;
let store: LogStore;
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "hearth-two-"));
  file = join(folder, "log.sqlite");
  store = await openSqliteStore({ file, now: () => atSecond(0) });
});
afterEach(async () => {
  await store.close();
  rmSync(folder, { recursive: true, force: true });
});

async function opens(id: string, smithId: string, name: string): Promise<void> {
  const sample = { id, smithId };
  await store.receive(sampleMessage(sample));
  await store.commit(sampleTurn(sample, [{ fact: { kind: "ingot", name }, ingotId: "self" }]));
}
const names = async (from: LogStore) =>
  (await from.view("anvil", "odo", atSecond(0))).ingots.map(({ name }) => name);

it("a person who is forgotten is gone from the open store, and seqs given again are read anew", async () => {
  await opens("a", "odo", "Finch");
  await opens("b", "wenna", "Rook");
  expect(await names(store)).toEqual(["Rook", "Finch"]);
  expect(await store.ingotLog("anvil", "b-0")).toHaveLength(1);
  const access = openSqliteAccess({ file });
  await access.forget("wenna");
  await access.close();
  expect(await names(store)).toEqual(["Finch"]);
  expect(await store.ingotLog("anvil", "b-0")).toEqual([]);
  await opens("c", "odo", "Wren");
  const [row] = await store.ingotLog("anvil", "c-0");
  expect(row).toMatchObject({ id: "c-0", seq: 2, fact: { kind: "ingot", name: "Wren" } });
});

it("a reader sees what the writer adds", async () => {
  await opens("a", "odo", "Finch");
  const reader = await openSqliteStore({ file, now: () => atSecond(0), readonly: true });
  expect(await names(reader)).toEqual(["Finch"]);
  await opens("b", "odo", "Rook");
  expect(await names(reader)).toEqual(["Rook", "Finch"]);
  await reader.close();
});
