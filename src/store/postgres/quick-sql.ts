/** Single statements, each a transaction of its own: one way to the server and back, where the log needs four. */
import pg from "pg";
import { shownAddress, withoutPassword } from "./address.js";
import { asPostgresFailed } from "./failed.js";
import { types } from "./values.js";

export interface QuickSql {
  all<Row>(text: string, ...values: readonly unknown[]): Promise<readonly Row[]>;
  one<Row>(text: string, ...values: readonly unknown[]): Promise<Row | undefined>;
  /** Gives the number of rows touched. */
  run(text: string, ...values: readonly unknown[]): Promise<number>;
  close(): Promise<void>;
}

export interface QuickSqlOptions {
  readonly address: string;
  readonly connections: number;
  /** `soon`: returns before the server's disk has it; it may be lost with the machine, never in part. */
  readonly durable: "now" | "soon";
}

const STATEMENT_MS = 15_000;
const LOCK_MS = 10_000;
const CONNECT_MS = 10_000;

export function openQuickSql({ address, connections, durable }: QuickSqlOptions): QuickSql {
  const shown = shownAddress(address);
  const failed = (error: unknown): Error =>
    asPostgresFailed(error, shown, (line) => withoutPassword(line, address));
  const settings = [
    `statement_timeout=${STATEMENT_MS}`,
    `lock_timeout=${LOCK_MS}`,
    `synchronous_commit=${durable === "now" ? "on" : "off"}`,
    // As in database.ts: planned once, and never as if the tables stayed as small as they are at the start.
    "plan_cache_mode=force_generic_plan",
    "enable_seqscan=off",
  ];
  const pool = new pg.Pool({
    connectionString: address,
    max: connections,
    application_name: "hearth-tally work",
    connectionTimeoutMillis: CONNECT_MS,
    query_timeout: STATEMENT_MS + 5000,
    keepAlive: true,
    types,
    options: settings.map((one) => `-c ${one}`).join(" "),
  });
  pool.on("error", () => {});
  pool.on("connect", (client) => client.on("error", () => {}));
  const names = new Map<string, string>();
  const nameOf = (text: string): string => {
    const name = names.get(text) ?? `w${names.size + 1}`;
    names.set(text, name);
    return name;
  };
  async function ask(text: string, values: readonly unknown[]): Promise<pg.QueryResult> {
    try {
      return await pool.query({ name: nameOf(text), text, values: [...values] });
    } catch (error) {
      throw failed(error);
    }
  }
  return {
    all: async <Row>(text: string, ...values: readonly unknown[]) =>
      (await ask(text, values)).rows as readonly Row[],
    one: async <Row>(text: string, ...values: readonly unknown[]) =>
      (await ask(text, values)).rows[0] as Row | undefined,
    run: async (text, ...values) => (await ask(text, values)).rowCount ?? 0,
    async close() {
      if (!pool.ended) await pool.end();
    },
  };
}
