/** The file of the log: rights, versions, damage, a full disk. */
import { execFileSync } from "node:child_process";
import {
  chmodSync,
  closeSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { LogStore } from "../../src/logbook/index.js";
import { openSqliteStore, StoreFailed } from "../../src/store/index.js";
import { KeptDatabase as Database } from "../../src/store/kept-database.js";
import { MIGRATIONS_FOLDER, migrate, readMigrations } from "../../src/store/migrate.js";
import { openForWriting } from "../../src/store/open-database.js";
import { SqliteStore } from "../../src/store/sqlite-store.js";
import { atSecond, heatAndSize, sampleMessage, sampleTurn } from "./sample-turns.js";

const now = () => atSecond(0);
let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "hearth-file-"));
  file = join(folder, "log.sqlite");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

async function log(store: LogStore, id: string): Promise<void> {
  await store.receive(sampleMessage({ id }));
  await store.commit(
    sampleTurn({ id }, [
      { fact: { kind: "ingot", name: id }, ingotId: "self" },
      ...heatAndSize(1, `${id}-0`),
    ]),
  );
}
async function filled(turns: number): Promise<void> {
  const store = await openSqliteStore({ file, now });
  for (let n = 0; n < turns; n += 1) await log(store, `t${n}`);
  await store.close();
}
const opening = (options: { readonly?: boolean } = {}) =>
  openSqliteStore({ file, now, ...options });

describe("rights", () => {
  const modes = () =>
    readdirSync(folder).map((name) => [
      name,
      (statSync(join(folder, name)).mode & 0o777).toString(8),
    ]);

  it("only the owner reads the log, its journal, its lock and a copy", async () => {
    const mask = process.umask(0);
    try {
      const store = await opening();
      await log(store, "a");
      await store.backup(join(folder, "copy.sqlite"));
      expect(modes().sort()).toEqual([
        ["copy.sqlite", "600"],
        ["log.sqlite", "600"],
        ["log.sqlite-shm", "600"],
        ["log.sqlite-wal", "600"],
        ["log.sqlite.lock.sqlite", "600"],
      ]);
      await store.close();
    } finally {
      process.umask(mask);
    }
  });

  it("a log that others could read is closed to them", async () => {
    await filled(1);
    chmodSync(file, 0o644);
    const store = await opening();
    expect(statSync(file).mode & 0o777).toBe(0o600);
    await store.close();
  });
});

describe("opening", () => {
  it("writes every commit through to the disk", () => {
    const open = openForWriting(file, now());
    const setting = (name: string) => open.db.pragma(name, { simple: true });
    expect(setting("journal_mode")).toBe("wal");
    expect(setting("synchronous")).toBe(2);
    expect(setting("foreign_keys")).toBe(1);
    open.close();
  });

  it("is back to full durability for a commit after each message received", async () => {
    const open = openForWriting(file, now());
    const store = new SqliteStore(open);
    const level = () => open.db.pragma("synchronous", { simple: true });
    await store.receive(sampleMessage({ id: "a" }));
    expect(level()).toBe(1);
    await store.commit(sampleTurn({ id: "a" }, []));
    expect(level()).toBe(2);
    await store.close();
  });

  it("refuses a second writer in the same process too", async () => {
    const store = await opening();
    await expect(opening()).rejects.toMatchObject({ code: "in-use" });
    await store.close();
    await (await opening()).close();
  });

  it("knows a link to the same log", async () => {
    const store = await opening();
    const link = join(folder, "link.sqlite");
    symlinkSync(file, link);
    await expect(openSqliteStore({ file: link, now })).rejects.toMatchObject({ code: "in-use" });
    await store.close();
  });

  it("for reading says when there is no log, and writes nothing", async () => {
    await expect(opening({ readonly: true })).rejects.toMatchObject({
      code: "not-found",
      message: expect.stringContaining(`${file}: no such log`),
    });
    expect(existsSync(file)).toBe(false);
    await filled(1);
    const reader = await opening({ readonly: true });
    await expect(reader.receive(sampleMessage({ id: "b" }))).rejects.toMatchObject({
      code: "not-writable",
    });
    expect(await reader.everything()).toHaveLength(3);
    await reader.close();
  });

  it("says which folder is missing", async () => {
    const elsewhere = join(folder, "none", "log.sqlite");
    await expect(openSqliteStore({ file: elsewhere, now })).rejects.toMatchObject({
      code: "not-found",
      message: expect.stringContaining(elsewhere),
    });
  });
});

describe("migrations", () => {
  const withRow = (sql: string) => {
    const db = new Database(file);
    db.exec(sql);
    db.close();
  };

  it("are noted with their checksums", async () => {
    await filled(0);
    const db = new Database(file, { readonly: true });
    const noted = db
      .prepare("SELECT name, sha256, applied_at FROM migration ORDER BY number")
      .all();
    db.close();
    const names = readdirSync(MIGRATIONS_FOLDER).filter((name) => name.endsWith(".sqlite.sql"));
    expect(noted.map((row) => (row as { name: string }).name)).toEqual(names.sort());
    expect(noted).toEqual(
      readMigrations().map(({ name, sha256 }) => ({ name, sha256, applied_at: now() })),
    );
  });

  it("that were changed afterwards are refused by name", async () => {
    await filled(1);
    withRow(`UPDATE migration SET sha256 = '${"0".repeat(64)}' WHERE number = 1`);
    const line = /migrations\/0001-log\.sqlite\.sql was changed after this log was made/;
    await expect(opening()).rejects.toMatchObject({
      code: "wrong-version",
      message: expect.stringMatching(line),
    });
    await expect(opening({ readonly: true })).rejects.toThrow(line);
  });

  it("of a newer program are refused", async () => {
    await filled(1);
    withRow(
      `INSERT INTO migration VALUES (9999, '9999-later.sqlite.sql', '${"0".repeat(64)}', '${now()}')`,
    );
    await expect(opening()).rejects.toMatchObject({
      code: "wrong-version",
      message: expect.stringMatching(/newer version .*9999-later.*update the program/),
    });
  });

  it("that are missing are not made by a reader", async () => {
    await filled(1);
    withRow("DELETE FROM migration WHERE number = (SELECT max(number) FROM migration)");
    await expect(opening({ readonly: true })).rejects.toMatchObject({
      code: "wrong-version",
      message: expect.stringContaining("older version"),
    });
  });

  it("that break leave the old tables and rows", async () => {
    await filled(2);
    const db = new Database(file);
    const dump = () => [
      db.prepare("SELECT name, sql FROM sqlite_schema").all(),
      db.prepare("SELECT * FROM entry").all(),
      db.prepare("SELECT * FROM migration").all(),
    ];
    const before = dump();
    const broken = {
      number: 9001,
      name: "9001-broken.sqlite.sql",
      sha256: "1".repeat(64),
      sql: "CREATE TABLE later (x TEXT) STRICT; DROP TRIGGER entry_kept; CREATE TABLE later (x TEXT);",
    };
    const good = {
      ...broken,
      number: 9000,
      name: "9000-good.sqlite.sql",
      sql: "CREATE TABLE ok (x)",
    };
    expect(() => migrate(db, now(), [...readMigrations(), good, broken])).toThrow(
      /later already exists/,
    );
    expect(dump()).toEqual(before);
    db.close();
  });

  it("with the same number twice are our own mistake", () => {
    for (const name of ["0001-a.sqlite.sql", "0001-b.sqlite.sql"])
      writeFileSync(join(folder, name), "");
    expect(() => readMigrations(folder)).toThrow(RangeError);
  });

  it("do not touch a database that is not ours", async () => {
    withRow("CREATE TABLE recipes (name TEXT); INSERT INTO recipes VALUES ('plum cake')");
    await expect(opening()).rejects.toMatchObject({
      code: "wrong-version",
      message: expect.stringContaining("no log of this program"),
    });
    const db = new Database(file, { readonly: true });
    expect(db.prepare("SELECT name FROM sqlite_schema").pluck().all()).toEqual(["recipes"]);
    db.close();
  });
});

describe("damage", () => {
  const PAGE = 4096;
  const overwrite = (from: number, length: number) => {
    const handle = openSync(file, "r+");
    writeSync(handle, Buffer.alloc(length, 0xa5), 0, length, from);
    closeSync(handle);
  };
  const refused = expect.objectContaining({
    name: "StoreFailed",
    code: "damaged",
    message: expect.stringMatching(/log\.sqlite: .*(latest backup)/),
  });

  it("of any one page that is in use is noticed at start", async () => {
    await filled(150);
    const pages = statSync(file).size / PAGE;
    expect(pages).toBeGreaterThan(40);
    const whole = new Database(file, { readonly: true }).serialize();
    const unnoticed: number[] = [];
    for (let page = 2; page <= pages; page += 7) {
      writeFileSync(file, whole);
      overwrite((page - 1) * PAGE, PAGE);
      await opening().then(
        async (store) => {
          unnoticed.push(page);
          await store.close();
        },
        (error: unknown) => expect(error).toEqual(refused),
      );
    }
    expect(unnoticed).toEqual([]);
  });

  it("of the first page, or a file that is something else, is noticed", async () => {
    await filled(3);
    overwrite(0, PAGE);
    await expect(opening()).rejects.toEqual(refused);
    writeFileSync(file, "dear diary, today the ingot cracked\n".repeat(200));
    await expect(opening()).rejects.toEqual(refused);
  });

  it("of a file cut short is noticed", async () => {
    await filled(150);
    truncateSync(file, Math.floor(statSync(file).size / PAGE / 2) * PAGE);
    await expect(opening()).rejects.toEqual(refused);
  });

  it("of a row that no longer is what its schema says fails that read alone", async () => {
    const open = openForWriting(file, now());
    const store = new SqliteStore(open);
    await log(store, "a");
    open.db.pragma("ignore_check_constraints = ON");
    open.db.exec("DROP TRIGGER heat_fixed; UPDATE heat SET temperature_c = 9999");
    await expect(store.ingotLog("anvil", "a-0")).rejects.toMatchObject({
      code: "unreadable",
      message: expect.stringContaining("temperatureC"),
    });
    await store.close();
  });
});

describe("a full disk", () => {
  /** Writes until the disk is full, makes room, goes on. Returns the ids that were acknowledged. */
  async function throughFull(store: LogStore, makeRoom: () => void): Promise<void> {
    const acknowledged: string[] = [];
    let failure: unknown;
    for (let n = 0; failure === undefined && n < 20_000; n += 1) {
      await log(store, `f${n}`).then(
        () => acknowledged.push(`m-f${n}`),
        (error: unknown) => {
          failure = error;
        },
      );
    }
    expect(failure).toBeInstanceOf(StoreFailed);
    expect(failure).toMatchObject({
      code: "full",
      message: expect.stringContaining("free some space"),
    });
    expect(acknowledged.length).toBeGreaterThan(5);
    const kept = async () => [
      ...new Set((await store.everything()).map(({ messageId }) => messageId)),
    ];
    expect(await kept()).toEqual(acknowledged);
    makeRoom();
    const again = `f${acknowledged.length}`;
    await log(store, again);
    expect(await kept()).toEqual([...acknowledged, `m-${again}`]);
  }

  it("fails with one line, loses nothing and goes on when there is room (page limit)", async () => {
    const open = openForWriting(file, now());
    const pages = Number(open.db.pragma("page_count", { simple: true }));
    open.db.pragma(`max_page_count = ${pages + 40}`);
    const store = new SqliteStore(open);
    await throughFull(store, () => open.db.pragma("max_page_count = 100000"));
    await store.close();
    await (await opening()).close();
  });

  it("does the same on a small file system", async (context) => {
    const disk = join(folder, "disk");
    mkdirSync(disk);
    try {
      execFileSync("mount", ["-t", "tmpfs", "-o", "size=3m", "tmpfs", disk], { stdio: "ignore" });
    } catch {
      context.skip("mounting needs the rights of root");
    }
    try {
      file = join(disk, "log.sqlite");
      const filler = join(disk, "filler");
      writeFileSync(filler, Buffer.alloc(1024 * 1024));
      const store = await opening();
      await throughFull(store, () => rmSync(filler));
      await store.close();
      execFileSync("mount", ["-o", "remount,ro", disk]);
      await expect(opening()).rejects.toMatchObject({ code: "not-writable" });
    } finally {
      execFileSync("umount", [disk]);
    }
  });
});
