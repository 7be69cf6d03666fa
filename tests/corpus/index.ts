import { readdirSync, readFileSync } from "node:fs";

/** One entry as `read` must print it; the field names are those of docs' contract. */
export type ExpectedEntry = Readonly<{ kind: string } & Record<string, unknown>>;

export type CorpusContext = Readonly<{ units?: "inch" | "mm"; last?: readonly ExpectedEntry[] }>;

/** A smith's message with what must be read from it; conventions in README.md beside this file. */
export type CorpusCase = Readonly<{
  id: string;
  text: string;
  context?: CorpusContext;
  entries: readonly ExpectedEntry[];
  unread?: readonly string[];
  ask?: true;
  tags: readonly string[];
}>;

/** `pending`: not read as it should be yet; each turns red when it is. */
export type CorpusPart = "tuning" | "set-aside" | "pending";

/** The moment at which every message of the corpus is read. */
export const CORPUS_NOW = "2026-05-12T14:30:00+02:00";
export const CORPUS_TIMEZONE = "Europe/Berlin";

/** All cases of one part, file by file in the order of the names. Throws if a file is not an array. */
export function loadCorpus(part: CorpusPart): readonly CorpusCase[] {
  const folder = new URL(`./${part}/`, import.meta.url);
  return readdirSync(folder)
    .filter((name) => name.endsWith(".json"))
    .sort()
    .flatMap((name) => {
      const cases: unknown = JSON.parse(readFileSync(new URL(name, folder), "utf8"));
      if (!Array.isArray(cases)) throw new RangeError(`${part}/${name}: not an array of cases`);
      return cases as CorpusCase[];
    });
}
