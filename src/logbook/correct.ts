/** Which recorded figure a correction means: the last one that matches. */

import { toCamel } from "./contract.js";
import { type DraftOf, FACT_SCHEMAS, type Fact, type FactKind } from "./entry.js";
import type { ChatView, Entry, IngotName } from "./log-store.js";

export interface Correction {
  readonly field: string;
  readonly from?: number | string;
  readonly to: number | string;
  readonly changes: readonly {
    readonly old: Entry;
    readonly fact: Fact;
    readonly ingotId?: string;
  }[];
  readonly problem?:
    | { readonly code: "out-of-range"; readonly field: string; readonly value: number | string }
    | { readonly code: "no-such-ingot"; readonly name: string };
}

type Turns = ChatView["lastTurns"];

/** Figures compare within this share: what was typed, through one unit conversion. */
const SAME_FIGURE = 1e-6;
/** A new figure without a label goes to the one it is nearest to, if none other is within this factor. */
const NEAR_FACTOR = 2;

/** The change that a `correct` asks for, or undefined when nothing in the last turns matches. */
export function correctLast(
  body: DraftOf<"correct">,
  turns: Turns,
  named: ReadonlyMap<string, IngotName>,
): Correction | undefined {
  const { to } = body;
  if (to === undefined) return undefined;
  if (body.field === "ingot") return moveToIngot(String(to), turns, named);
  const field = body.field === undefined ? undefined : toCamel(body.field);
  // `make that 950` means what was said last; a figure denied or named is looked for further back.
  const near = field === undefined && body.from === undefined ? turns.slice(0, 1) : turns;
  for (const turn of near) {
    for (const old of [...turn.entries].reverse()) {
      const hit = old.fact && fieldToChange(old.fact, field, body.from, to);
      if (old.fact && hit !== undefined) return changed(old, old.fact, hit, to);
    }
  }
  return undefined;
}

function changed(old: Entry, fact: Fact, field: string, to: number | string): Correction {
  const before = (fact as Record<string, unknown>)[field];
  const from = typeof before === "number" || typeof before === "string" ? { from: before } : {};
  const candidate = sortedAgain({ ...fact, [field]: to }, old.implied);
  const parsed = FACT_SCHEMAS[fact.kind as FactKind].safeParse(candidate);
  const base = { field, ...from, to };
  if (!parsed.success) {
    return { ...base, changes: [], problem: { code: "out-of-range", field, value: to } };
  }
  return { ...base, changes: [{ old, fact: parsed.data as Fact }] };
}

const SORTED = ["thicknessMm", "widthMm", "lengthMm"] as const;

/** Three bare figures of a bar were sorted when they were read; with one of them put right they are again. */
function sortedAgain(
  fact: Readonly<Record<string, unknown>>,
  implied: readonly string[],
): Readonly<Record<string, unknown>> {
  const figures = SORTED.map((name) => fact[name]);
  const bare = SORTED.filter((name) => implied.includes(name)).length >= 2;
  if (fact.kind !== "size" || !bare || figures.some((value) => typeof value !== "number"))
    return fact;
  const [thicknessMm, widthMm, lengthMm] = (figures as number[]).sort((a, b) => a - b);
  return { ...fact, thicknessMm, widthMm, lengthMm };
}

function fieldToChange(
  fact: Fact,
  field: string | undefined,
  from: number | string | undefined,
  to: number | string,
): string | undefined {
  const figures = Object.entries(fact).filter(
    ([name, value]) => name !== "kind" && name !== "approx" && typeof value === typeof to,
  );
  if (field !== undefined) {
    const there = field in FACT_SCHEMAS[fact.kind].shape;
    const same =
      from === undefined || figures.some(([name, value]) => name === field && equal(value, from));
    return there && same && (from !== undefined || field in fact) ? field : undefined;
  }
  if (from !== undefined) return figures.find(([, value]) => equal(value, from))?.[0];
  if (typeof to !== "number") return undefined;
  // A heat's or a melt's number is put right by its name only.
  const near = figures
    .filter(([name]) => name !== "number")
    .map(([name, value]) => ({ name, factor: Math.exp(Math.abs(Math.log(Number(value) / to))) }))
    .filter(({ factor }) => factor < NEAR_FACTOR)
    .sort((a, b) => a.factor - b.factor);
  const [only] = figures;
  return near[0]?.name ?? (figures.length === 1 && only?.[0] !== "number" ? only?.[0] : undefined);
}

const equal = (value: unknown, from: number | string): boolean =>
  typeof value === "number" && typeof from === "number"
    ? Math.abs(value - from) <= SAME_FIGURE * Math.max(Math.abs(from), 1)
    : String(value).toLowerCase() === String(from).toLowerCase();

function moveToIngot(
  name: string,
  turns: Turns,
  named: ReadonlyMap<string, IngotName>,
): Correction | undefined {
  const turn = turns[0];
  if (turn === undefined) return undefined;
  const target = named.get(name.toLowerCase());
  if (target === undefined) {
    return { field: "ingot", to: name, changes: [], problem: { code: "no-such-ingot", name } };
  }
  const changes = turn.entries.flatMap((old) =>
    old.fact !== undefined && old.ingotId !== undefined && old.kind !== "switch"
      ? [{ old, fact: old.fact, ingotId: target.ingotId }]
      : [],
  );
  return changes.length === 0 ? undefined : { field: "ingot", to: target.name, changes };
}
