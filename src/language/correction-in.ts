/** Where in a message a correction stands: the whole of it, or what comes before a stop; the rest is new. */
import { toCamel } from "../logbook/index.js";
import type { ReadingContext } from "./context.js";
import { lastFields, near } from "./correction-field.js";
import { readCorrection } from "./corrections.js";
import { mayCorrect, toldCorrection } from "./corrections-told.js";
import type { Body } from "./ledger.js";
import { means, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";
import { undoneIn } from "./undo-words.js";

export interface Corrected {
  readonly bodies: readonly Body[];
  /** Parts that say something else. */
  readonly rest: readonly Part[];
}

const isAnd = (part: Part): boolean => part.type === "mark" && /^(and|so)\b/.test(part.words);
const MOST_CUTS = 6;

function corrects(
  parts: readonly Part[],
  context: ReadingContext,
  sentence: Sentence,
): readonly Body[] | undefined {
  const one = readCorrection(parts, context, sentence);
  if (one) return [one];
  const [from, to] = [parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0];
  const words = `${sentence.lower(from, to)}\n${sentence.understood(from, to)}`;
  return toldCorrection(parts, context, words, (part) => sentence.raw(part.from, part.to));
}

const standsSo = (body: Body, context: ReadingContext): boolean =>
  body.from === undefined &&
  typeof body.field === "string" &&
  typeof body.to === "number" &&
  lastFields(context.last ?? []).some(
    (one) => one.field === toCamel(String(body.field)) && near(one.value, Number(body.to)),
  );

/** The message speaks of something that the corrected entry is not. */
function strays(parts: readonly Part[], body: Body, context: ReadingContext): boolean {
  const field = typeof body.field === "string" ? toCamel(body.field) : undefined;
  if (field === "ingot")
    return parts.some(
      (part) =>
        part.type === "number of heat" ||
        (part.type === "figure" && part.dimension !== undefined && part.dimension !== "length"),
    );
  if (field === undefined || /^(unit|melt|tangLengthMm|pipe\w+)$/.test(field)) return false;
  const kinds = new Set(
    (context.last ?? []).filter((fact) => field in fact).map((fact) => String(fact.kind)),
  );
  if (kinds.size === 0) return false;
  return parts.some((part) => {
    const kind = means(part, "kind");
    if (kind !== undefined && /^(crack|heat|finish|ingot|melt)$/.test(kind) && !kinds.has(kind))
      return true;
    const placed = means(part, "place") !== undefined || means(part, "severity") !== undefined;
    return (
      (placed && !kinds.has("crack") && !kinds.has("removal") && field !== "route") ||
      (part.type === "number of heat" && !kinds.has("heat"))
    );
  });
}

/** The correction that a message is or begins with. */
export function correctionIn(
  parts: readonly Part[],
  context: ReadingContext,
  sentence: Sentence,
): Corrected | undefined {
  const all = sentence.raw(parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0);
  if (undoneIn(all)) return undefined;
  // Most messages put nothing right: a look at their words is enough to know.
  const read = sentence.understood(parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0);
  if (
    !mayCorrect(all) &&
    !mayCorrect(read) &&
    !parts.some((part) => means(part, "say") !== undefined)
  )
    return undefined;
  const stop = parts.findIndex((part, i) => i > 0 && part.type === "stop" && part.hard);
  const after = stop < 0 ? [] : parts.slice(stop + 1);
  // `its 2 deep not 12. ground it out`: put right, and then something new.
  if (after.some((part) => ["op", "removal"].some((group) => means(part, group) !== undefined))) {
    const first = corrects(parts.slice(0, stop), context, sentence);
    if (first && !first.some((one) => standsSo(one, context)))
      return { bodies: first, rest: after };
  }
  const whole = corrects(parts, context, sentence);
  const [body] = whole ?? [];
  if (whole && body && !strays(parts, body, context)) return { bodies: whole, rest: [] };
  const cuts = parts.flatMap((part, i) =>
    i > 0 && i < parts.length - 1 && (part.type === "stop" || isAnd(part)) ? [i] : [],
  );
  for (const cut of cuts.slice(0, MOST_CUTS)) {
    const bodies = corrects(parts.slice(0, cut), context, sentence);
    // `I said 24 thick, …`: that stands so already.
    if (bodies?.some((one) => standsSo(one, context))) continue;
    if (bodies) return { bodies, rest: parts.slice(cut + 1) };
  }
  return undefined;
}
