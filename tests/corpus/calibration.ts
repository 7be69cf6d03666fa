/**
 * Prints how often entries were right by how sure the reader was: `npx tsx tests/corpus/calibration.ts`.
 * An entry is right if the case expects exactly that entry. Of the part set aside only sums are shown.
 */
import { compare } from "./compare.js";
import { type CorpusPart, loadCorpus } from "./index.js";

interface Row {
  right: number;
  all: number;
}

export function calibration(part: CorpusPart): ReadonlyMap<number, Readonly<Row>> {
  const rows = new Map<number, Row>();
  for (const one of loadCorpus(part))
    for (const { confidence, right } of compare(one).drafts) {
      const row = rows.get(confidence) ?? { right: 0, all: 0 };
      row.all += 1;
      if (right) row.right += 1;
      rows.set(confidence, row);
    }
  return new Map([...rows].sort(([a], [b]) => b - a));
}

if (process.argv[1]?.endsWith("calibration.ts")) {
  const parts = [calibration("tuning"), calibration("set-aside")] as const;
  const levels = [...new Set(parts.flatMap((rows) => [...rows.keys()]))].sort((a, b) => b - a);
  const cell = (row: Readonly<Row> | undefined): string =>
    row ? `${row.right} of ${row.all} (${((100 * row.right) / row.all).toFixed(1)} %)` : "none";
  console.log("| said sureness | tuning right | set aside right |\n| --- | --- | --- |");
  for (const level of levels)
    console.log(`| ${level} | ${cell(parts[0].get(level))} | ${cell(parts[1].get(level))} |`);
}
