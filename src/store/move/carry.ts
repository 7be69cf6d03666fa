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
  const same =
    table.name === SMITH
      ? await sameSmiths(table, from, to)
      : (await digest(table, from)) === (await digest(table, to));
  if (!same) throw differs(`${table.name}: the rows are not the same on both sides`);
  return rows;
}

/** A server keeps a smith's name and first day chat by chat: a file has the latest name and the first day of all. */
async function sameSmiths(table: MovedTable, from: MoveSide, to: MoveSide): Promise<boolean> {
  const [here, there] = [await smithsOf(table, from), await smithsOf(table, to)];
  return (
    isDeepStrictEqual(here.chats, there.chats) &&
    isDeepStrictEqual(here.firstSeen, there.firstSeen) &&
    [...there.names].every((name) => here.names.has(name))
  );
}

async function smithsOf(table: MovedTable, side: MoveSide) {
  const chats = new Set<string>();
  const names = new Set<string>();
  const firstSeen = new Map<unknown, string>();
  for await (const rows of side.pages(table)) {
    for (const { chat_id, id, name, first_seen } of rows) {
      const seen = String(first_seen);
      chats.add(JSON.stringify([chat_id, id]));
      names.add(JSON.stringify([id, name]));
      firstSeen.set(id, [firstSeen.get(id) ?? seen, seen].toSorted()[0] ?? seen);
    }
  }
  return { chats, names, firstSeen };
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
