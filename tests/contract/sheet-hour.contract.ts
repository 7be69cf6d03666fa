/** What every store must do with the hour of the day sheet and with ingots that notes give up. */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { LogStore } from "../../src/logbook/index.js";
import { atSecond, type Said, sampleMessage, sampleTurn } from "../store/sample-turns.js";
import type { ContractDatabase } from "./log-store.contract.js";

export function sheetHourContract(name: string, make: () => Promise<ContractDatabase>): void {
  describe(`${name}: hours and ends`, () => {
    let database: ContractDatabase;
    let store: LogStore;
    beforeEach(async () => {
      database = await make();
      store = await database.open();
    });
    afterEach(async () => {
      await store.close();
      await database.dispose();
    });

    async function set(id: string, sheetHour: number | "off", second = 0, chatId = "anvil") {
      const sample = { id, second, chatId };
      await store.receive(sampleMessage(sample));
      await store.commit(sampleTurn(sample, [], { sheetHour }));
    }
    async function log(id: string, said: readonly Said[], second = 0) {
      const sample = { id, second };
      await store.receive(sampleMessage(sample));
      await store.commit(sampleTurn(sample, said));
    }

    it("keeps one hour a chat, the last one said, with who and when", async () => {
      expect(await store.sheetHours()).toEqual([]);
      expect(await store.sheetHour("anvil")).toBeUndefined();
      await set("a", 1140);
      await set("b", 1200, 5);
      await set("c", 0, 6, "bench");
      const anvil = {
        chatId: "anvil",
        edge: "terminal",
        smithId: "odo",
        minute: 1200,
        at: atSecond(5),
      };
      expect(await store.sheetHour("anvil")).toEqual(anvil);
      expect(await store.sheetHours()).toEqual([
        anvil,
        { ...anvil, chatId: "bench", minute: 0, at: atSecond(6) },
      ]);
    });

    it("forgets it when it is turned off, but not the day that was seen to", async () => {
      await set("a", 1140);
      await store.sheetDone("anvil", "2026-03-02");
      await set("b", "off", 1);
      expect(await store.sheetHours()).toEqual([]);
      expect(await store.sheetHour("anvil")).toBeUndefined();
      await set("c", 1200, 2);
      expect(await store.sheetHour("anvil")).toMatchObject({ minute: 1200, doneOn: "2026-03-02" });
    });

    it("a day seen to stays seen to", async () => {
      await set("a", 1140);
      await store.sheetDone("anvil", "2026-03-02");
      await store.sheetDone("anvil", "2026-03-01");
      await store.sheetDone("bench", "2026-03-02");
      expect((await store.sheetHour("anvil"))?.doneOn).toBe("2026-03-02");
      await expect(store.sheetDone("anvil", "today")).rejects.toThrow(RangeError);
    });

    it("refuses an hour that is none, with all of its turn", async () => {
      await store.receive(sampleMessage({ id: "a" }));
      await expect(
        store.commit(sampleTurn({ id: "a" }, [], { sheetHour: 1440 })),
      ).rejects.toThrow();
      expect(await store.sheetHours()).toEqual([]);
      expect(await store.unsent(9)).toEqual([]);
    });

    it("survives a new start", async () => {
      await set("a", 1140);
      await store.sheetDone("anvil", "2026-03-02");
      const before = await store.sheetHours();
      await store.close();
      store = await database.open();
      expect(await store.sheetHours()).toEqual(before);
    });

    it("goes into a copy", async () => {
      const { copies } = database;
      if (copies === undefined) return;
      await set("a", 1140);
      await store.backup(copies.path());
      const copy = await copies.open(copies.path());
      expect(await copy.sheetHours()).toEqual(await store.sheetHours());
      await copy.close();
    });

    const ingot = (name: string): Said => ({ fact: { kind: "ingot", name }, ingotId: "self" });
    const note = (words: string, ingotId: string): Said => ({
      fact: { kind: "note", note: words },
      ingotId,
    });
    const finish = (ingotId: string): Said => ({ fact: { kind: "finish", massG: 200 }, ingotId });
    const open = async (): Promise<(string | boolean)[][]> =>
      (await store.view("anvil", "odo", atSecond(0))).ingots.map(({ name: called, finished }) => [
        called,
        finished,
      ]);
    const ended = async (limit = 9): Promise<string[]> =>
      (await store.finishedIngots("anvil", limit)).map(({ name: called }) => called);

    it("an ingot that a note gives up has ended; any other note changes nothing", async () => {
      await log("a", [ingot("Finch")]);
      await log("b", [ingot("Rook")], 1);
      await log("c", [note("scale was thin", "a-0")], 2);
      expect(await ended()).toEqual([]);
      await log("d", [note("Finch is lost, it tore through", "a-0")], 3);
      expect(await open()).toEqual([
        ["Rook", false],
        ["Finch", true],
      ]);
      expect(await store.findIngot("anvil", "finch")).toMatchObject({ finished: true });
      expect(await ended()).toEqual(["Finch"]);
    });

    it("stands open again when the note is taken back", async () => {
      await log("a", [ingot("Finch")]);
      await log("b", [note("lost this one", "a-0")], 1);
      expect(await open()).toEqual([["Finch", true]]);
      await store.receive(sampleMessage({ id: "c", second: 2 }));
      const turn = sampleTurn({ id: "c", second: 2 }, []);
      const undo = { ...sampleTurn({ id: "c", second: 2 }, [finish("a-0")]).entries[0] };
      delete (undo as { fact?: unknown }).fact;
      await store.commit({
        ...turn,
        entries: [{ ...undo, kind: "undo" } as never],
        takeBacks: [{ entryId: "b-0", by: "c-0" }],
      });
      expect(await open()).toEqual([["Finch", false]]);
      expect(await ended()).toEqual([]);
    });

    it("tells ends with and without a blade together, the latest first, each ingot once", async () => {
      await log("a", [ingot("Finch")]);
      await log("b", [ingot("Rook")]);
      await log("c", [ingot("Wren")]);
      await log("d", [finish("a-0")], 1);
      await log("e", [note("scrapped it", "b-0")], 2);
      await log("f", [note("yes, it is scrap", "b-0")], 3);
      await log("g", [finish("c-0")], 4);
      await log("h", [note("lost this one", "c-0")], 5);
      expect(await ended()).toEqual(["Wren", "Rook", "Finch"]);
      expect(await ended(2)).toEqual(["Wren", "Rook"]);
    });
  });
}
