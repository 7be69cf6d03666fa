/** Starts `writer-child.ts` as a process of its own and follows what it says. */
import { type ChildProcess, spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

const CHILD = fileURLToPath(new URL("writer-child.ts", import.meta.url));
const ROOT = fileURLToPath(new URL("../..", import.meta.url));

export interface Writer {
  /** Lines so far; a last line without its end is not counted. */
  readonly lines: readonly string[];
  /** Resolves when `count` lines are there or the process has ended. */
  said(count: number): Promise<void>;
  kill(): Promise<void>;
}

export function startWriter(file: string, run: string): Writer {
  const child = spawn(process.execPath, ["--import", "tsx", CHILD, file, run], {
    cwd: ROOT,
    stdio: ["ignore", "pipe", "inherit"],
  });
  const lines: string[] = [];
  let rest = "";
  let waiting: { count: number; done: () => void }[] = [];
  const wake = (all: boolean): void => {
    for (const { done } of waiting.filter(({ count }) => all || lines.length >= count)) done();
    waiting = waiting.filter(({ count }) => !all && lines.length < count);
  };
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    const parts = (rest + text).split("\n");
    rest = parts.pop() ?? "";
    lines.push(...parts);
    wake(false);
  });
  const ended = new Promise<void>((resolve) => {
    child.on("close", () => {
      wake(true);
      resolve();
    });
  });
  return {
    lines,
    said: (count) =>
      lines.length >= count || hasEnded(child)
        ? Promise.resolve()
        : new Promise((done) => waiting.push({ count, done })),
    async kill() {
      child.kill("SIGKILL");
      await ended;
    },
  };
}

const hasEnded = (child: ChildProcess): boolean =>
  child.exitCode !== null || child.signalCode !== null;
