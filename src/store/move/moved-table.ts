/** Tables as they move: SQLite's own list of them, in the order in which they were made. */
import type { Database } from "better-sqlite3";
import { z } from "zod";
import type { Entry } from "../../logbook/index.js";
import type { Row } from "../columns.js";

export interface MovedTable {
  readonly name: string;
  /** Every column, `chat_id` first where rows belong to a chat. */
  readonly columns: readonly string[];
  /** Columns of the file's table: without a `chat_id` that stands in the header row alone. */
  readonly ownColumns: readonly string[];
  /** Of the file's table; rows move and are compared in this order. */
  readonly key: readonly string[];
  /** Its rows belong to header rows of `entry`, by `seq`. */
  readonly underEntry: boolean;
}

/** Where rows come from or go to. */
export interface MoveSide {
  /** For people: a path, or an address without its password. */
  readonly shown: string;
  /** Rows with the columns of the table, a page at a time, in the order of its key. */
  pages(table: MovedTable): AsyncIterable<readonly Row[]>;
  put(table: MovedTable, rows: readonly Row[]): Promise<void>;
  count(table: MovedTable): Promise<number>;
  /** Every ingot that was ever opened, by its opening row. */
  ingots(): Promise<readonly { readonly chatId: string; readonly ingotId: string }[]>;
  ingotLog(chatId: string, ingotId: string): Promise<readonly Entry[]>;
}

/** The program fills these itself on both sides. */
const MADE_BY_MIGRATIONS: ReadonlySet<string> = new Set(["migration", "kind"]);
/** One row a smith in a file, one a smith and chat on a server. */
export const SMITH = "smith";

const named = z.array(z.string());
const info = z.array(z.object({ name: z.string(), pk: z.int() }));
const pointsAt = z.array(z.object({ table: z.string(), from: z.string() }));

export function movedTables(db: Database): readonly MovedTable[] {
  const names = named
    .parse(
      db
        .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY rowid")
        .pluck()
        .all(),
    )
    .filter((name) => !name.startsWith("sqlite_") && !MADE_BY_MIGRATIONS.has(name));
  const under = new Set(["entry"]);
  return names.map((name) => {
    const columns = info.parse(db.pragma(`table_info("${name}")`));
    const ownColumns = columns.map((column) => column.name);
    const target = pointsAt
      .parse(db.pragma(`foreign_key_list("${name}")`))
      .find(({ from }) => from === "seq")?.table;
    const underEntry = target !== undefined && under.has(target);
    if (underEntry) under.add(name);
    const inHeader = (underEntry || name === SMITH) && !ownColumns.includes("chat_id");
    return {
      name,
      columns: inHeader ? ["chat_id", ...ownColumns] : ownColumns,
      ownColumns,
      key: columns
        .filter(({ pk }) => pk > 0)
        .sort((a, b) => a.pk - b.pk)
        .map((column) => column.name),
      underEntry,
    };
  });
}
