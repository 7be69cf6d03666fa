/** Carries every row from one side to the other, then compares the two. */
import { createHash } from "node:crypto";
import { isDeepStrictEqual } from "node:util";
import { foldIngot } from "../../logbook/index.js";
import { StoreFailed } from "../store-failed.js";
import { type MovedTable, type MoveSide, SMITH } from "./moved-table.js";

export interface Carried {
  readonly tables: readonly { readonly name: string; readonly rows: number }[];
  /** Folded on both sides to the same state. */
  readonly ingots: number;
}

/** Throws `exists` if there are rows on the other side, `damaged` if the two sides differ in the end. */
export async function carry(
  tables: readonly MovedTable[],
  from: MoveSide,
  to: MoveSide,
): Promise<Carried> {
  for (const table of tables) {
    if ((await to.count(table)) === 0) continue;
    throw new StoreFailed(
      "exists",
      `${to.shown}: there is a log already (table ${table.name} is not empty): nothing was moved`,
    );
  }
  for (const table of tables) {
    for await (const rows of from.pages(table)) await to.put(table, rows);
  }
  const counted = [];
  for (const table of tables) {
    counted.push({ name: table.name, rows: await sameTable(table, from, to) });
  }
  return { tables: counted, ingots: await sameIngots(from, to) };
}

/** Number of rows. Throws if there are others, or more or fewer, on the other side. */
async function sameTable(table: MovedTable, from: MoveSide, to: MoveSide): Promise<number> {
  const [rows, there] = [await from.count(table), await to.count(table)];
  if (rows !== there) {
    throw differs(`${table.name}: ${rows} rows on this side, ${there} on the other`);
  }
  // Smiths are counted only: a server keeps their name chat by chat.
  if (table.name !== SMITH && (await digest(table, from)) !== (await digest(table, to))) {
    throw differs(`${table.name}: the rows are not the same on both sides`);
  }
  return rows;
}

async function digest(table: MovedTable, side: MoveSide): Promise<string> {
  const hash = createHash("sha256");
  for await (const rows of side.pages(table)) {
    for (const row of rows) {
      hash.update(JSON.stringify(table.columns.map((column) => row[column] ?? null)));
      hash.update("\n");
    }
  }
  return hash.digest("hex");
}

async function sameIngots(from: MoveSide, to: MoveSide): Promise<number> {
  const ingots = await from.ingots();
  if (!isDeepStrictEqual(ingots, await to.ingots())) {
    throw differs("the ingots are not the same on both sides");
  }
  for (const { chatId, ingotId } of ingots) {
    const here = foldIngot(ingotId, await from.ingotLog(chatId, ingotId));
    const there = foldIngot(ingotId, await to.ingotLog(chatId, ingotId));
    if (!isDeepStrictEqual(here, there)) {
      throw differs(`ingot ${ingotId} of chat ${chatId} does not come out the same on both sides`);
    }
  }
  return ingots.length;
}

const differs = (what: string): StoreFailed =>
  new StoreFailed("damaged", `${what}: nothing was moved, the log is where it was`);
