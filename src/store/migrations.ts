/** Numbered SQL files, one a database and number, each applied once and never edited. */

import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { z } from "zod";
import { StoreFailed } from "./store-failed.js";

/** Beside `src` and `dist` alike. */
export const MIGRATIONS_FOLDER = fileURLToPath(new URL("../../migrations/", import.meta.url));
const NAME = /^(\d{4})-[a-z0-9-]+\.(sqlite|postgres)\.sql$/;

export interface Migration {
  readonly number: number;
  readonly name: string;
  readonly sql: string;
  readonly sha256: string;
}
export const appliedRow = z.object({ number: z.int(), name: z.string(), sha256: z.string() });
type Applied = z.infer<typeof appliedRow>;

/** Line ends do not count, so that a checkout on another system has the same sum. */
export function readMigrations(
  folder = MIGRATIONS_FOLDER,
  dialect: "sqlite" | "postgres" = "sqlite",
): readonly Migration[] {
  const found = readdirSync(folder)
    .flatMap((name) => {
      const [, number, written] = NAME.exec(name) ?? [];
      if (number === undefined || written !== dialect) return [];
      const sql = readFileSync(`${folder}/${name}`, "utf8").replaceAll("\r\n", "\n");
      const sha256 = createHash("sha256").update(sql).digest("hex");
      return [{ number: Number(number), name, sql, sha256 }];
    })
    .sort((a, b) => a.number - b.number);
  const twice = found.find(({ number }, index) => found[index + 1]?.number === number);
  if (twice !== undefined) throw new RangeError(`two migrations have the number of ${twice.name}`);
  return found;
}

/** What is still to be applied. Throws `wrong-version` for a log of a newer program, or one made with another file. */
export function missingMigrations(
  applied: readonly Applied[],
  migrations: readonly Migration[],
): readonly Migration[] {
  refuseOthers(applied, migrations);
  const done = new Set(applied.map(({ number }) => number));
  return migrations.filter(({ number }) => !done.has(number));
}

/** For a reader, which changes nothing: throws unless the tables are those of the code. */
export function refuseOlder(applied: readonly Applied[], migrations: readonly Migration[]): void {
  if (missingMigrations(applied, migrations).length === 0) return;
  throw new StoreFailed(
    "wrong-version",
    "the log is of an older version of the program: start the bot or the chat on it once, then try again",
  );
}

function refuseOthers(applied: readonly Applied[], migrations: readonly Migration[]): void {
  for (const old of applied) {
    const ours = migrations.find(({ number }) => number === old.number);
    if (ours === undefined) {
      throw new StoreFailed(
        "wrong-version",
        `the log was written by a newer version of the program (${old.name}): update the program`,
      );
    }
    if (ours.sha256 !== old.sha256) {
      throw new StoreFailed(
        "wrong-version",
        `migrations/${ours.name} was changed after this log was made with it: put the file back as it was ` +
          "and make the change in a new migration",
      );
    }
  }
}
