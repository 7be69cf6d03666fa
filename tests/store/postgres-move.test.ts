/** A whole log goes to a database server and comes back, and is the same. */
import { existsSync, mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createHandler } from "../../src/conversation/index.js";
import { FACT_KINDS, type Turn } from "../../src/logbook/index.js";
import { moveLog, openLog, openStore, StoreFailed } from "../../src/store/index.js";
import { KeptDatabase } from "../../src/store/kept-database.js";
import { movedTables } from "../../src/store/move/moved-table.js";
import { openForReading } from "../../src/store/open-database.js";
import { FULL_FACTS } from "../contract/log-store.contract.js";
import { type PostgresServer, startPostgres } from "./postgres-server.js";
import { atSecond, type Said, type Sample, sampleMessage, sampleTurn } from "./sample-turns.js";

const now = () => atSecond(0);
const folder = mkdtempSync(join(tmpdir(), "hearth-move-"));
const file = join(folder, "log.sqlite");
let server: PostgresServer;
beforeAll(async () => {
  server = await startPostgres();
  await writeShopLog();
});
afterAll(async () => {
  await server?.stop();
  rmSync(folder, { recursive: true, force: true });
});

/** A log with something in every table: two smiths in a group, one of them also alone. */
async function writeShopLog(): Promise<void> {
  const { store, access, close } = await openLog({ db: file, now });
  let second = 0;
  const say = async (
    id: string,
    said: readonly Said[],
    { turn = {}, ...where }: Partial<Sample> & { turn?: Partial<Turn>; edits?: string } = {},
  ) => {
    second += 60;
    const { edits, ...place } = where;
    const sample = { id, second, chatId: "-50", smithId: "odo", ...place };
    const edit = edits === undefined ? {} : { kind: "edit" as const, edits };
    await store.receive({ ...sampleMessage(sample), ...edit });
    await store.commit(sampleTurn(sample, said, turn));
  };
  const alone = { chatId: "wenna", smithId: "wenna" };
  await say("a", [
    { fact: FULL_FACTS.ingot, ingotId: "self" },
    ...FACT_KINDS.filter((kind) => kind !== "ingot").map(
      (kind): Said => ({ fact: FULL_FACTS[kind], ingotId: "a-0" }),
    ),
  ]);
  await say("b", [{ fact: { kind: "heat", number: 5 }, ingotId: "a-0", replaces: "a-4" }], {
    edits: "terminal:-50:a",
    turn: { takeBacks: [{ entryId: "a-4", by: "b-0" }] },
  });
  await say("c", [{ fact: { kind: "ingot" }, ingotId: "self" }], { smithId: "wenna" });
  await say("d", [{ fact: { kind: "note", note: "gave up on this ingot" }, ingotId: "c-0" }]);
  await say("e", [{ fact: { kind: "ingot", name: "Rook" }, ingotId: "self" }], {
    ...alone,
    turn: {
      sheetHour: 1080,
      unread: ["blue", "moon \0"],
      ask: {
        id: "q1",
        about: "which-dimension",
        choices: [{ label: "22 thick", drafts: [] }],
      },
    },
  });
  await say("f", [], { ...alone, text: "\0 odd \u001a letters ½ 🔨", turn: { answers: "q1" } });
  await store.receive({
    id: "m-voice",
    sourceKey: "messenger:wenna:voice",
    edge: "messenger",
    chatId: "wenna",
    smithId: "wenna",
    kind: "voice",
    text: "not yet answered",
    heardConfidence: 0.625,
    sentAt: atSecond(9000),
    receivedAt: atSecond(9000),
  });
  const [first] = await store.unsent(1);
  await store.markSent(first?.id ?? "", atSecond(9001), "4711");
  await access.setOwner("odo", atSecond(1));
  const link = { role: "smith", by: "odo", at: atSecond(1), expiresAt: atSecond(99) } as const;
  await access.createInvite({ ...link, codeHash: "a".repeat(64) });
  await access.letGroupIn("-50", "odo", atSecond(2));
  await access.countStranger("2026-03-02");
  await access.chatMoved("-49", "-50", atSecond(3));
  await access.beginRun("run-1", atSecond(1));
  await access.keepVoice(true, atSecond(4));
  await close();
}

/** Every row of every table, as text, in the order of the keys. */
function dump(path: string): Readonly<Record<string, readonly string[]>> {
  const { db, close } = openForReading(path);
  const tables = movedTables(db).map(({ name, key }) => {
    const rows = db.prepare(`SELECT * FROM "${name}" ORDER BY ${key.join()}`).all();
    return [name, rows.map((row) => JSON.stringify(row))] as const;
  });
  close();
  return Object.fromEntries(tables);
}
const failure = (work: Promise<unknown>) =>
  work.then(
    () => undefined,
    (error: StoreFailed) => error,
  );

describe("a moved log", () => {
  it("is the same after it went to the server and came back, row by row, in every table", async () => {
    const before = dump(file);
    for (const [name, rows] of Object.entries(before)) {
      expect(rows.length, `${name} has something to move`).toBeGreaterThan(0);
    }
    const address = await server.newDatabase();
    const there = await moveLog({ from: file, to: address, now });
    expect(Object.fromEntries(there.tables.map(({ name, rows }) => [name, rows]))).toEqual(
      Object.fromEntries(Object.entries(before).map(([name, rows]) => [name, rows.length])),
    );
    expect(there.ingots).toBe(3);
    const back = join(folder, "back.sqlite");
    const again = await moveLog({ from: address, to: back, now });
    expect(again).toEqual(there);
    expect(dump(back)).toEqual(before);
    expect(dump(file)).toEqual(before);
    expect(statSync(back).mode & 0o777).toBe(0o600);
    const sound = new KeptDatabase(back, { readonly: true });
    expect(sound.pragma("integrity_check", { simple: true })).toBe("ok");
    expect(sound.pragma("foreign_key_check")).toEqual([]);
    sound.close();
    expect(existsSync(`${back}.part-${process.pid}`)).toBe(false);
  });

  it("goes on where it was: what is asked of it and what is said next", async () => {
    const address = await server.newDatabase();
    await moveLog({ from: file, to: address, now });
    const here = await openStore({ db: file, now, readonly: true });
    const there = await openStore({ db: address, now });
    try {
      expect(await there.everything()).toEqual(await here.everything());
      expect(await there.unsent(100)).toEqual(await here.unsent(100));
      expect(await there.unhandled()).toEqual(await here.unhandled());
      expect(await there.sheetHours()).toEqual(await here.sheetHours());
      for (const [chat, smith] of [
        ["-50", "odo"],
        ["-50", "wenna"],
        ["wenna", "wenna"],
      ] as const) {
        const since = atSecond(0);
        expect(await there.view(chat, smith, since)).toEqual(await here.view(chat, smith, since));
        const day = [atSecond(0), atSecond(86_400)] as const;
        expect(await there.day(chat, ...day)).toEqual(await here.day(chat, ...day));
        expect(await there.finishedIngots(chat, 9)).toEqual(await here.finishedIngots(chat, 9));
      }
      const last = (await there.everything()).at(-1)?.seq ?? 0;
      const handler = createHandler({ store: there, newId: () => `n${ids++}`, timezone: "UTC" });
      let ids = 0;
      await handler.handle({
        id: "next",
        sourceKey: "messenger:-50:next",
        edge: "messenger",
        chatId: "-50",
        smithId: "odo",
        kind: "text",
        text: "heat 2 at 940",
        sentAt: atSecond(10_000),
        receivedAt: atSecond(10_000),
      });
      const newest = (await there.everything()).at(-1);
      expect(newest).toMatchObject({ kind: "heat", seq: last + 1, place: last + 1 });
    } finally {
      await here.close();
      await there.close();
    }
  });

  it("never goes over another, nor while somebody writes", async () => {
    const address = await server.newDatabase();
    await moveLog({ from: file, to: address, now });
    const twice = await failure(moveLog({ from: file, to: address, now }));
    expect(twice).toMatchObject({ code: "exists", message: expect.stringMatching(/not empty/) });
    const over = join(folder, "over.sqlite");
    const log = await openStore({ db: over, now });
    expect(await failure(moveLog({ from: address, to: over, now }))).toMatchObject({
      code: "exists",
    });
    const fresh = await server.newDatabase();
    expect(await failure(moveLog({ from: over, to: fresh, now }))).toMatchObject({
      code: "in-use",
    });
    await log.close();
    const worker = await openStore({ db: address, now });
    const third = join(folder, "third.sqlite");
    expect(await failure(moveLog({ from: address, to: third, now }))).toMatchObject({
      code: "in-use",
    });
    await worker.close();
    expect(existsSync(third)).toBe(false);
    const missing = await failure(moveLog({ from: join(folder, "none.sqlite"), to: fresh, now }));
    expect(missing).toMatchObject({ code: "not-found" });
  });

  it("is not moved if one row did not come through", async () => {
    const address = await server.newDatabase();
    const spoil = await openLog({ db: address, now });
    await spoil.close();
    const { default: pg } = await import("pg");
    const client = new pg.Client({ connectionString: address, application_name: "by hand" });
    await client.connect();
    await client.query(`CREATE FUNCTION spoil() RETURNS trigger LANGUAGE plpgsql AS
      $$BEGIN NEW.temperature_c = NEW.temperature_c + 1; RETURN NEW; END$$`);
    await client.query(
      "CREATE TRIGGER spoil BEFORE INSERT ON heat FOR EACH ROW EXECUTE FUNCTION spoil()",
    );
    const failed = await failure(moveLog({ from: file, to: address, now }));
    expect(failed).toBeInstanceOf(StoreFailed);
    expect(failed?.message).toMatch(/heat: the rows are not the same/);
    const { rows } = await client.query("SELECT count(*)::int AS rows FROM entry");
    expect(rows).toEqual([{ rows: 0 }]);
    await client.end();
  });
});
