/** A page to print, written where the command line says. */
import { writeFile } from "node:fs/promises";
import { type PrintedSheet, printPage } from "../report/index.js";
import { Refused } from "./refused.js";

/** Throws `Refused` when the file cannot be written. */
export async function writePage(file: string, sheets: readonly PrintedSheet[]): Promise<void> {
  const title = sheets[0]?.drawing.title ?? "";
  try {
    await writeFile(file, printPage(title, sheets), { mode: 0o600 });
  } catch (cause) {
    throw new Refused(`cannot write ${file}: ${(cause as Error).message}`);
  }
}
