/** Files that the terminal's chat was asked for: beside the log, readable by nobody else. */
import { writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { SentFile } from "../chat/index.js";

/** Writes over a file of that name: it shows the log as it is now. Returns the path. */
export function saveBeside(logFile: string): (file: SentFile) => Promise<string> {
  return async ({ bytes, name }) => {
    const path = join(dirname(logFile), name);
    await writeFile(path, bytes, { mode: 0o600 });
    return path;
  };
}
