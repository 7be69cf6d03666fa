/** The commands on a log that is on a server: what they print, how they end, and that no password is in it. */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it, vi } from "vitest";
import { run } from "../../src/cli/index.js";
import { openStore } from "../../src/store/index.js";
import { type PostgresServer, startPostgres } from "./postgres-server.js";
import { atSecond, heatAndSize, sampleMessage, sampleTurn } from "./sample-turns.js";

const folder = mkdtempSync(join(tmpdir(), "hearth-commands-"));
const file = join(folder, "log.sqlite");
let server: PostgresServer;
let address: string;
beforeAll(async () => {
  server = await startPostgres();
  address = await server.newDatabase();
  const store = await openStore({ db: file, now: () => atSecond(0) });
  await store.receive(sampleMessage({ id: "a" }));
  await store.commit(
    sampleTurn({ id: "a" }, [
      {
        fact: { kind: "ingot", name: "Finch", shape: "puck", diameterMm: 60, heightMm: 25 },
        ingotId: "self",
      },
      ...heatAndSize(1, "a-0"),
    ]),
  );
  await store.close();
});
afterAll(async () => {
  await server?.stop();
  rmSync(folder, { recursive: true, force: true });
});

async function command(...args: string[]): Promise<{ status: number; out: string; err: string }> {
  const said = { out: "", err: "" };
  const spies = (["stdout", "stderr"] as const).map((stream) =>
    vi.spyOn(process[stream], "write").mockImplementation((text) => {
      said[stream === "stdout" ? "out" : "err"] += String(text);
      return true;
    }),
  );
  try {
    const status = await run(args);
    expect(`${said.out}${said.err}`).not.toContain(server.password);
    return { status, ...said };
  } finally {
    for (const spy of spies) spy.mockRestore();
  }
}

it("move carries the log over, prints a line a table, and refuses to do it twice", async () => {
  const moved = await command("move", "--from", file, "--to", address);
  expect(moved).toMatchObject({ status: 0, err: "" });
  expect(moved.out).toMatch(/^entry +3$/m);
  expect(moved.out).toMatch(/^heat +1$/m);
  expect(moved.out).toMatch(
    /every row the same on both sides, 1 ingots folded to the same state\n$/,
  );
  const again = await command("move", "--from", file, "--to", address);
  expect(again).toMatchObject({ status: 1, out: "" });
  expect(again.err).toMatch(
    /^postgres:\/\/hearth@127\.0\.0\.1:\d+\/log_\d+: there is a log already .*\n$/,
  );
});

it("card, day and export read the same from a server as from the file", async () => {
  for (const args of [
    ["card", "Finch"],
    ["day", "2026-03-02"],
  ]) {
    const here = await command(...args, "--db", file);
    expect(here).toMatchObject({ status: 0, out: expect.stringContaining("Finch") });
    expect(await command(...args, "--db", address)).toEqual(here);
  }
  const outs = ["file", "server"].map((name) => join(folder, name));
  for (const [n, db] of [file, address].entries()) {
    const out = outs[n] ?? "";
    expect(await command("export", "--db", db, "--format", "json", "--out", out)).toMatchObject({
      status: 0,
    });
  }
  const read = (out: string) =>
    readdirSync(out).map((name) => [name, readFileSync(join(out, name), "utf8")]);
  expect(read(outs[1] ?? "")).toEqual(read(outs[0] ?? ""));
  expect(read(outs[0] ?? "")).toHaveLength(3);
});

it("what only a file can do says what to do instead", async () => {
  const before = readdirSync(".");
  for (const [args, line] of [
    [["backup", "copy"], /pg_dump/],
    [["restore", "copy"], /server's own means/],
    [["chat"], /a path to --db/],
  ] as const) {
    const { status, err } = await command(...args, "--db", address);
    expect(status).toBe(1);
    expect(err).toMatch(line);
  }
  expect(readdirSync(".")).toEqual(before);
});

it("moves back, and knows when it is told wrong", async () => {
  const back = join(folder, "back.sqlite");
  expect(await command("move", "--from", address, "--to", back)).toMatchObject({ status: 0 });
  expect(existsSync(back)).toBe(true);
  for (const args of [
    ["--from", file],
    ["--from", file, "--to", back],
    ["--from", address, "--to", address],
  ]) {
    expect((await command("move", ...args)).status).toBe(2);
  }
  const wrong = address.replace(server.password, "wrong");
  expect(await command("card", "Finch", "--db", wrong)).toMatchObject({
    status: 1,
    err: expect.stringMatching(/check user and password\n$/),
  });
});
