/** The views answer as one would by hand from the rows; every figure here was worked out on paper. */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Fact, LogStore } from "../../src/logbook/index.js";
import { type Said, sampleMessage, sampleTurn } from "../store/sample-turns.js";

/** A fresh log, and a way to ask its database. */
export interface ViewedLog {
  readonly store: LogStore;
  rows(sql: string): Promise<readonly unknown[]>;
  dispose(): Promise<void>;
}

export function viewsContract(name: string, make: () => Promise<ViewedLog>): void {
  describe(name, () => {
    let log: ViewedLog;
    let store: LogStore;
    let second = 0;
    beforeEach(async () => {
      log = await make();
      store = log.store;
      second = 0;
    });
    afterEach(() => log.dispose());
    const rows = (sql: string) => log.rows(sql);

    /** One message; its facts belong to the ingot opened by message `ingot`, or open one. */
    async function say(id: string, ingot: string, ...facts: readonly Fact[]): Promise<void> {
      second += 60;
      const said = facts.map(
        (fact): Said => ({ fact, ingotId: ingot === id ? "self" : `${ingot}-0` }),
      );
      await store.receive(sampleMessage({ id, second, text: id }));
      await store.commit(sampleTurn({ id, second }, said));
    }
    async function takeBack(id: string, entryId: string): Promise<void> {
      await store.receive(sampleMessage({ id, second, text: id }));
      const [undo] = sampleTurn({ id, second }, [{ fact: { kind: "note", note: "x" } }]).entries;
      const { fact: _fact, ...row } = undo ?? ({} as never);
      await store.commit(
        sampleTurn({ id, second }, [], {
          entries: [{ ...row, kind: "undo" }],
          takeBacks: [{ entryId, by: `${id}-0` }],
        }),
      );
    }

    describe("loss_per_heat", () => {
      it("divides what is gone between two weighings, less what was taken off, by the heats between", async () => {
        await say("finch", "finch", { kind: "ingot", name: "Finch", massG: 800 });
        await say("h1", "finch", { kind: "heat" });
        await say("h2", "finch", { kind: "heat" });
        await say("ground", "finch", { kind: "removal", method: "grind", massG: 20 });
        await say("w1", "finch", { kind: "size", massG: 764 });
        await say("h3", "finch", { kind: "heat" });
        await say("w2", "finch", { kind: "size", thicknessMm: 20 });
        await say("done", "finch", { kind: "finish", massG: 755 });
        const found = await rows(
          "SELECT ingot, from_g, to_g, removed_g, lost_g, heats, lost_per_heat_g, lost_per_heat_pct FROM loss_per_heat ORDER BY from_at",
        );
        expect(found).toEqual([
          // 800 − 764 − 20 = 16 g in two heats: 8 g each, 1 % of 800 g.
          {
            ingot: "Finch",
            from_g: 800,
            to_g: 764,
            removed_g: 20,
            lost_g: 16,
            heats: 2,
            lost_per_heat_g: 8,
            lost_per_heat_pct: 1,
          },
          // 764 − 755 = 9 g in one heat.
          expect.objectContaining({ from_g: 764, to_g: 755, removed_g: 0, lost_g: 9, heats: 1 }),
        ]);
      });

      it("does not count what was taken back", async () => {
        await say("finch", "finch", { kind: "ingot", massG: 800 });
        await say("h1", "finch", { kind: "heat" });
        await say("h2", "finch", { kind: "heat" });
        await say("w0", "finch", { kind: "size", massG: 80 });
        await takeBack("oops", "h2-0");
        await takeBack("oops2", "w0-0");
        await say("w1", "finch", { kind: "size", massG: 792 });
        expect(await rows("SELECT ingot, lost_g, heats FROM loss_per_heat")).toEqual([
          { ingot: "1", lost_g: 8, heats: 1 },
        ]);
      });
    });

    describe("cracks_per_route and ingot_overview", () => {
      it("count by the route that stands", async () => {
        await say("finch", "finch", { kind: "ingot", name: "Finch", massG: 800 });
        await say("rook", "rook", { kind: "ingot", name: "Rook" });
        await say("wren", "wren", { kind: "ingot", name: "Wren" });
        await say("p1", "finch", { kind: "route", route: "face" });
        await say("p2", "finch", { kind: "route", route: "spine" });
        await say("p3", "rook", { kind: "route", route: "spine" });
        await say("c1", "finch", { kind: "crack", depthMm: 3 }, { kind: "crack", depthMm: 5 });
        await say("c2", "rook", { kind: "crack" }, { kind: "removal", massG: 12 });
        await say("c3", "wren", { kind: "crack", depthMm: 1 });
        await say("b", "finch", { kind: "finish", massG: 300 });
        await takeBack("oops", "c3-0");
        expect(await rows("SELECT * FROM cracks_per_route ORDER BY route")).toEqual([
          {
            chat_id: "anvil",
            route: "not said",
            ingots: 1,
            cracks: 0,
            cracks_per_ingot: 0,
            deepest_mm: null,
            finished: 0,
          },
          {
            chat_id: "anvil",
            route: "spine",
            ingots: 2,
            cracks: 3,
            cracks_per_ingot: 1.5,
            deepest_mm: 5,
            finished: 1,
          },
        ]);
        expect(
          await rows(
            "SELECT number, name, route, finished, first_mass_g, last_mass_g, cracks, removed_g FROM ingot_overview",
          ),
        ).toEqual([
          {
            number: 1,
            name: "Finch",
            route: "spine",
            finished: 1,
            first_mass_g: 800,
            last_mass_g: 300,
            cracks: 2,
            removed_g: null,
          },
          expect.objectContaining({ number: 2, name: "Rook", cracks: 1, removed_g: 12 }),
          expect.objectContaining({ number: 3, name: "Wren", cracks: 0, route: null }),
        ]);
      });
    });

    describe("the other views", () => {
      beforeEach(async () => {
        await say("finch", "finch", { kind: "ingot", name: "Finch" });
        await say("h1", "finch", { kind: "heat", operation: "draw", temperatureC: 900 });
        await say("c1", "finch", { kind: "crack" });
        await say("h2", "finch", { kind: "heat", operation: "draw", temperatureC: 960 });
        await say("h3", "finch", { kind: "heat" });
        await say("c2", "finch", { kind: "crack" }, { kind: "crack" });
      });

      it("heats_by_operation gives a crack to the heat before it", async () => {
        expect(
          await rows(
            "SELECT operation, heats, coldest_c, mean_c, hottest_c, cracks FROM heats_by_operation ORDER BY 1",
          ),
        ).toEqual([
          { operation: "draw", heats: 2, coldest_c: 900, mean_c: 930, hottest_c: 960, cracks: 1 },
          {
            operation: "not said",
            heats: 1,
            coldest_c: null,
            mean_c: null,
            hottest_c: null,
            cracks: 2,
          },
        ]);
      });

      it("standing and taken_back say it with the words", async () => {
        await takeBack("no, not that", "c1-0");
        expect(
          await rows("SELECT kind, words, taken_back_as, taken_back_with FROM taken_back"),
        ).toEqual([
          { kind: "crack", words: "c1", taken_back_as: "undo", taken_back_with: "no, not that" },
        ]);
        expect(
          await rows("SELECT kind, smith, ingot, words FROM standing WHERE kind = 'crack'"),
        ).toEqual(
          ["c2", "c2"].map((words) => ({ kind: "crack", smith: "Odo", ingot: "Finch", words })),
        );
      });

      it("melt_overview lists the charge in the order it was said", async () => {
        const charge = [
          { what: "scrap", massG: 650 },
          { what: "cast iron", massG: 150 },
        ];
        await say("melt", "finch", { kind: "melt", number: 4, charge });
        const [melt] = await rows("SELECT number, charge FROM melt_overview");
        expect(melt).toEqual({ number: 4, charge: "scrap 650.0 g, cast iron 150.0 g" });
      });
    });
  });
}
