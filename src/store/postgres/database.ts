/** Connections to a PostgreSQL database, and pieces of work in one transaction each. */
import pg from "pg";
import { isPostgres, shownAddress, withoutPassword } from "./address.js";
import { asPostgresFailed, isOldPlan, passes } from "./failed.js";
import { toDatabase, types } from "./values.js";

export interface PostgresOptions {
  readonly address: string;
  /** Connections at most. Common practice, no source; 1 to 50. */
  readonly connections?: number;
  /** Shown in the server's list of connections. */
  readonly application?: string;
}

/** A connection inside a transaction. */
export interface Sql {
  all<Row = unknown>(text: string, ...values: readonly unknown[]): Promise<readonly Row[]>;
  one<Row = unknown>(text: string, ...values: readonly unknown[]): Promise<Row | undefined>;
  /** Gives the number of rows touched. */
  run(text: string, ...values: readonly unknown[]): Promise<number>;
  /** Several statements without values. */
  script(text: string): Promise<void>;
}

export interface WorkOptions {
  /** `soon`: returns before the server's disk has it; the next `now` on any connection makes sure of it, too. */
  readonly durable?: "now" | "soon";
  /** For work on the whole log: no limit of time, and begun once only. */
  readonly patient?: boolean;
}

const CONNECTIONS = 10;
/** Longest statement, and longest wait for a lock, in ms. Common practice, no source; 1,000 to 120,000. */
const STATEMENT_MS = 15_000;
const LOCK_MS = 10_000;
const IDLE_IN_TRANSACTION_MS = 30_000;
const CONNECT_MS = 10_000;
/** A silent server is given up a little after it should have given up itself. */
const SILENCE_MS = STATEMENT_MS + 5000;
const PATIENT_MS = 86_400_000;
/** Times a piece of work is begun when the server restarts or rows collide; the first pause, doubled each time, in ms. */
const ATTEMPTS = 4;
const PAUSE_MS = 100;

/** The same text has the same name on every connection, so that a server plans it once. */
const statementNames = new Map<string, string>();
function nameOf(text: string): string {
  const known = statementNames.get(text);
  if (known !== undefined) return known;
  const name = `s${statementNames.size + 1}`;
  statementNames.set(text, name);
  return name;
}

export class PostgresDatabase {
  /** The address without its password. */
  readonly shown: string;
  readonly #address: string;
  readonly #pool: pg.Pool;

  /** Connects with the first piece of work. Throws `not-found` for an address that cannot be read. */
  constructor({
    address,
    connections = CONNECTIONS,
    application = "hearth-tally",
  }: PostgresOptions) {
    if (!isPostgres(address)) throw new RangeError("not an address of a PostgreSQL database");
    this.shown = shownAddress(address);
    this.#address = address;
    try {
      this.#pool = new pg.Pool({
        connectionString: address,
        max: connections,
        application_name: application,
        connectionTimeoutMillis: CONNECT_MS,
        idleTimeoutMillis: 30_000,
        keepAlive: true,
        types,
        // Statements that do not wait for each other's rows are sent together.
        pipeline: true,
      } as pg.PoolConfig);
    } catch (error) {
      throw this.failed(error);
    }
    // A connection that breaks while nobody uses it is replaced; one in use fails its statement.
    this.#pool.on("error", () => {});
    this.#pool.on("connect", (client) => {
      client.on("error", () => {});
      // Every statement looks up rows by the chat and a key: planning it anew for each chat only costs. Nor is a whole
      // table to be read, as a plan made while it was small would do for as long as it is kept.
      client
        .query("SET plan_cache_mode = force_generic_plan; SET enable_seqscan = off")
        .catch(() => {});
    });
  }

  /** A piece of work that writes, all or nothing. Begun anew if the server restarts before its end. */
  write<T>(work: (sql: Sql) => Promise<T>, options: WorkOptions = {}): Promise<T> {
    const soon = options.durable === "soon" ? "; SET LOCAL synchronous_commit = off" : "";
    return this.#transaction(`BEGIN${soon}`, work, options);
  }

  /**
   * As `write`, for a single statement that may be done twice: sent with the transaction's beginning and end, so
   * `work` must ask for it before it waits for anything.
   */
  writeOne<T>(work: (sql: Sql) => Promise<T>, options: WorkOptions = {}): Promise<T> {
    const soon = options.durable === "soon" ? "; SET LOCAL synchronous_commit = off" : "";
    return this.#transaction(`BEGIN${soon}`, work, { ...options, single: true });
  }

  /** One moment of the log, whatever others write. */
  read<T>(work: (sql: Sql) => Promise<T>, options: WorkOptions = {}): Promise<T> {
    return this.#transaction("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY", work, {
      ...options,
      reads: true,
    });
  }

  /** As `read`, for a single statement, which sees one moment without a transaction around it. */
  async readOne<T>(work: (sql: Sql) => Promise<T>): Promise<T> {
    for (let attempt = 1; ; attempt += 1) {
      let client: pg.PoolClient | undefined;
      try {
        client = await this.#connect();
        const result = await work(sqlOf(client, SILENCE_MS));
        client.release();
        return result;
      } catch (error) {
        if (client !== undefined) await giveBack(client, isOldPlan(error));
        if (attempt === ATTEMPTS || !passes(error)) throw this.failed(error);
        await pause(PAUSE_MS * 2 ** (attempt - 1));
      }
    }
  }

  /** Any error as one that is named, without the password. */
  failed(error: unknown): Error {
    return asPostgresFailed(error, this.shown, (line) => withoutPassword(line, this.#address));
  }

  /** A connection of one's own, for what must stay on one: locks of a session, notifications. */
  async connection(): Promise<pg.PoolClient> {
    try {
      return await this.#connect();
    } catch (error) {
      throw this.failed(error);
    }
  }

  async close(): Promise<void> {
    if (!this.#pool.ended) await this.#pool.end();
  }

  async #connect(): Promise<pg.PoolClient> {
    return this.#pool.connect();
  }

  async #transaction<T>(
    begin: string,
    work: (sql: Sql) => Promise<T>,
    {
      patient = false,
      reads = false,
      single = false,
    }: WorkOptions & { readonly reads?: boolean; readonly single?: boolean },
  ): Promise<T> {
    const limits = patient ? [0, 0] : [STATEMENT_MS, LOCK_MS];
    const whole = patient ? "; SET LOCAL enable_seqscan = on" : "";
    const start = `${begin}; SET LOCAL statement_timeout = ${limits[0]}; SET LOCAL lock_timeout = ${limits[1]};
      SET LOCAL idle_in_transaction_session_timeout = ${patient ? 0 : IDLE_IN_TRANSACTION_MS}${whole}`;
    for (let attempt = 1; ; attempt += 1) {
      let client: pg.PoolClient | undefined;
      let ending = false;
      try {
        client = await this.#connect();
        const begun = client.query(start);
        // Where nothing is written, the first statement need not wait; if it can not begin, it fails, too.
        if (reads || single) begun.catch(() => {});
        else await begun;
        const sql = sqlOf(client, patient ? PATIENT_MS : SILENCE_MS);
        if (single) {
          const [result] = await Promise.all([work(sql), client.query("COMMIT"), begun]);
          client.release();
          return result;
        }
        const result = await work(sql);
        if (reads) {
          await begun;
          endReading(client);
          return result;
        }
        ending = true;
        await client.query("COMMIT");
        client.release();
        return result;
      } catch (error) {
        if (client !== undefined) await giveBack(client, isOldPlan(error));
        // Once COMMIT was sent, nobody knows whether it happened: that is for the caller to ask.
        if (ending || patient || attempt === ATTEMPTS || !passes(error)) throw this.failed(error);
        await pause(PAUSE_MS * 2 ** (attempt - 1));
      }
    }
  }
}

/** What was read is known already: nobody waits for the end. */
function endReading(client: pg.PoolClient): void {
  client.query("COMMIT").then(
    () => client.release(),
    () => client.release(true),
  );
}

/** After a failure: rolled back if it still answers, else thrown away. */
async function giveBack(client: pg.PoolClient, worn: boolean): Promise<void> {
  try {
    await client.query({ text: "ROLLBACK", query_timeout: 2000 } as pg.QueryConfig);
    client.release(worn);
  } catch {
    client.release(true);
  }
}

function sqlOf(client: pg.ClientBase, silenceMs: number): Sql {
  const ask = (text: string, values: readonly unknown[]): Promise<pg.QueryResult> =>
    client.query({
      name: nameOf(text),
      text,
      values: values.map(toDatabase),
      query_timeout: silenceMs,
    } as pg.QueryConfig);
  return {
    all: async <Row>(text: string, ...values: readonly unknown[]) =>
      (await ask(text, values)).rows as readonly Row[],
    one: async <Row>(text: string, ...values: readonly unknown[]) =>
      (await ask(text, values)).rows[0] as Row | undefined,
    run: async (text, ...values) => (await ask(text, values)).rowCount ?? 0,
    script: async (text) => {
      await client.query(text);
    },
  };
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
