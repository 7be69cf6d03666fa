import { read, readingToJson } from "../../src/language/index.js";
import type { Fact } from "../../src/logbook/index.js";
import { toCamel } from "../../src/logbook/index.js";
import { CORPUS_NOW, CORPUS_TIMEZONE, type CorpusCase, type ExpectedEntry } from "./index.js";

const RELATIVE = 1e-6;

/** What the reader made of a case, beside what was expected. */
export type Compared = Readonly<{
  /** All entries as expected, and asked if and only if expected. */
  exact: boolean;
  /** The leftovers too. */
  unread: boolean;
  /** A figure was recorded that was not said so, and nothing was asked. */
  wrongFigure: boolean;
  confidence: number;
  /** Each entry: how sure, and whether the case expects exactly it. */
  drafts: readonly { readonly confidence: number; readonly right: boolean }[];
  got: string;
}>;

function sameValue(field: string, got: unknown, want: unknown): boolean {
  if (field === "at") return Date.parse(String(got)) === Date.parse(String(want));
  if (typeof got === "number" && typeof want === "number")
    return Math.abs(got - want) <= RELATIVE * Math.max(1, Math.abs(want));
  if (Array.isArray(got) && Array.isArray(want))
    return got.length === want.length && got.every((one, i) => sameEntry(one, want[i]));
  return got === want;
}

function sameEntry(got: Record<string, unknown>, want: Record<string, unknown>): boolean {
  const fields = Object.keys(want);
  return (
    Object.keys(got).length === fields.length &&
    fields.every((field) => field in got && sameValue(field, got[field], want[field]))
  );
}

const figuresOf = (
  entries: readonly Record<string, unknown>[],
): { field: string; value: number }[] =>
  entries.flatMap((entry) =>
    Object.entries(entry).flatMap(([field, value]) =>
      typeof value === "number" ? [{ field: `${entry.kind}.${field}`, value }] : [],
    ),
  );

const lastOf = (last: readonly ExpectedEntry[]): Fact[] =>
  last.map((entry) =>
    Object.fromEntries(Object.entries(entry).map(([field, value]) => [toCamel(field), value])),
  ) as unknown as Fact[];

/** Reads one case and compares, entries in any order. */
export function compare(one: CorpusCase): Compared {
  const reading = read(one.text, {
    now: CORPUS_NOW,
    timezone: CORPUS_TIMEZONE,
    units: one.context?.units ?? "mm",
    ...(one.context?.last && { last: lastOf(one.context.last) }),
  });
  const json = readingToJson(reading);
  const entries = json.entries as Record<string, unknown>[];
  const open = [...one.entries];
  let matched = entries.length === open.length;
  const drafts = entries.map((entry, i) => {
    const at = open.findIndex((want) => sameEntry(entry, want));
    if (at < 0) matched = false;
    else open.splice(at, 1);
    return { confidence: reading.drafts[i]?.confidence ?? 0, right: at >= 0 };
  });
  const asked = reading.ask !== undefined;
  const wanted = figuresOf(one.entries);
  const wrongFigure =
    !asked &&
    figuresOf(entries).some(
      (got) =>
        !wanted.some((want) => want.field === got.field && sameValue("", got.value, want.value)),
    );
  return {
    exact: matched && asked === (one.ask ?? false),
    unread: JSON.stringify(json.unread) === JSON.stringify(one.unread ?? []),
    wrongFigure,
    confidence: reading.confidence,
    drafts,
    got: JSON.stringify({
      entries,
      unread: json.unread,
      ...(json.ask !== undefined && { ask: json.ask }),
    }),
  };
}
