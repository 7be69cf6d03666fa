/** Melts from their entries: what is said bit by bit in a day becomes one record. */
import type { FactOf } from "./entry.js";
import { byHappening, standing } from "./fold.js";
import type { Entry } from "./log-store.js";
import { withoutUndefined } from "./shop.js";

export type MeltFacts = Omit<FactOf<"melt">, "kind" | "at">;

export interface MeltState {
  /** Left out when nobody said one. */
  readonly number?: number;
  /** When it was first and last spoken of, ISO 8601 in UTC. */
  readonly at: string;
  readonly until: string;
  readonly smithId: string;
  readonly entryIds: readonly string[];
  readonly facts: MeltFacts;
}

/**
 * The melts of a chat, in the order they began. Entries with a number go to the melt of that number; entries without one go to
 * the day's last melt while they do not contradict it, and begin a new one if they do. A melt begun without a number takes the first
 * one that fits.
 * `dayOf` gives the date of a moment where the shop stands; unless given, the date in UTC.
 */
export function foldMelts(
  entries: readonly Entry[],
  dayOf: (iso: string) => string = (iso) => iso.slice(0, 10),
): readonly MeltState[] {
  const melts: MeltState[] = [];
  for (const entry of [...standing(entries)].sort(byHappening)) {
    if (entry.fact?.kind !== "melt") continue;
    const index = meltFor(melts, entry, entry.fact, dayOf);
    const before = melts[index];
    if (before === undefined) melts.push(opened(entry, entry.fact));
    else melts[index] = merged(before, entry, entry.fact);
  }
  return melts;
}

/** Index of the melt that the entry tells of, −1 for a new one. */
function meltFor(
  melts: readonly MeltState[],
  entry: Entry,
  fact: FactOf<"melt">,
  dayOf: (iso: string) => string,
): number {
  if (fact.number !== undefined) {
    const same = melts.findLastIndex(({ number }) => number === fact.number);
    if (same >= 0) return same;
  }
  const last = melts.at(-1);
  if (fact.number !== undefined && last?.number !== undefined) return -1;
  const goesOn =
    last !== undefined && dayOf(last.until) === dayOf(entry.at) && agrees(last.facts, fact);
  return goesOn ? melts.length - 1 : -1;
}

const SINGLE = [
  "massG",
  "temperatureC",
  "durationMin",
  "cooling",
  "carbonPct",
  "ingotG",
] as const satisfies readonly (keyof MeltFacts)[];

function agrees(known: MeltFacts, said: MeltFacts): boolean {
  const same = SINGLE.every(
    (field) =>
      known[field] === undefined || said[field] === undefined || known[field] === said[field],
  );
  const parts = said.charge ?? [];
  // Weighed in after an ingot came out: another melt, though of the same materials.
  const charged = parts.length > 0 || said.massG !== undefined;
  if (known.ingotG !== undefined && charged && said.ingotG === undefined) return false;
  return same && parts.every(({ what, massG }) => !isOther(known, what, massG));
}

/** The same material with another mass: another charge. */
function isOther(known: MeltFacts, what: string, massG: number | undefined): boolean {
  const before = known.charge?.find((part) => part.what.toLowerCase() === what.toLowerCase());
  return before?.massG !== undefined && massG !== undefined && before.massG !== massG;
}

function opened(entry: Entry, fact: FactOf<"melt">): MeltState {
  return {
    ...(fact.number === undefined ? {} : { number: fact.number }),
    at: entry.at,
    until: entry.at,
    smithId: entry.smithId,
    entryIds: [entry.id],
    facts: facts(fact),
  };
}

function merged(melt: MeltState, entry: Entry, fact: FactOf<"melt">): MeltState {
  const said = facts(fact);
  const charge = [...(melt.facts.charge ?? [])];
  for (const part of said.charge ?? []) {
    const at = charge.findIndex(({ what }) => what.toLowerCase() === part.what.toLowerCase());
    if (at < 0) charge.push(part);
    else charge[at] = { ...charge[at], ...withoutUndefined(part) };
  }
  return {
    ...melt,
    ...(fact.number === undefined ? {} : { number: fact.number }),
    until: entry.at,
    entryIds: [...melt.entryIds, entry.id],
    facts: { ...melt.facts, ...said, ...(charge.length === 0 ? {} : { charge }) },
  };
}

function facts(fact: FactOf<"melt">): MeltFacts {
  const { kind: _kind, at: _at, ...rest } = fact;
  return withoutUndefined(rest);
}

/** Mass of the charge, g: as said, else its parts together when each was weighed. */
export function chargeMassG({ massG, charge }: MeltFacts): number | undefined {
  if (massG !== undefined) return massG;
  if (charge === undefined || charge.length === 0) return undefined;
  const sum = charge.reduce((total, part) => total + (part.massG ?? Number.NaN), 0);
  return Number.isNaN(sum) ? undefined : sum;
}
