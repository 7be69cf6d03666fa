/** What every store of the log must do. Run by one test file a database. */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import {
  type Entry,
  FACT_KINDS,
  type Fact,
  type FactKind,
  type LogStore,
  type StoredAsk,
} from "../../src/logbook/index.js";
import {
  atSecond,
  heatAndSize,
  type Said,
  type Sample,
  sampleMessage,
  sampleTurn,
} from "../store/sample-turns.js";

/** A database that outlives the store opened on it. */
export interface ContractDatabase {
  open(): Promise<LogStore>;
  /** A file that is not there yet, for a copy; and how to open a copy. Absent: this database refuses to be copied. */
  readonly copies?: {
    path(): string;
    open(path: string): Promise<LogStore>;
  };
  dispose(): Promise<void>;
}

/** Every field of every kind, with the unit exact in binary where it can be. */
export const FULL_FACTS: { readonly [K in FactKind]: Required<Extract<Fact, { kind: K }>> } = {
  melt: {
    kind: "melt",
    at: "2026-03-02T07:30:00+01:00",
    approx: true,
    number: 12,
    massG: 900.5,
    charge: [
      { what: "bloom iron", massG: 700.25, carbonPct: 0.1 },
      { what: "cast iron", massG: 200.25, carbonPct: 4.2 },
      { what: "leaves" },
    ],
    temperatureC: 1520,
    durationMin: 42.5,
    cooling: "in the furnace, lid on",
    carbonPct: 1.45,
    ingotG: 880,
  },
  ingot: {
    kind: "ingot",
    at: "2026-03-02T07:30:00Z",
    approx: false,
    name: "Lärche 3",
    shape: "cone",
    diameterMm: 64.5,
    bottomDiameterMm: 40,
    heightMm: 31.25,
    massG: 780,
    carbonPct: 0,
    pipeDepthMm: 9,
    pipeDiameterMm: 6.5,
    melt: 12,
  },
  goal: {
    kind: "goal",
    at: "2026-03-02T07:30:00Z",
    approx: true,
    edge: "double",
    lengthMm: 210,
    widthMm: 32,
    thicknessMm: 4.5,
    tangLengthMm: 90,
    count: 2,
  },
  route: { kind: "route", at: "2026-03-02T07:30:00Z", approx: false, route: "ring", split: true },
  heat: {
    kind: "heat",
    at: "2026-03-02T07:30:00Z",
    approx: true,
    number: 4,
    temperatureC: -50,
    colour: "bright cherry",
    durationMin: 6.5,
    operation: "normalise",
  },
  size: {
    kind: "size",
    at: "2026-03-02T07:30:00Z",
    approx: true,
    shape: "ring",
    thicknessMm: 22.2,
    widthMm: 36,
    lengthMm: 180,
    diameterMm: 70,
    heightMm: 18,
    massG: 741.5,
  },
  crack: {
    kind: "crack",
    at: "2026-03-02T07:30:00Z",
    approx: true,
    place: "tang",
    depthMm: 0.4,
    lengthMm: 11,
    positionMm: 0,
    severity: "hairline",
  },
  removal: {
    kind: "removal",
    at: "2026-03-02T07:30:00Z",
    approx: true,
    method: "chisel",
    massG: 14,
    lengthMm: 25,
    depthMm: 3,
    diameterMm: 12,
    place: "rim",
  },
  finish: {
    kind: "finish",
    at: "2026-03-02T07:30:00Z",
    approx: true,
    lengthMm: 152,
    widthMm: 28,
    thicknessMm: 3.5,
    massG: 140,
    tangLengthMm: 80,
  },
  note: {
    kind: "note",
    at: "2026-03-02T07:30:00Z",
    approx: true,
    note: "it's \"odd\": <b>½</b> 🔨 \u0000 'x'; DROP TABLE note; --\nsecond line",
  },
  switch: { kind: "switch", at: "2026-03-02T07:30:00Z", approx: true, ingot: "Rook" },
  setting: {
    kind: "setting",
    at: "2026-03-02T07:30:00Z",
    approx: true,
    units: "inch",
    temperatureUnits: "f",
    pressKn: 196.1,
    hammerKg: 40,
    handHammer: false,
    welder: true,
    timezone: "Europe/Ljubljana",
    spokenReplies: false,
  },
};

const ingot = (name: string): Said => ({ fact: { kind: "ingot", name }, ingotId: "self" });
const heat = (number: number, ingotId: string, more: Partial<Said> = {}): Said => ({
  fact: { kind: "heat", number },
  ingotId,
  ...more,
});
const ids = (entries: readonly Entry[]): readonly string[] => entries.map(({ id }) => id);
const DAY_START = atSecond(-3600);

export function logStoreContract(name: string, make: () => Promise<ContractDatabase>): void {
  describe(name, () => {
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

    /** Receives and commits in one go. */
    async function log(
      sample: Sample,
      said: readonly Said[],
      more: Parameters<typeof sampleTurn>[2] = {},
    ): Promise<void> {
      await store.receive(sampleMessage(sample));
      await store.commit(sampleTurn(sample, said, more));
    }
    const view = (smithId = "odo", chatId = "anvil") => store.view(chatId, smithId, DAY_START);
    const takingBack = (sample: Sample, entryIds: readonly string[]) => {
      const { id, chatId = "anvil", smithId = "odo", second = 0 } = sample;
      const by = `${id}-undo`;
      const at = atSecond(second);
      return log(sample, [], {
        entries: [
          {
            id: by,
            chatId,
            smithId,
            messageId: `m-${id}`,
            kind: "undo",
            at,
            arrived: at,
            implied: [],
            confidence: 1,
          },
        ],
        takeBacks: entryIds.map((entryId) => ({ entryId, by })),
      });
    };

    describe("receiving", () => {
      it("stores a message once, whatever it is called the second time", async () => {
        const first = sampleMessage({ id: "a" });
        expect(await store.receive(first)).toBe("new");
        expect(await store.receive({ ...first, id: "other", text: "changed" })).toBe("again");
        expect(await store.unhandled()).toEqual([first]);
      });

      it("knows a message that was answered", async () => {
        await log({ id: "a" }, [ingot("Finch")]);
        expect(await store.receive({ ...sampleMessage({ id: "a" }), id: "b" })).toBe("handled");
        expect(await store.unhandled()).toEqual([]);
      });

      it("lets one of many racing deliveries win", async () => {
        const results = await Promise.all(
          Array.from({ length: 20 }, (_, n) =>
            store.receive({ ...sampleMessage({ id: "a" }), id: `m${n}` }),
          ),
        );
        expect(results.filter((result) => result === "new")).toHaveLength(1);
        expect(results.filter((result) => result === "again")).toHaveLength(19);
      });

      it("gives back every field of a message, oldest first", async () => {
        const voice = {
          ...sampleMessage({ id: "a", second: 9 }),
          kind: "voice" as const,
          heardConfidence: 0.75,
          text: "",
        };
        const edit = {
          ...sampleMessage({ id: "b", second: 2 }),
          kind: "edit" as const,
          edits: "terminal:anvil:z",
        };
        await store.receive(voice);
        await store.receive(edit);
        expect(await store.unhandled()).toEqual([voice, edit]);
      });

      it("keeps the latest name of a smith, and the chats", async () => {
        await store.receive(sampleMessage({ id: "a" }));
        await store.receive({ ...sampleMessage({ id: "b" }), smithName: "Odo the elder" });
        const { smithName: _none, ...nameless } = sampleMessage({ id: "c" });
        await store.receive(nameless);
        const names = (await store.unhandled()).map(({ smithName }) => smithName);
        expect(new Set(names)).toEqual(new Set(["Odo the elder"]));
        expect(await store.chats()).toEqual([{ chatId: "anvil", edge: "terminal" }]);
      });
    });

    describe("committing", () => {
      it("writes a turn once: the second time changes nothing", async () => {
        await log({ id: "a" }, [ingot("Finch"), heat(1, "a-0")]);
        const before = await store.everything();
        await store.commit(sampleTurn({ id: "a" }, [ingot("Rook")]));
        await Promise.all([1, 2, 3].map(() => store.commit(sampleTurn({ id: "a" }, []))));
        expect(await store.everything()).toEqual(before);
        expect(await store.unsent(10)).toHaveLength(1);
        expect((await view()).messages).toBe(1);
      });

      it("writes all of a turn or nothing", async () => {
        await log({ id: "a" }, [ingot("Finch")]);
        await store.receive(sampleMessage({ id: "b" }));
        const before = await store.everything();
        const turn = sampleTurn({ id: "b" }, [ingot("Rook"), heat(1, "b-0")]);
        const clash = turn.replies.map((reply) => ({ ...reply, id: "r-a" }));
        await expect(store.commit({ ...turn, replies: clash })).rejects.toThrow();
        expect(await store.everything()).toEqual(before);
        expect((await view()).ingots.map(({ name }) => name)).toEqual(["Finch"]);
        expect((await store.unhandled()).map(({ id }) => id)).toEqual(["m-b"]);
        await store.commit(turn);
        expect(await store.everything()).toHaveLength(3);
      });

      it("takes what no table can hold as our own mistake, and goes on", async () => {
        await store.receive(sampleMessage({ id: "a" }));
        const cold: Said = { fact: { kind: "heat", temperatureC: -300 } };
        await expect(store.commit(sampleTurn({ id: "a" }, [cold]))).rejects.toThrow(RangeError);
        const [entry] = sampleTurn({ id: "a" }, [ingot("Finch")]).entries;
        const others = [
          { ...entry, confidence: 1.5 },
          { ...entry, ingotId: "none" },
          { ...entry, kind: "heat" },
          { ...entry, messageId: "m-b" },
          { ...entry, at: "yesterday" },
        ] as unknown as Entry[];
        for (const other of others) {
          const turn = sampleTurn({ id: "a" }, [], { entries: [other] });
          await expect(store.commit(turn)).rejects.toThrow(RangeError);
        }
        await store.commit(sampleTurn({ id: "a" }, [ingot("Finch")]));
        expect(await store.everything()).toHaveLength(1);
      });

      it("refuses a turn of a message that never came, or of another chat or smith", async () => {
        await store.receive(sampleMessage({ id: "a" }));
        for (const other of [
          sampleTurn({ id: "none" }, []),
          sampleTurn({ id: "a", chatId: "other" }, []),
          sampleTurn({ id: "a", smithId: "wenna" }, []),
        ]) {
          await expect(store.commit(other)).rejects.toMatchObject({ code: "unknown-message" });
        }
      });

      it("keeps every field of every kind", async () => {
        const opening: Said = { fact: FULL_FACTS.ingot, ingotId: "self" };
        const rest = FACT_KINDS.filter((kind) => kind !== "ingot");
        await log({ id: "a" }, [
          opening,
          ...rest.map((kind): Said => ({ fact: FULL_FACTS[kind], ingotId: "a-0" })),
        ]);
        await store.close();
        store = await database.open();
        const read = await store.ingotLog("anvil", "a-0");
        expect(read.map(({ fact }) => fact)).toEqual([
          FULL_FACTS.ingot,
          ...rest.map((kind) => FULL_FACTS[kind]),
        ]);
      });

      it("keeps kinds that say nothing but themselves", async () => {
        const bare = FACT_KINDS.filter((kind) => kind !== "note" && kind !== "switch");
        await log(
          { id: "a" },
          bare.map((kind) => ({ fact: { kind } as Fact })),
        );
        const read = await store.entriesOfMessage("terminal:anvil:a");
        expect(read.map(({ fact }) => fact)).toEqual(bare.map((kind) => ({ kind })));
      });

      it("keeps the header: implied fields, confidence, times in UTC", async () => {
        const turn = sampleTurn({ id: "a" }, [ingot("Finch")]);
        await store.receive(sampleMessage({ id: "a" }));
        await store.commit({
          ...turn,
          entries: turn.entries.map((entry) => ({
            ...entry,
            implied: ["shape", "massG"],
            confidence: 0.625,
            at: "2026-03-02T09:15:00+01:00",
          })),
        });
        expect(await store.entriesById("anvil", ["a-0"])).toEqual([
          {
            id: "a-0",
            seq: 1,
            place: 1,
            chatId: "anvil",
            smithId: "odo",
            messageId: "m-a",
            ingotId: "a-0",
            kind: "ingot",
            at: "2026-03-02T08:15:00.000Z",
            arrived: atSecond(0),
            implied: ["shape", "massG"],
            confidence: 0.625,
            fact: { kind: "ingot", name: "Finch" },
          },
        ]);
      });
    });

    describe("order", () => {
      it("is when it happened, then arrival", async () => {
        await log({ id: "a" }, [ingot("Finch")]);
        await log({ id: "b", second: 60 }, [heat(3, "a-0")]);
        await log({ id: "c", second: 90 }, [
          heat(1, "a-0", { at: atSecond(20) }),
          heat(2, "a-0", { at: atSecond(40) }),
          heat(4, "a-0", { at: atSecond(60) }),
        ]);
        const order = ids(await store.ingotLog("anvil", "a-0"));
        expect(order).toEqual(["a-0", "c-0", "c-1", "b-0", "c-2"]);
      });

      it("gives a replacement the place of the row it replaces, and of what that replaced", async () => {
        await log({ id: "a" }, [ingot("Finch"), heat(1, "a-0"), heat(2, "a-0")]);
        await log({ id: "b", second: 60 }, [heat(7, "a-0", { at: atSecond(0), replaces: "a-1" })], {
          takeBacks: [{ entryId: "a-1", by: "b-0" }],
        });
        await log({ id: "c", second: 61 }, [heat(8, "a-0", { at: atSecond(0), replaces: "b-0" })], {
          takeBacks: [{ entryId: "b-0", by: "c-0" }],
        });
        const rows = await store.ingotLog("anvil", "a-0");
        const standing = rows.filter(({ takenBackBy }) => takenBackBy === undefined);
        expect(ids(standing)).toEqual(["a-0", "c-0", "a-2"]);
        expect(rows.find(({ id }) => id === "c-0")).toMatchObject({ place: 2, replaces: "b-0" });
        expect(rows.find(({ id }) => id === "a-1")).toMatchObject({ takenBackBy: "b-0" });
      });
    });

    describe("taking back", () => {
      it("marks rows and keeps them", async () => {
        await log({ id: "a" }, [ingot("Finch"), heat(1, "a-0")]);
        await takingBack({ id: "b" }, ["a-1"]);
        const rows = await store.everything();
        expect(rows.map(({ id, takenBackBy }) => [id, takenBackBy])).toEqual([
          ["a-0", undefined],
          ["a-1", "b-undo"],
          ["b-undo", undefined],
        ]);
        expect(rows[2]?.fact).toBeUndefined();
      });

      it("happens once: the second is told that it came too late, and writes nothing", async () => {
        await log({ id: "a" }, [ingot("Finch"), heat(1, "a-0")]);
        await takingBack({ id: "b" }, ["a-1"]);
        const late = takingBack({ id: "c" }, ["a-1"]);
        await expect(late).rejects.toMatchObject({ code: "stale" });
        expect(await store.everything()).toHaveLength(3);
        expect((await store.unhandled()).map(({ id }) => id)).toEqual(["m-c"]);
      });

      it("brings up older messages, turn by turn", async () => {
        await log({ id: "a" }, [ingot("Finch"), heat(1, "a-0")]);
        await log({ id: "b" }, [heat(2, "a-0")]);
        await takingBack({ id: "c" }, ["b-0"]);
        const turns = (await view()).lastTurns;
        expect(turns.map(({ messageId, entries }) => [messageId, ids(entries)])).toEqual([
          ["m-a", ["a-0", "a-1"]],
        ]);
      });
    });

    describe("other chats", () => {
      beforeEach(async () => {
        await log({ id: "a" }, [ingot("Finch"), heat(1, "a-0")]);
      });

      it("do not reach an ingot, a row or a question by its id", async () => {
        expect(await store.ingotLog("other", "a-0")).toEqual([]);
        expect(await store.entriesById("other", ["a-0", "a-1"])).toEqual([]);
        expect(await store.findIngot("other", "Finch")).toBeUndefined();
        expect(await store.day("other", DAY_START, atSecond(9999))).toEqual([]);
        expect((await view("odo", "other")).ingots).toEqual([]);
      });

      it("cannot write to it, take it back or stand in its place", async () => {
        const sample = { id: "x", chatId: "other" };
        await store.receive(sampleMessage(sample));
        await expect(store.commit(sampleTurn(sample, [heat(9, "a-0")]))).rejects.toThrow();
        await expect(
          store.commit(sampleTurn(sample, [{ fact: { kind: "heat" }, replaces: "a-1" }])),
        ).rejects.toThrow();
        const taking = sampleTurn(sample, [ingot("Rook")], {
          takeBacks: [{ entryId: "a-1", by: "x-0" }],
        });
        await expect(store.commit(taking)).rejects.toMatchObject({ code: "stale" });
        expect(await store.everything()).toHaveLength(2);
      });
    });

    describe("view", () => {
      it("of a chat that nobody wrote in is empty", async () => {
        expect(await view()).toEqual({
          messages: 0,
          settings: [],
          ingotsOpened: 0,
          ingots: [],
          lastTurns: [],
          safetyShown: [],
          entriesSince: 0,
        });
      });

      it("follows the ingot in hand: opened, switched, taken back, each smith their own", async () => {
        await log({ id: "a" }, [ingot("Finch")]);
        await log({ id: "b" }, [ingot("Rook")]);
        await log({ id: "w", smithId: "wenna" }, [ingot("Wren")]);
        expect(await view()).toMatchObject({ inHand: "b-0", previousInHand: "a-0" });
        const told = { fact: { kind: "ingot", massG: 700 }, ingotId: "b-0" } as const;
        await log({ id: "c" }, [{ fact: { kind: "switch", ingot: "Finch" }, ingotId: "a-0" }]);
        await log({ id: "d" }, [told]);
        expect(await view()).toMatchObject({ inHand: "a-0", previousInHand: "b-0" });
        await takingBack({ id: "e" }, ["c-0"]);
        expect(await view()).toMatchObject({ inHand: "b-0", previousInHand: "a-0" });
        await takingBack({ id: "f" }, ["b-0", "d-0"]);
        expect((await view()).inHand).toBe("a-0");
        expect((await view("wenna")).inHand).toBe("w-0");
      });

      it("keeps an ingot whose opening words were put right", async () => {
        await log({ id: "a" }, [ingot("Finch"), heat(1, "a-0")]);
        await log({ id: "b" }, [ingot("Rook")]);
        const right: Said = {
          fact: { kind: "ingot", name: "Fink" },
          ingotId: "a-0",
          replaces: "a-0",
        };
        await log({ id: "c" }, [right], { takeBacks: [{ entryId: "a-0", by: "c-0" }] });
        const { inHand, ingots } = await view();
        expect(inHand).toBe("b-0");
        expect(ingots.map(({ name }) => name)).toEqual(["Rook", "Fink"]);
        expect(await store.findIngot("anvil", "Finch")).toBeUndefined();
        expect((await store.findIngot("anvil", "FINK"))?.ingotId).toBe("a-0");
      });

      it("shows the latest row of each setting, in order", async () => {
        const setting = (fact: Omit<Extract<Fact, { kind: "setting" }>, "kind">): Said => ({
          fact: { kind: "setting", ...fact },
        });
        await log({ id: "a", second: 1 }, [setting({ pressKn: 200, welder: true })]);
        for (let n = 2; n < 40; n += 1) {
          await log({ id: `s${n}`, second: n }, [setting({ units: n % 2 ? "mm" : "inch" })]);
        }
        const { settings } = await view("wenna");
        expect(settings.map(({ fact }) => fact)).toEqual([
          { kind: "setting", pressKn: 200, welder: true },
          { kind: "setting", units: "mm" },
        ]);
      });

      it("follows names, blades and what is taken back from one turn to the next", async () => {
        const shown = async () =>
          (await view()).ingots.map(({ name: said, finished }) => `${said} ${finished}`);
        await log({ id: "a" }, [ingot("Finch")]);
        expect(await shown()).toEqual(["Finch false"]);
        await log({ id: "b" }, [ingot("Rook")]);
        expect(await shown()).toEqual(["Rook false", "Finch false"]);
        await log({ id: "c" }, [{ fact: { kind: "finish" }, ingotId: "a-0" }]);
        expect(await shown()).toEqual(["Rook false", "Finch true"]);
        await takingBack({ id: "d" }, ["c-0", "b-0"]);
        expect(await shown()).toEqual(["Finch false"]);
        await log({ id: "e" }, [{ fact: { kind: "ingot", name: "Fink" }, ingotId: "a-0" }]);
        expect(await shown()).toEqual(["Fink false"]);
        await Promise.all([log({ id: "f" }, [ingot("Wren")]), view()]);
        expect(await shown()).toEqual(["Wren false", "Fink false"]);
      });

      it("is bounded however much was said", async () => {
        for (let n = 0; n < 60; n += 1) {
          await log({ id: `i${n}`, second: n }, [ingot(`Bird ${n}`), heat(1, `i${n}-0`)]);
        }
        const { ingots, lastTurns, messages, ingotsOpened, entriesSince } = await view();
        expect(ingots).toHaveLength(20);
        expect(ingots[0]?.name).toBe("Bird 59");
        expect(lastTurns).toHaveLength(10);
        expect(lastTurns[0]?.messageId).toBe("m-i59");
        expect({ messages, ingotsOpened, entriesSince }).toEqual({
          messages: 60,
          ingotsOpened: 60,
          entriesSince: 60,
        });
      });

      it("counts today's heats and the safety lines shown today", async () => {
        const day = 86_400;
        const reply = (id: string, safety: readonly string[]) => ({
          replies: [{ id, body: { lines: [], buttons: [] }, safety }],
        });
        await log({ id: "a" }, [ingot("Finch"), heat(1, "a-0")], reply("ra", ["first-heat"]));
        await log({ id: "b", second: day }, [heat(2, "a-0")], reply("rb", ["crack", "grinding"]));
        await log({ id: "c", second: day + 1 }, [heat(3, "a-0")], reply("rc", ["crack"]));
        await takingBack({ id: "d", second: day + 2 }, ["c-0"]);
        const today = await store.view("anvil", "odo", atSecond(day - 60));
        expect([...today.safetyShown].sort()).toEqual(["crack", "grinding"]);
        expect(today.entriesSince).toBe(1);
        // The same moment, said with another offset.
        const local = new Date(Date.parse(atSecond(day - 60)) + 3_600_000).toISOString();
        const offset = local.replace("Z", "+01:00");
        expect(await store.view("anvil", "odo", offset)).toEqual(today);
      });
    });

    describe("ingots by name", () => {
      it("are found whatever the letter case; the open one before the finished", async () => {
        await log({ id: "a" }, [ingot("Lärche")]);
        await log({ id: "b" }, [ingot("LÄRCHE"), { fact: { kind: "finish" }, ingotId: "b-0" }]);
        expect(await store.findIngot("anvil", " lärche")).toEqual({
          ingotId: "a-0",
          name: "Lärche",
          finished: false,
          openedAt: atSecond(0),
        });
        expect(await store.findIngot("anvil", "larch")).toBeUndefined();
      });

      it("are numbered; a number said is not given again", async () => {
        await log({ id: "a" }, [{ fact: { kind: "ingot" }, ingotId: "self" }]);
        await log({ id: "b" }, [ingot("7")]);
        expect((await view()).ingotsOpened).toBe(7);
        await log({ id: "c" }, [ingot("Finch")]);
        expect((await store.findIngot("anvil", "8"))?.name).toBe("Finch");
        expect((await store.findIngot("anvil", "1"))?.ingotId).toBe("a-0");
        expect((await view("odo", "other")).ingotsOpened).toBe(0);
      });

      it("are listed as finished by the blade's time, once each, until it is taken back", async () => {
        const blade = (ingotId: string): Said => ({ fact: { kind: "finish" }, ingotId });
        await log({ id: "a" }, [ingot("Finch"), ingot("Rook"), ingot("Wren")]);
        await log({ id: "b", second: 10 }, [blade("a-1")]);
        await log({ id: "c", second: 20 }, [blade("a-0")]);
        await log({ id: "d", second: 30 }, [blade("a-1")]);
        const names = async () =>
          (await store.finishedIngots("anvil", 10)).map(({ name: said }) => said);
        expect(await names()).toEqual(["Rook", "Finch"]);
        await takingBack({ id: "e" }, ["c-0"]);
        expect(await names()).toEqual(["Rook"]);
        expect((await view()).ingots.map(({ finished }) => finished)).toEqual([false, true, false]);
      });
    });

    describe("edits", () => {
      it("find all that a message said, before and after it was edited", async () => {
        await log({ id: "a" }, [ingot("Finch"), heat(1, "a-0")]);
        const sample = { id: "e1", second: 5 };
        await store.receive({
          ...sampleMessage(sample),
          kind: "edit",
          edits: "terminal:anvil:a",
        });
        await store.commit(
          sampleTurn(sample, [heat(2, "a-0", { replaces: "a-1" })], {
            takeBacks: [{ entryId: "a-1", by: "e1-0" }],
          }),
        );
        await log({ id: "b", second: 6 }, [heat(3, "a-0")]);
        expect(ids(await store.entriesOfMessage("terminal:anvil:a"))).toEqual([
          "a-0",
          "a-1",
          "e1-0",
        ]);
        expect(await store.entriesOfMessage("terminal:anvil:none")).toEqual([]);
      });
    });

    describe("questions", () => {
      const ask: StoredAsk = {
        id: "q1",
        about: "which-dimension",
        choices: [
          {
            label: "22 thick",
            drafts: [{ body: { kind: "size", thicknessMm: 22 }, implied: [], confidence: 0.5 }],
          },
          { label: "neither", drafts: [] },
        ],
      };

      it("wait for an answer, and are answered once", async () => {
        await log({ id: "a" }, [], { ask });
        const open = { ...ask, messageId: "m-a", askedAt: atSecond(0), answered: false };
        expect((await view()).ask).toEqual(open);
        expect((await view("wenna")).ask).toBeUndefined();
        expect(await store.findAsk("other", "q1")).toBeUndefined();
        await log({ id: "b" }, [], { answers: "q1" });
        await log({ id: "c" }, [], { answers: "q1" });
        expect(await store.findAsk("anvil", "q1")).toEqual({ ...open, answered: true });
      });

      it("show the latest of a smith", async () => {
        await log({ id: "a" }, [], { ask });
        await log({ id: "b" }, [], { ask: { ...ask, id: "q2" } });
        expect((await view()).ask?.id).toBe("q2");
      });
    });

    describe("outbox", () => {
      beforeEach(async () => {
        await log({ id: "a" }, []);
        await log({ id: "b", chatId: "other" }, []);
        await log({ id: "c" }, []);
      });
      const waiting = async (chatId?: string) =>
        (await store.unsent(10, chatId)).map(({ id }) => id);

      it("holds replies oldest first, also of one chat, until they are sent", async () => {
        expect(await waiting()).toEqual(["r-a", "r-b", "r-c"]);
        expect(await waiting("anvil")).toEqual(["r-a", "r-c"]);
        expect((await store.unsent(1)).map(({ id }) => id)).toEqual(["r-a"]);
        await store.markSent("r-a", atSecond(3), "4711");
        await store.markSent("r-a", atSecond(4), "4712");
        expect(await waiting()).toEqual(["r-b", "r-c"]);
        await store.close();
        store = await database.open();
        expect(await waiting()).toEqual(["r-b", "r-c"]);
      });

      it("gives back what is to be sent", async () => {
        const [first] = await store.unsent(1);
        const [expected] = sampleTurn({ id: "a" }, []).replies;
        expect(first).toEqual({
          ...expected,
          chatId: "anvil",
          messageId: "m-a",
          sourceKey: "terminal:anvil:a",
          createdAt: atSecond(0),
          attempts: 0,
        });
      });

      it("keeps what failed, counts, and lets go for good when told", async () => {
        await store.markFailed("r-a", atSecond(3), "no network", false);
        expect((await store.unsent(1))[0]).toMatchObject({ id: "r-a", attempts: 1 });
        await store.markFailed("r-a", atSecond(4), "x".repeat(10_000), true);
        expect(await waiting("anvil")).toEqual(["r-c"]);
      });
    });

    describe("a day", () => {
      it("is what happened in it, taken back or not", async () => {
        await log({ id: "a" }, [ingot("Finch")]);
        await log({ id: "b", second: 100 }, [heat(1, "a-0"), heat(2, "a-0", { at: atSecond(50) })]);
        await takingBack({ id: "c", second: 200 }, ["b-0"]);
        const rows = await store.day("anvil", atSecond(50), atSecond(200));
        expect(ids(rows)).toEqual(["b-1", "b-0"]);
      });
    });

    describe("everything", () => {
      it("comes in order of arrival with the names", async () => {
        await log({ id: "a", second: 9 }, [ingot("Finch"), { fact: { kind: "note", note: "x" } }]);
        await log({ id: "b", smithId: "wenna" }, heatAndSize(1, "a-0"));
        const rows = await store.everything();
        expect(rows.map((row) => [row.id, row.ingotName, row.smithName])).toEqual([
          ["a-0", "Finch", "Odo"],
          ["a-1", undefined, "Odo"],
          ["b-0", "Finch", "Wenna"],
          ["b-1", "Finch", "Wenna"],
        ]);
      });
    });

    describe("closing and copying", () => {
      it("loses nothing when it is opened again", async () => {
        await log({ id: "a" }, [ingot("Finch"), ...heatAndSize(1, "a-0")]);
        const before = [await store.everything(), await view(), await store.unsent(9)];
        await store.close();
        store = await database.open();
        expect([await store.everything(), await view(), await store.unsent(9)]).toEqual(before);
      });

      it("copies the log as it is and never over a file, or says who does", async () => {
        const { copies } = database;
        if (copies === undefined) {
          await expect(store.backup("copy")).rejects.toMatchObject({
            code: "not-here",
            message: expect.stringMatching(/pg_dump/),
          });
          return;
        }
        await log({ id: "a" }, [ingot("Finch"), ...heatAndSize(1, "a-0")]);
        const path = copies.path();
        await store.backup(path);
        await expect(store.backup(path)).rejects.toMatchObject({ code: "exists" });
        const copy = await copies.open(path);
        expect(await copy.everything()).toEqual(await store.everything());
        await copy.close();
      });
    });
  });
}
