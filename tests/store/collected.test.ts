/** No native object of the driver is ever collected: on Node 24 that would stop the process. */
import { execFile } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import { expect, it } from "vitest";

const SCRIPT = `
  import { openSqliteStore } from "./src/store/index.ts";
  const now = () => "2026-05-12T06:00:00.000Z";
  for (let round = 0; round < 200; round += 1) {
    const store = await openSqliteStore({ file: ":memory:", now });
    await store.view("chat", "smith", now());
    await store.close();
  }
  console.log("alive");
`;

it("stores come and go, the rubbish is cleared away, and the process lives", async () => {
  const { stdout } = await promisify(execFile)(process.execPath, [
    "--max-semi-space-size=1",
    "--import",
    "tsx",
    "--input-type=module",
    "-e",
    SCRIPT,
  ]);
  expect(stdout.trim()).toBe("alive");
});

it("the driver's own connection, iterator and backup objects stand in one file only", () => {
  const folder = "src/store";
  const others = readdirSync(folder, { encoding: "utf8", recursive: true }).filter(
    (name) => name.endsWith(".ts") && name !== "kept-database.ts",
  );
  const found = others.filter((name) =>
    /new Database\(|\.iterate\(|\.backup\(part/.test(readFileSync(join(folder, name), "utf8")),
  );
  expect(found).toEqual([]);
});
