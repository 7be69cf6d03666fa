/** What this message put into the log, in one line. */
import type { Decision, Fact, IngotState, NewEntry } from "../logbook/index.js";
import { type ChatUnits, formatLength, formatMass, formatTemperature } from "../units/index.js";
import { factWords } from "./read-back.js";
import { fieldWords, firstFew } from "./words.js";

/** Undefined when nothing was recorded. */
export function recordLine(decision: Decision, chat: ChatUnits): string | undefined {
  const units: ChatUnits = { ...chat, exact: true };
  const corrected = decision.corrections.flatMap(({ changes, field, from, to }) => {
    if (changes.length === 0) return [];
    if (field === "ingot") return [`Moved to ingot ${to}`];
    const not = from === undefined ? "" : `, not ${figure(field, from, units)}`;
    const words = fieldWords(field);
    return [`${words.charAt(0).toUpperCase()}${words.slice(1)} ${figure(field, to, units)}${not}`];
  });
  const fresh = decision.entries.filter((entry) => isSaid(decision, entry));
  const words = [
    ...(decision.switchedTo === undefined ? [] : [`Ingot ${decision.switchedTo} in hand`]),
    ...corrected,
    ...fresh.map(({ id, fact }) =>
      factWords(fact as Fact, units, numberOf(decision.state, id, fact as Fact)),
    ),
  ];
  return words.length === 0 ? undefined : firstFew(words);
}

/** Said by this message itself: not a copy that undo or a correction wrote. */
function isSaid(decision: Decision, { fact, replaces, kind }: NewEntry): boolean {
  if (fact === undefined || kind === "switch") return false;
  if (replaces === undefined) return true;
  return decision.undone.length === 0 && decision.corrections.length === 0;
}

/** The number that a heat has got; a further word on a heat goes to the last one. */
function numberOf(state: IngotState | undefined, id: string, fact: Fact): number | undefined {
  if (fact.kind !== "heat" || state === undefined) return undefined;
  const heat = state.heats.find(({ entryId }) => entryId === id) ?? state.heats.at(-1);
  return heat?.value.number;
}

function figure(field: string, value: number | string, units: ChatUnits): string {
  if (typeof value === "string") return value;
  if (field.endsWith("Mm")) return formatLength(value, units);
  if (field === "temperatureC") return formatTemperature(value, units);
  if (field.endsWith("G")) return formatMass(value, units);
  return String(Math.round(value * 100) / 100);
}
