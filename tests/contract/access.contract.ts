/** Who may come in, runs and forgetting: what every database must do. Run by one test file a database. */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { LogStore } from "../../src/logbook/index.js";
import type { Access } from "../../src/store/index.js";
import { atSecond, type Said, sampleMessage, sampleTurn } from "../store/sample-turns.js";

export interface AccessDatabase {
  readonly store: LogStore;
  readonly access: Access;
  /** What is left of a word anywhere in the tables. */
  holds(word: string): Promise<boolean>;
  /** Tries to remove the log's rows by hand. */
  removeEntries(): Promise<unknown>;
  dispose(): Promise<void>;
}

const hash = (letter: string): string => letter.repeat(64);
const HOUR = 3600;

export function accessContract(name: string, make: () => Promise<AccessDatabase>): void {
  describe(name, () => {
    let database: AccessDatabase;
    let access: Access;
    let store: LogStore;
    beforeEach(async () => {
      database = await make();
      ({ access, store } = database);
    });
    afterEach(() => database.dispose());

    describe("people", () => {
      it("have one owner, who may change and stays as a smith", async () => {
        expect(await access.people()).toEqual([]);
        await access.setOwner("7", atSecond(0));
        await access.setOwner("7", atSecond(1));
        await access.setOwner("9", atSecond(2));
        expect(await access.people()).toEqual([
          { id: "9", role: "owner", since: atSecond(2) },
          { id: "7", role: "smith", since: atSecond(0) },
        ]);
        expect(await access.person("7")).toMatchObject({ role: "smith" });
        expect(await access.person("8")).toBeUndefined();
        expect(await access.removePerson("9", atSecond(3))).toBe(false);
        expect(await access.removePerson("7", atSecond(3))).toBe(true);
        expect(await access.removePerson("7", atSecond(3))).toBe(false);
      });

      it("come in by a link once, in its time, with their name", async () => {
        const invite = { codeHash: hash("a"), role: "smith", by: "9", at: atSecond(0) } as const;
        await access.createInvite({ ...invite, expiresAt: atSecond(HOUR) });
        expect(await access.useInvite(hash("b"), { id: "8" }, atSecond(1))).toBeUndefined();
        expect(await access.useInvite(hash("a"), { id: "8" }, atSecond(HOUR))).toBeUndefined();
        const uses = await Promise.all(
          ["8", "10", "11"].map((id) =>
            access.useInvite(hash("a"), { id, name: `Wenna ${id}` }, atSecond(2)),
          ),
        );
        expect(uses.filter((role) => role === "smith")).toHaveLength(1);
        const [only, ...others] = await access.people();
        expect(others).toEqual([]);
        expect(only?.name).toBe(`Wenna ${only?.id}`);
      });

      it("are owned by the first who pairs; a new pairing link makes the last one void", async () => {
        const pairing = (letter: string) =>
          access.createInvite({
            codeHash: hash(letter),
            role: "owner",
            at: atSecond(0),
            expiresAt: atSecond(HOUR),
          });
        await pairing("a");
        await pairing("b");
        expect(await access.useInvite(hash("a"), { id: "7" }, atSecond(1))).toBeUndefined();
        expect(await access.useInvite(hash("b"), { id: "7" }, atSecond(1))).toBe("owner");
        await pairing("c");
        expect(await access.useInvite(hash("c"), { id: "8" }, atSecond(2))).toBeUndefined();
        expect(await access.people()).toHaveLength(1);
      });
    });

    it("groups are let in and out, strangers counted, moved chats known by their first id", async () => {
      expect(await access.groupIsIn("-5")).toBe(false);
      await access.letGroupIn("-5", "9", atSecond(0));
      await access.letGroupIn("-5", "9", atSecond(1));
      expect(await access.groupIsIn("-5")).toBe(true);
      await access.letGroupOut("-5", atSecond(2));
      expect(await access.groupIsIn("-5")).toBe(false);
      await Promise.all([1, 2, 3].map(() => access.countStranger("2026-03-02")));
      expect(await access.strangers("2026-03-02")).toBe(3);
      expect(await access.strangers("2026-03-03")).toBe(0);
      await access.chatMoved("-5", "-100", atSecond(3));
      await access.chatMoved("-6", "-100", atSecond(4));
      expect(await access.movedChats()).toEqual([{ from: "-5", to: "-100" }]);
    });

    it("voice notes are kept only while the owner says so", async () => {
      expect(await access.keepsVoice()).toBe(false);
      await access.keepVoice(true, atSecond(0));
      expect(await access.keepsVoice()).toBe(true);
      await access.keepVoice(false, atSecond(1));
      expect(await access.keepsVoice()).toBe(false);
    });

    it("edits and replies are found, with the chat or without, and never in another", async () => {
      await store.receive(sampleMessage({ id: "a" }));
      await store.commit(sampleTurn({ id: "a" }, []));
      const edit = {
        ...sampleMessage({ id: "b" }),
        kind: "edit" as const,
        edits: "terminal:anvil:a",
      };
      await store.receive(edit);
      for (const chat of [undefined, "anvil"]) {
        expect(await access.editsOf("terminal:anvil:a", chat)).toEqual(["terminal:anvil:b"]);
        expect(await access.findReply("r-a", chat)).toEqual({
          chatId: "anvil",
          smithId: "odo",
          codes: ["h"],
        });
      }
      expect(await access.findReply("r-none", "anvil")).toBeUndefined();
    });

    it("a run knows how the one before it ended, and how many ended badly of late", async () => {
      expect(await access.beginRun("r1", atSecond(0))).toBeUndefined();
      await access.beat("r1", atSecond(60));
      expect(await access.beginRun("r2", atSecond(100))).toEqual({
        startedAt: atSecond(0),
        beatAt: atSecond(60),
        endedWell: false,
        badLately: 1,
      });
      await access.endRun("r2", atSecond(200));
      expect(await access.beginRun("r3", atSecond(HOUR + 50))).toEqual({
        startedAt: atSecond(100),
        beatAt: atSecond(200),
        endedWell: true,
        badLately: 0,
      });
    });

    describe("forgetting", () => {
      const secret = "the-recipe-of-my-grandfather";
      const say = async (id: string, smithId: string, said: readonly Said[], text = id) => {
        await store.receive({
          ...sampleMessage({ id, smithId, text }),
          smithName: `Name ${smithId}`,
        });
        await store.commit(sampleTurn({ id, smithId }, said));
      };
      const ingot: Said = { fact: { kind: "ingot", name: "Finch" }, ingotId: "self" };
      const note: Said = { fact: { kind: "note", note: secret }, ingotId: "a-0" };
      const heat = (ingotId: string): Said => ({ fact: { kind: "heat", number: 1 }, ingotId });

      it("gives out everything of a person and nothing of another", async () => {
        await say("a", "odo", [ingot, note], secret);
        await say(
          "b",
          "wenna",
          [{ ...ingot, fact: { kind: "ingot", name: "Rook" } }],
          "other words",
        );
        const records = await access.recordsOf("odo");
        expect(Object.keys(records).toSorted()).toEqual(
          ["entry", "ingot", "ingot_name", "message", "note", "reply", "smith"].toSorted(),
        );
        expect(JSON.stringify(records)).toContain(secret);
        expect(JSON.stringify(records)).not.toMatch(/Name wenna|other words/);
        expect(await access.recordsOf("nobody")).toEqual({});
      });

      it("removes a person alone without a trace; another is untouched", async () => {
        await say("a", "odo", [ingot, note, heat("a-0")], secret);
        await say("b", "wenna", [{ fact: { kind: "ingot", name: "Rook" }, ingotId: "self" }]);
        const others = (await store.everything()).filter(({ smithId }) => smithId === "wenna");
        expect(await database.holds(secret)).toBe(true);
        // smith, message, reply; three entries, their three typed rows and the ingot's name.
        expect(await access.forget("odo")).toBe(10);
        expect(await store.everything()).toEqual(others);
        for (const word of [secret, "Name odo", "Finch"]) {
          expect(await database.holds(word), word).toBe(false);
        }
        expect(await access.recordsOf("odo")).toEqual({});
        await say("c", "wenna", [heat("b-0")]);
        expect(await store.everything()).toHaveLength(2);
      });

      it("keeps, without author and words, an ingot that others worked on", async () => {
        await say("a", "odo", [ingot, note], secret);
        await say("b", "wenna", [heat("a-0")]);
        const before = await store.ingotLog("anvil", "a-0");
        await access.forget("odo");
        const after = await store.ingotLog("anvil", "a-0");
        expect(after.map(({ id, smithId }) => [id, smithId])).toEqual([
          ["a-0", "somebody"],
          ["b-0", "wenna"],
        ]);
        expect(after[1]).toEqual(before.find(({ id }) => id === "b-0"));
        expect(await database.holds(secret)).toBe(false);
        expect(await database.holds("Name odo")).toBe(false);
      });

      it("leaves the log as hard to change as before", async () => {
        await say("a", "odo", [ingot]);
        await say("b", "wenna", [{ ...ingot, fact: { kind: "ingot", name: "Rook" } }]);
        await expect(database.removeEntries()).rejects.toThrow(/not removed/);
        await access.forget("odo");
        await expect(database.removeEntries()).rejects.toThrow(/not removed/);
      });
    });
  });
}
