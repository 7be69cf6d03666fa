/** Processor time of a database server, from the kernel's accounts. */
import { readdirSync, readFileSync } from "node:fs";

/** Ticks of the kernel's clock, ms. */
const TICK_MS = 10;

/** Processor time of the server and all its processes, those that ended counted in. Linux only; else NaN. */
export function serverCpuMs(pid: number): number {
  const ticks = (id: string): { parent: number; own: number; ended: number } | undefined => {
    try {
      const stat = readFileSync(`/proc/${id}/stat`, "utf8");
      const fields = stat
        .slice(stat.lastIndexOf(")") + 2)
        .split(" ")
        .map(Number);
      const [parent, user, system, userEnded, systemEnded] = [1, 11, 12, 13, 14].map(
        (at) => fields[at] ?? 0,
      ) as [number, number, number, number, number];
      return { parent, own: user + system, ended: userEnded + systemEnded };
    } catch {
      return undefined;
    }
  };
  const server = ticks(String(pid));
  if (server === undefined) return Number.NaN;
  let total = server.own + server.ended;
  for (const id of readdirSync("/proc").filter((name) => /^\d+$/.test(name))) {
    const process = ticks(id);
    if (process?.parent === pid) total += process.own;
  }
  return total * TICK_MS;
}
