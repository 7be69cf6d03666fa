/** Writes docs/accuracy.md: how far each formula lies from the rows of tests/truth. */
import { writeFileSync } from "node:fs";
import { allFormulas, type Formulas } from "./formulas.js";
import { type TruthRow, truthRows } from "./rows.js";

interface Group {
  readonly formula: string;
  readonly source: string;
  readonly unit: string;
  readonly rows: readonly TruthRow[];
}

function grouped(rows: readonly TruthRow[]): readonly Group[] {
  const groups = new Map<string, TruthRow[]>();
  for (const row of rows) {
    const key = `${row.formula} ${row.source} ${row.unit}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return [...groups.values()].map((of) => {
    const first = of[0] as TruthRow;
    return { formula: first.formula, source: first.source, unit: first.unit, rows: of };
  });
}

const short = (value: number): string =>
  value === 0 ? "0" : Math.abs(value) < 1e-9 ? "< 1e-9" : String(Number(value.toPrecision(3)));

function line({ formula, source, unit, rows }: Group, formulas: Formulas): string {
  const run = formulas[formula];
  if (!run) throw new Error(`no formula "${formula}"`);
  const errors = rows.map((row) => Math.abs(run(row.inputs) - row.expected));
  const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
  const count = (kind: TruthRow["valueKind"]) =>
    rows.filter((row) => row.valueKind === kind).length;
  const kinds = (["published", "computed", "exact"] as const)
    .filter((kind) => count(kind) > 0)
    .map((kind) => `${count(kind)} ${kind}`)
    .join(", ");
  const why = [...new Set(rows.map((row) => row.why))].join("; ");
  const limit = Math.max(...rows.map((row) => row.tolerance));
  return `| ${formula} | ${source} | ${kinds} | ${unit} | ${short(mean)} | ${short(Math.max(...errors))} | ${short(limit)} | ${why} |`;
}

export function accuracyPage(rows: readonly TruthRow[], formulas: Formulas): string {
  const count = (kind: TruthRow["valueKind"]) =>
    rows.filter((row) => row.valueKind === kind).length;
  return `# Accuracy

Written by \`npm run accuracy\` from the rows of \`tests/truth\`; do not edit by hand.

${rows.length} rows: ${count("published")} *published* (the source prints the number), ${count("computed")} *computed* (the source gives the formula, the number was
worked apart from our code) and ${count("exact")} *exact* (definition or mathematics). Only published rows speak for a number;
computed rows speak for the formula being the source's. Sources are listed in [sources.md](sources.md). Mean, largest and limit are
absolute, in the unit of the row; the limit is the widest of its rows.

| formula | source | rows | unit | mean error | largest | limit | why that limit |
| --- | --- | --- | --- | --- | --- | --- | --- |
${grouped(rows)
  .map((group) => line(group, formulas))
  .join("\n")}
`;
}

if (process.argv[1]?.endsWith("accuracy.ts")) {
  const page = accuracyPage(truthRows(), await allFormulas());
  writeFileSync(new URL("../../docs/accuracy.md", import.meta.url), page);
  console.log(`docs/accuracy.md: ${truthRows().length} rows`);
}
