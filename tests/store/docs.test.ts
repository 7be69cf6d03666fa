/** docs/entries.md knows every table, view and column, and its queries run. */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { openForWriting } from "../../src/store/open-database.js";
import { atSecond } from "./sample-turns.js";

const page = readFileSync(new URL("../../docs/entries.md", import.meta.url), "utf8");

it("names every table and view", () => {
  const { db, close } = openForWriting(":memory:", atSecond(0));
  const names = db
    .prepare(
      "SELECT name FROM sqlite_schema WHERE type IN ('table', 'view') AND name NOT LIKE 'sqlite_%'",
    )
    .pluck()
    .all() as string[];
  expect(names.filter((name) => !page.includes(`\`${name}\``))).toEqual([]);
  close();
});

it("names every column of the tables of kinds", () => {
  const { db, close } = openForWriting(":memory:", atSecond(0));
  const missing = [...page.matchAll(/^\| (?:`\w+`)? ?\| `(\w+)` \| (.*) \|$/gm)].flatMap(
    ([, table = "", columns = ""]) => {
      const live = db
        .prepare("SELECT name FROM pragma_table_info(?)")
        .pluck()
        .all(table) as string[];
      expect(live.length, table).toBeGreaterThan(0);
      const implied = ["seq", "at", "approx"];
      return live
        .filter((name) => !implied.includes(name) && !columns.includes(`\`${name}\``))
        .map((name) => `${table}.${name}`);
    },
  );
  expect(missing).toEqual([]);
  close();
});

it("shows queries that run", () => {
  const { db, close } = openForWriting(":memory:", atSecond(0));
  const queries = [...page.matchAll(/```sql\n([\s\S]*?)```/g)].flatMap(([, block = ""]) =>
    block.split(/;\n/).filter((query) => query.trim() !== ""),
  );
  expect(queries.length).toBeGreaterThan(3);
  for (const query of queries) expect(() => db.prepare(query).all(), query).not.toThrow();
  close();
});
