/** Processes under test: started, waited for, killed, with what they wrote. */
import { type ChildProcess, spawn } from "node:child_process";
import { readFileSync } from "node:fs";

export interface Running {
  readonly child: ChildProcess;
  readonly output: () => string;
  /** Resolves with true once it wrote `ready`, with false if it ended before. */
  readonly ready: Promise<boolean>;
  readonly ended: Promise<{ readonly code: number | null; readonly signal: string | null }>;
  kill(signal: NodeJS.Signals): Promise<void>;
  /** Resident memory now, bytes. */
  memory(): number;
}

export function run(
  program: string,
  args: readonly string[],
  env: Readonly<Record<string, string>>,
): Running {
  const child = spawn(process.execPath, ["--enable-source-maps", program, ...args], {
    env: { PATH: process.env.PATH ?? "", TZ: "UTC", ...env },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let output = "";
  let isReady = (_: boolean): void => undefined;
  const ready = new Promise<boolean>((resolve) => {
    isReady = resolve;
  });
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on("data", (chunk: Buffer) => {
      output = (output + chunk.toString()).slice(-2_000_000);
      if (output.includes("ready\n")) isReady(true);
    });
  }
  const ended = new Promise<{ code: number | null; signal: string | null }>((resolve) => {
    child.once("exit", (code, signal) => {
      isReady(false);
      resolve({ code, signal });
    });
  });
  return {
    child,
    output: () => output,
    ready,
    ended,
    async kill(signal) {
      if (child.exitCode === null && child.signalCode === null) child.kill(signal);
      await ended;
    },
    memory() {
      const found = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${child.pid}/status`, "utf8"));
      return Number(found?.[1] ?? 0) * 1024;
    },
  };
}

export async function until(holds: () => boolean, mostMs: number, what: string): Promise<void> {
  const end = performance.now() + mostMs;
  while (!holds()) {
    if (performance.now() > end) throw new Error(`waited ${mostMs} ms in vain: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}

export const pause = (ms: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, ms));
