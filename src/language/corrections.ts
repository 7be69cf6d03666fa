/** `no, 38 not 83`, `make that 950`, `I meant grams`, `wrong ingot, that was seven`. Looked for in the whole message. */
import type { ReadingContext } from "./context.js";
import {
  dimensionOf,
  fieldFor,
  inField,
  lastFields,
  loose,
  made,
  near,
  saidOf,
  shareUnit,
} from "./correction-field.js";
import { ingotTold, wrongIngot } from "./correction-ingot.js";
import { otherUnit, unitSwap, unitTold } from "./correction-unit.js";
import type { Body } from "./ledger.js";
import { asMm, type Fig, means, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";
import { undoneIn } from "./undo-words.js";

/** The correction in a message, if that is what it is. */
export function readCorrection(
  parts: readonly Part[],
  context: ReadingContext,
  sentence: Sentence,
): Body | undefined {
  // `no, scratch that, it was 26 thick`: taken back, and then a new fact.
  const all = sentence.raw(parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0);
  if (undoneIn(all) || parts.some((part) => means(part, "say") === "undo")) return undefined;
  const named = ingotTold(all);
  if (named && (context.last ?? []).length > 0) return named;
  const wrong = parts.findIndex((part) => means(part, "say") === "wrong ingot");
  if (wrong >= 0) return wrongIngot(parts, wrong, sentence);
  const place = wrongPlace(parts, context);
  if (place) return place;
  const content = parts.filter((part) => part.type !== "stop");
  const words = sentence.lower(parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0);
  if (/^(that|those|it|they) (was|were|is|are)( in)? \w+$/.test(words)) {
    const unit = means(content[content.length - 1], "unit");
    if (unit !== undefined && (context.last ?? []).length > 0) return otherUnit(unit, context);
  }
  const changed =
    /^((oh dear|please|could you|would you|can you|kindly)[ ,]*)*(change|make the|put the|set the|correct the)\b/.test(
      words,
    )
      ? change(content, context)
      : undefined;
  if (changed) return changed;
  const swapped = unitSwap(content, context);
  if (swapped) return swapped;
  const unit = (context.last ?? []).length > 0 ? unitTold(content, words, context) : undefined;
  if (unit) return unit;
  const said = content.filter((part) => saidOf(part) !== undefined);
  // `heat 2 was at 940 not 960`: the heat's number only tells which one.
  const every: readonly Part[] = content;
  const melt = (part: Part): boolean => means(every[every.indexOf(part) - 1], "kind") === "melt";
  const figures =
    said.length > 2 ? said.filter((part) => part.type !== "number of heat" && !melt(part)) : said;
  const starts = content.findIndex(
    (part) => means(part, "filler") === undefined || means(part, "say") !== undefined,
  );
  const lead = content[starts];
  const say = means(lead, "say");
  const opens = say === "no" || say === "meant" || say === "make that" || say === "not";
  const not = content.findIndex(
    (part) =>
      means(part, "say") === "not" ||
      (part.type === "unknown" && sentence.lower(part.from, part.to) === "never"),
  );
  const labelled = figures.some((part) => part.type === "figure" && part.label !== undefined);
  const other = content.some(
    (part) =>
      part.type === "unknown" ||
      part.type === "colour" ||
      part.type === "time" ||
      ["op", "removal", "about", "ask", "place"].some(
        (group) => means(part, group) !== undefined,
      ) ||
      // `the crack was 3 deep not 4`: a crack has one depth.
      (means(part, "kind") === "crack" && !(not >= 0 && labelled)) ||
      (means(part, "kind") !== undefined && !/^(heat|crack)$/.test(means(part, "kind") ?? "")) ||
      (part.type === "figure" && part.chain !== undefined),
  );
  // `the second heat was at 905 not 915`, `the ingot was 460 g not 450`, said later: which one is found in the log.
  const was = /\b(was|were|is|it's|should be|should have been)\b/.test(words);
  if (not >= 0 && figures.length === 2 && was) {
    const said = denied(content, figures, not, sentence, context);
    if (said) return said;
  }
  if (not >= 0 && figures.length === 2 && other) {
    const told = recorded(content, figures, not, sentence, context);
    if (told) return told;
  }
  if (other) return undefined;
  if (say === "meant" || say === "make that" || say === "no") {
    const unit = content.find(
      (part) => means(part, "unit") !== undefined || means(part, "kind") !== undefined,
    );
    const name = means(unit, "unit");
    if (figures.length === 0 && name !== undefined && say !== "no") return otherUnit(name, context);
  }
  if (not >= 0 && figures.length === 2) {
    const [one, two] = figures;
    if (!one || !two) return undefined;
    const firstAt = content.indexOf(one);
    const secondAt = content.indexOf(two);
    const to = saidOf(figures[not < firstAt ? 1 : 0]);
    const from = saidOf(figures[not < firstAt ? 0 : 1]);
    if (!to || !from || not > secondAt) return undefined;
    if (
      !content.every(
        (part) =>
          loose(part) ||
          saidOf(part) !== undefined ||
          means(part, "say") !== undefined ||
          /^(heat|crack)$/.test(means(part, "kind") ?? ""),
      )
    )
      return undefined;
    shareUnit(to, from);
    const field = fieldFor(to, from, parts, sentence, context);
    return made(inField(to, field, context), inField(from, field, context), field);
  }
  if (!opens || figures.length !== 1 || say === "not") return undefined;
  const to = saidOf(figures[0]);
  if (
    !to ||
    !content.every(
      (part) =>
        loose(part) ||
        saidOf(part) !== undefined ||
        means(part, "say") !== undefined ||
        means(part, "kind") === "heat",
    )
  )
    return undefined;
  if (
    say === "no" &&
    to.fig &&
    context.last === undefined &&
    to.fig.label === undefined &&
    to.fig.dimension === undefined &&
    content.some((part) => means(part, "kind") === "heat")
  )
    return undefined;
  const field = fieldFor(to, undefined, parts, sentence, context);
  return made(inField(to, field, context), undefined, field);
}

/** Two figures of one dimension, one denied: nothing is logged a second time, whether it was said just now or long ago. */
function denied(
  content: readonly Part[],
  figures: readonly Part[],
  not: number,
  sentence: Sentence,
  context: ReadingContext,
): Body | undefined {
  const [one, two] = figures;
  if (!one || !two) return undefined;
  const strange = content.some(
    (part) =>
      part.type === "time" ||
      means(part, "about") !== undefined ||
      means(part, "ask") !== undefined ||
      (part.type === "figure" && part.chain !== undefined),
  );
  const at = content.indexOf(two);
  if (strange || not > at || content.indexOf(one) > not) return undefined;
  const [to, from] = [saidOf(one), saidOf(two)];
  if (!to?.fig || !from?.fig) return undefined;
  shareUnit(to, from);
  if (to.fig.dimension !== from.fig.dimension) return undefined;
  const field = fieldFor(to, from, content, sentence, context);
  return made(inField(to, field, context), inField(from, field, context), field);
}

/** `the crack was 2 deep not 5`: whatever else is said, the figure denied is one that was just recorded. */
function recorded(
  content: readonly Part[],
  figures: readonly Part[],
  not: number,
  sentence: Sentence,
  context: ReadingContext,
): Body | undefined {
  const [one, two] = figures;
  const strange = content.some(
    (part) =>
      part.type === "unknown" ||
      part.type === "time" ||
      means(part, "about") !== undefined ||
      means(part, "ask") !== undefined ||
      (part.type === "figure" && part.chain !== undefined),
  );
  if (!one || !two || strange) return undefined;
  const denied = content.indexOf(one) > not ? one : two;
  if (content.indexOf(denied) < not) return undefined;
  const to = saidOf(denied === one ? two : one);
  const from = saidOf(denied);
  if (!to || !from) return undefined;
  shareUnit(to, from);
  const field = fieldFor(to, from, content, sentence, context);
  const known = lastFields(context.last ?? []).some(
    (one) => one.field === field && near(one.value, inField(from, field, context)),
  );
  return known
    ? made(inField(to, field, context), inField(from, field, context), field)
    : undefined;
}

/** `not the face, the spine`, `I meant the spine`: only places, and a word that puts right. */
function wrongPlace(parts: readonly Part[], context: ReadingContext): Body | undefined {
  const last = [...(context.last ?? [])].reverse();
  const recorded = last.find((fact) => "place" in fact && fact.place !== undefined);
  if (!recorded || !("place" in recorded)) return undefined;
  const rest: readonly Part[] = parts.filter((part) => part.type !== "stop");
  const places = rest.filter((part) => means(part, "place") !== undefined);
  const says = rest.filter((part) => /^(no|not|meant|make that)$/.test(means(part, "say") ?? ""));
  const only = rest.every(
    (part) =>
      places.includes(part) ||
      says.includes(part) ||
      means(part, "filler") !== undefined ||
      means(part, "kind") === recorded.kind,
  );
  if (!only || says.length === 0 || places.length === 0 || places.length > 2) return undefined;
  const denied = (part: Part): boolean => {
    const at = rest.indexOf(part);
    const before = rest.slice(Math.max(0, at - 2), at);
    return before.some((one) => means(one, "say") === "not");
  };
  // `I said edge, I meant spine`: what was recorded is the wrong one.
  const wrong =
    places.find(denied) ??
    (places.length === 2
      ? places.find((part) => means(part, "place") === recorded.place)
      : undefined);
  const right = places.find((part) => part !== wrong);
  if (places.length === 2 && wrong === undefined) return undefined;
  const to = means(right, "place");
  if (to === undefined) return undefined;
  const from = means(wrong, "place");
  return { kind: "correct", ...(from !== undefined && { from }), to, field: "place" };
}

/** `change that to 941`, `make the tang 90`: the only field that it can be. */
function lone(fig: Fig, content: readonly Part[], context: ReadingContext): string | undefined {
  const fields = lastFields(context.last ?? []).filter((one) => one.field !== "number");
  const tang = content.some((part) => means(part, "place") === "tang");
  if (tang) return fields.some((one) => one.field === "tangLengthMm") ? "tangLengthMm" : undefined;
  const [only, ...others] = fields.filter(
    (one) => fig.dimension === undefined || dimensionOf(one.field) === fig.dimension,
  );
  return others.length === 0 ? only?.field : undefined;
}

/** `make the soak 12 min`: only one field has such a unit. */
const OF_DIMENSION: Readonly<Record<string, string>> = {
  duration: "durationMin",
  temperature: "temperatureC",
};
/** `change 950 to 915`, `change the width to 36`. */
function change(content: readonly Part[], context: ReadingContext): Body | undefined {
  const figures = content.filter((part): part is Fig => part.type === "figure");
  const fig = figures[0];
  if (!fig || figures.length !== 1 || fig.chain !== undefined) return undefined;
  const replaced = fig.low;
  const recorded = lastFields(context.last ?? []).find(
    (one) =>
      replaced !== undefined &&
      near(
        one.value,
        dimensionOf(one.field) === "length"
          ? asMm({ ...fig, value: replaced }, context.units === "inch")
          : replaced,
      ),
  );
  const field =
    fig.label === undefined || fig.label === "square"
      ? (recorded?.field ??
        OF_DIMENSION[fig.dimension ?? ""] ??
        (replaced === undefined ? lone(fig, content, context) : undefined))
      : fig.label;
  const value = (one: number): number =>
    field?.endsWith("Mm") ? asMm({ ...fig, value: one }, context.units === "inch") : one;
  return made(
    value(fig.top ?? fig.value),
    fig.low === undefined ? undefined : value(fig.low),
    field,
  );
}
