/** What every test of the edges needs: a fresh log on disk, ids in order, a clock that stands or is set. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { ChatLogger, Clock } from "../../src/chat/index.js";
import type { LogStore } from "../../src/logbook/index.js";
import { type Access, openSqliteAccess, openSqliteStore } from "../../src/store/index.js";

export interface Desk {
  readonly folder: string;
  readonly file: string;
  readonly store: LogStore;
  readonly access: Access;
  readonly newId: () => string;
  readonly now: () => string;
  /** Moves the clock of `now`, ms. */
  readonly pass: (ms: number) => void;
  readonly close: () => Promise<void>;
}

const START = Date.UTC(2026, 2, 2, 8, 0, 0);

export async function openDesk(): Promise<Desk> {
  const folder = mkdtempSync(join(tmpdir(), "hearth-desk-"));
  const file = join(folder, "log.sqlite");
  let time = START;
  let ids = 0;
  const now = (): string => new Date(time).toISOString();
  const store = await openSqliteStore({ file, now });
  const access = openSqliteAccess({ file });
  return {
    folder,
    file,
    store,
    access,
    newId: () => `t${(ids++).toString(36).padStart(6, "0")}`,
    now,
    pass: (ms) => {
      time += ms;
    },
    close: async () => {
      await access.close();
      await store.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** A log of the run that keeps its lines. */
export function keptLog(): ChatLogger & { readonly lines: string[] } {
  const lines: string[] = [];
  const write = (fields: Readonly<Record<string, unknown>>, message: string): void => {
    lines.push(JSON.stringify({ ...fields, message }));
  };
  return { lines, info: write, warn: write, error: write };
}

/** Time passes only by sleeping; every sleep ends on the next turn of the loop. */
export function jumpingClock(): Clock & { readonly slept: number[]; readonly at: () => number } {
  let time = 0;
  const slept: number[] = [];
  return {
    slept,
    at: () => time,
    nowMs: () => time,
    sleep: async (ms, signal) => {
      slept.push(ms);
      await new Promise((resolve) => setImmediate(resolve));
      if (signal?.aborted !== true) time += ms;
    },
  };
}
