/** Several processes on one PostgreSQL database, behind the fault server as behind a load balancer. */
import { expect } from "vitest";
import { type PostgresServer, startPostgres } from "../store/postgres-server.js";
import { waitingInPostgres } from "./record.js";
import { pause, type Running, run } from "./running.js";
import { FAULT_TOKEN, type FaultServer, SECRET } from "./server.js";
import { freePort, letIn, OWNER_ID } from "./shop.js";

export interface Worker {
  readonly port: number;
  readonly role: "all" | "hands" | "ears";
  running: Running;
}

export interface WorkerPool {
  readonly address: string;
  readonly workers: readonly Worker[];
  kill(worker: Worker): Promise<void>;
  /** `program`: another version than the pool's. */
  start(worker: Worker, program?: string): void;
  /** Resolves when it listens and says it is well. */
  up(worker: Worker): Promise<void>;
  /** Each ends by itself with 0. */
  stop(): Promise<void>;
  killAll(): Promise<void>;
}

export interface PoolOptions {
  readonly postgres: PostgresServer;
  readonly server: FaultServer;
  readonly program: string;
  readonly roles: readonly Worker["role"][];
  readonly smiths: readonly number[];
  readonly leaseS: number;
  readonly env?: Readonly<Record<string, string>>;
  /** The program is the command line, not a test's own. */
  readonly commandLine: boolean;
}

export const openDatabaseServer = (): Promise<PostgresServer> =>
  // Many short-lived processes, each with its own connections.
  startPostgres(["max_connections=300"]);

export async function openPool(options: PoolOptions): Promise<WorkerPool> {
  const { postgres, server, program, roles, smiths, leaseS } = options;
  const address = await postgres.newDatabase();
  await letIn(address, smiths);
  const env = {
    DB: address,
    BOT_TOKEN: FAULT_TOKEN,
    BOT_API_ROOT: server.root,
    OWNER_ID,
    WEBHOOK_SECRET: SECRET,
    LOG_LEVEL: "warn",
    LEASE_S: String(leaseS),
    FAULTS: "1",
    ...options.env,
  };
  const begin = (port: number, role: Worker["role"], of = program): Running => {
    const hook = role === "ears" ? [] : ["--webhook", String(port)];
    const args = ["bot", "--db", address, "--role", role, ...hook];
    const own = { ...env, ROLE: role, ...(role === "ears" ? {} : { PORT: String(port) }) };
    return run(of, options.commandLine ? args : [], own);
  };
  const workers: Worker[] = [];
  // All at once, so that none is given twice before its process listens.
  const ports = await Promise.all(roles.map(() => freePort()));
  for (const [at, role] of roles.entries()) {
    const port = ports[at] ?? Number.NaN;
    workers.push({ port, role, running: begin(port, role) });
  }
  server.webhook = workers
    .filter(({ role }) => role !== "ears")
    .map(({ port }) => `http://127.0.0.1:${port}/updates`);

  const pool: WorkerPool = {
    address,
    workers,
    start(worker, of) {
      worker.running = begin(worker.port, worker.role, of);
    },
    kill: (worker) => worker.running.kill("SIGKILL"),
    async up(worker) {
      if (worker.role === "ears") {
        // It listens nowhere unless asked for figures; the test's own program says when it is ready.
        if (!options.commandLine) await worker.running.ready;
        return;
      }
      for (;;) {
        const { child, output } = worker.running;
        if (child.exitCode !== null) {
          throw new Error(`a worker ended by itself:\n${output().slice(-3000)}`);
        }
        const well = await fetch(`http://127.0.0.1:${worker.port}/readyz`).catch(() => undefined);
        if (well?.status === 200) return;
        await pause(10);
      }
    },
    async stop() {
      await Promise.all(workers.map(({ running }) => running.kill("SIGTERM")));
      for (const { running } of workers) {
        expect(await running.ended, running.output().slice(-2000)).toEqual({
          code: 0,
          signal: null,
        });
      }
    },
    async killAll() {
      await Promise.all(workers.map(({ running }) => running.kill("SIGKILL")));
    },
  };
  await Promise.all(workers.map((worker) => pool.up(worker)));
  return pool;
}

/** What still waits in the database: replies in the outbox, updates put down. */
export async function waitingIn(address: string): Promise<number> {
  const { replies, arrivals } = await waitingInPostgres(address);
  return replies + arrivals;
}
