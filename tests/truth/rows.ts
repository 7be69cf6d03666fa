/** Truth rows: figures from outside, typed in, each with its source, its tolerance and the reason for it. */
import { readdirSync, readFileSync } from "node:fs";
import { z } from "zod";

const here = new URL(".", import.meta.url);

const row = z.strictObject({
  id: z.string().regex(/^[a-z]+-\d{3}$/),
  /** Id in docs/sources.md. */
  source: z.string().regex(/^S\d{2}$/),
  /** How the figure is known: see the head of docs/sources.md. */
  mark: z.enum(["read", "abstract", "memory", "exact"]),
  /** published: the source prints this number. computed: its formula, worked apart from our code. exact: mathematics or definition. */
  valueKind: z.enum(["published", "computed", "exact"]),
  formula: z.string().min(1),
  inputs: z.record(z.string(), z.union([z.number(), z.string()])),
  expected: z.number(),
  unit: z.string(),
  /** Absolute, in the unit. */
  tolerance: z.number().nonnegative(),
  /** Why the tolerance is as wide as it is. */
  why: z.string().min(3),
});

export type TruthRow = z.infer<typeof row>;
export type Inputs = TruthRow["inputs"];

/** Every row of every `*.truth.json` beside this file; a bad row or an id used twice is an error. */
export function truthRows(): readonly TruthRow[] {
  const rows = readdirSync(here)
    .filter((name) => name.endsWith(".truth.json"))
    .sort()
    .flatMap((name) => z.array(row).parse(JSON.parse(readFileSync(new URL(name, here), "utf8"))));
  const seen = new Set<string>();
  for (const { id } of rows) {
    if (seen.has(id)) throw new Error(`truth row ${id} stands twice`);
    seen.add(id);
  }
  return rows;
}

/** Ids of docs/sources.md, so that no row can name a source that is not listed. */
export const sourceIds = (): ReadonlySet<string> =>
  new Set(
    [
      ...readFileSync(new URL("../../docs/sources.md", here), "utf8").matchAll(
        /^- \*\*\[(S\d{2})\]\*\*/gm,
      ),
    ].map((match) => match[1] as string),
  );
