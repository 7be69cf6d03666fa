/** `no, 38 not 83`, `make that 950`, `I meant grams`, `wrong ingot, that was seven`. Looked for in the whole message. */
import { type Fact, toSnake } from "../logbook/index.js";
import { celsiusFromFahrenheit, fahrenheitFromCelsius, MM_PER_INCH } from "../units/index.js";
import type { ReadingContext } from "./context.js";
import { TEMP_FROM_C } from "./items.js";
import type { Body } from "./ledger.js";
import { cleanName } from "./names.js";
import { asMm, type Fig, means, type Part } from "./parts.js";
import { fahrenheit } from "./scales.js";
import type { Sentence } from "./sentence.js";
import { undoneIn } from "./undo-words.js";
import { UNITS, type UnitName } from "./units.js";

type Said = { readonly value: number; readonly fig: Fig | undefined; readonly heat: boolean };
const RELATIVE_ERROR = 1e-6;
const near = (a: number, b: number): boolean =>
  Math.abs(a - b) <= RELATIVE_ERROR * Math.max(Math.abs(a), Math.abs(b), 1);

/** Numeric fields of the last message's entries, last first. */
function lastFields(last: readonly Fact[]): { field: string; value: number }[] {
  const fields: { field: string; value: number }[] = [];
  for (const fact of [...last].reverse())
    for (const [field, value] of Object.entries(fact))
      if (typeof value === "number") fields.push({ field, value });
  return fields;
}

const dimensionOf = (field: string): string =>
  field.endsWith("Mm")
    ? "length"
    : field.endsWith("G")
      ? "mass"
      : field.endsWith("C")
        ? "temperature"
        : field.endsWith("Min")
          ? "duration"
          : "";

/** The figure as it would stand in a field. */
function inField(said: Said, field: string | undefined, context: ReadingContext): number {
  if (!said.fig) return said.value;
  const dimension = field === undefined ? undefined : dimensionOf(field);
  if (dimension === "length") return asMm(said.fig, context.units === "inch");
  if (dimension === "temperature") return fahrenheit(said.fig, context);
  return said.fig.dimension === undefined && said.fig.inches
    ? said.fig.value * MM_PER_INCH
    : said.fig.value;
}

function fieldFor(
  to: Said,
  from: Said | undefined,
  parts: readonly Part[],
  sentence: Sentence,
  context: ReadingContext,
): string | undefined {
  if (to.heat) return "number";
  const fields = lastFields(context.last ?? []);
  const dimension = to.fig?.dimension ?? from?.fig?.dimension;
  const alone = parts
    .map((part) => means(part, "noun") ?? means(part, "adj"))
    .find((one) => one !== undefined && /(Mm|G|Pct)$/.test(one));
  const label = to.fig?.label ?? from?.fig?.label ?? alone;
  const fits = (field: string): boolean =>
    (dimension === undefined || dimensionOf(field) === dimension) &&
    (label === undefined || label === field);
  if (from) {
    const match = fields.find(
      (one) => fits(one.field) && near(one.value, inField(from, one.field, context)),
    );
    if (match) return match.field;
  }
  if (label !== undefined && label !== "square") {
    const pipe =
      label === "depthMm" ? "pipeDepthMm" : label === "diameterMm" ? "pipeDiameterMm" : "";
    const piped = parts.some((part) => means(part, "noun") === "pipe");
    return piped && fields.some((one) => one.field === pipe) ? pipe : label;
  }
  const words = sentence.lower(parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0);
  if (/\btemp(erature)?\b/.test(words) || dimension === "temperature") return "temperatureC";
  if (dimension === "mass")
    return fields.find((one) => dimensionOf(one.field) === "mass")?.field ?? "massG";
  if (dimension === "duration") return "durationMin";
  const hot = (said: Said): boolean =>
    said.fig !== undefined && said.fig.dimension === undefined && said.value >= TEMP_FROM_C;
  if (from && hot(to) && hot(from) && parts.some((part) => means(part, "kind") === "heat"))
    return "temperatureC";
  if (from) return undefined;
  const likely = fields.filter((one) => fits(one.field) && one.field !== "number");
  const value = to.value;
  const heat = likely.find((one) => one.field === "temperatureC");
  if (heat && value >= TEMP_FROM_C) return heat.field;
  const swapped = likely.filter(
    (one) => [...String(one.value)].sort().join("") === [...String(value)].sort().join(""),
  );
  if (swapped.length === 1) return swapped[0]?.field;
  return likely.length === 1 && !(heat && value < TEMP_FROM_C) ? likely[0]?.field : undefined;
}

const LOOSE = /^(filler|approx|adj|noun|dir|unit)/;
const loose = (part: Part): boolean =>
  part.type === "stop" || (part.type === "mark" && part.means.some((one) => LOOSE.test(one)));

const saidOf = (part: Part | undefined): Said | undefined => {
  if (part?.type === "figure" && !part.q.ordinal && part.chain === undefined)
    return { value: part.value, fig: part, heat: false };
  if (part?.type === "number of heat") return { value: part.number, fig: undefined, heat: true };
  return undefined;
};

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
  const figures = said.length > 2 ? said.filter((part) => part.type !== "number of heat") : said;
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

const UNIT_CUE =
  /\b(meant|mean|obviously|of course|talking|that was|those were|should (?:be|have)|sorry|silly|never|none|not)\b/;
/** `I'm talking centimetres there`, `mm that was, none of your inches`. */
function unitTold(
  parts: readonly Part[],
  words: string,
  context: ReadingContext,
): Body | undefined {
  if (parts.some((part) => saidOf(part) !== undefined) || !UNIT_CUE.test(words)) return undefined;
  const units = parts.flatMap((part, at) => {
    const name = means(part, "unit") ?? UNIT_KINDS[means(part, "kind") ?? ""];
    return name === undefined ? [] : [{ name, at }];
  });
  if (units.length === 0 || units.length > 2) return undefined;
  const worked = parts.some((part) =>
    ["op", "removal", "about", "ask"].some((group) => means(part, group) !== undefined),
  );
  if (worked) return undefined;
  const [one] = units;
  const two = units.find((unit) => unit.name !== one?.name);
  if (!one) return undefined;
  if (!two) return otherUnit(one.name, context);
  const denied = /\b(not|never|none|instead)\b/.exec(words);
  const before = words.slice(0, denied?.index ?? words.length);
  const first = parts[one.at];
  const firstWord = first?.type === "mark" ? first.words : "";
  const [right, wrong] = before.includes(firstWord) ? [one, two] : [two, one];
  return rescaled(right.name, wrong.name, context) ?? otherUnit(right.name, context);
}
const UNIT_KINDS: Readonly<Record<string, string>> = {
  unitsmm: "mm",
  unitsinch: "inch",
  tempc: "c",
  tempf: "f",
};

/** `ounces not grams`, `celsius I meant, not fahrenheit`: the figure stays, its unit was another. */
function unitSwap(content: readonly Part[], context: ReadingContext): Body | undefined {
  const not = content.findIndex((part) => means(part, "say") === "not");
  if (not < 0 || content.some((part) => saidOf(part) !== undefined)) return undefined;
  const units = content.flatMap((part, at) => {
    const name = means(part, "unit");
    return name === undefined ? [] : [{ name, at }];
  });
  const rest = content.every(
    (part) => means(part, "unit") !== undefined || means(part, "say") !== undefined || loose(part),
  );
  const [first, second] = units;
  if (!rest || units.length !== 2 || !first || !second) return undefined;
  const [right, wrong] = first.at > not ? [second, first] : [first, second];
  return rescaled(right.name, wrong.name, context) ?? otherUnit(right.name, context);
}

/** `12 g not 21`: the second takes the unit of the first. */
function shareUnit(a: Said, b: Said): void {
  const give = (giver: Said, taker: Said): void => {
    if (
      !giver.fig ||
      !taker.fig ||
      giver.fig.q.unit === undefined ||
      taker.fig.dimension !== undefined
    )
      return;
    const unit = UNITS[giver.fig.q.unit];
    taker.fig.value = unit.take(taker.fig.q.said);
    taker.fig.dimension = unit.dimension;
  };
  give(a, b);
  give(b, a);
}

function made(to: number, from: number | undefined, field: string | undefined): Body {
  return {
    kind: "correct",
    ...(from !== undefined && { from }),
    to,
    ...(field !== undefined && { field: toSnake(field) }),
  };
}

const unitNamed = (name: string) =>
  Object.hasOwn(UNITS, name) ? UNITS[name as UnitName] : undefined;

/** Both units are named: what was recorded goes back to the figure said, and that into the right unit. */
function rescaled(right: string, wrong: string, context: ReadingContext): Body | undefined {
  const [to, from] = [unitNamed(right), unitNamed(wrong)];
  if (!to || !from || to.dimension !== from.dimension || to.dimension === "temperature")
    return undefined;
  const fields = lastFields(context.last ?? []).filter(
    (one) => dimensionOf(one.field) === to.dimension,
  );
  const [only] = fields;
  if (!only || fields.length > 1) return undefined;
  return made(to.take(only.value / from.take(1)), only.value, only.field);
}

function otherUnit(name: string, context: ReadingContext): Body | undefined {
  const unit = Object.hasOwn(UNITS, name) ? UNITS[name as UnitName] : undefined;
  if (!unit) return undefined;
  const fields = lastFields(context.last ?? []).filter(
    (one) => dimensionOf(one.field) === unit.dimension,
  );
  const first = fields[0];
  if (first && fields.length === 1 && unit.dimension === "temperature") {
    // Recorded from the other scale: what was said is the figure in that scale.
    if (name === "c")
      return made(Math.round(fahrenheitFromCelsius(first.value)), first.value, first.field);
    if (name === "f") return made(celsiusFromFahrenheit(first.value), first.value, first.field);
  }
  if (!first || (fields.length > 1 && unit.dimension !== "mass"))
    return fields.length === 0 ? undefined : { kind: "correct", field: "unit", to: name };
  const nice = (one: number): boolean => Math.abs(one * 8 - Math.round(one * 8)) < 1e-3;
  // Recorded from ounces or pounds: the figure said is the round one.
  if (unit.dimension === "mass" && !nice(first.value))
    for (const from of [UNITS.oz, UNITS.lb]) {
      const figure = first.value / from.take(1);
      if (nice(figure) && from.name !== unit.name)
        return made(unit.take(Math.round(figure * 1000) / 1000), first.value, first.field);
    }
  let said = first.value;
  if (unit.dimension === "length" && context.units === "inch") said = first.value / MM_PER_INCH;
  if (unit.name === "g" && first.value >= 20_000) said = first.value / 1000;
  return made(unit.take(said), first.value, first.field);
}

/** `that was`, `should have been` … before the right name. */
const LEADS_TO_NAME =
  /^(?:(?:that's|that|it's|it|this|was|is|should|have|been|be|meant|i|for|to|on|go|goes|belongs)\s+){0,6}/i;

const NAMED =
  /\b(?:belongs? to|belonged to|(?:was|were|is|all) (?:meant )?for|should(?:'ve| have)? (?:gone|be|go|been) (?:on|under|to|in|with)|goes (?:on|under|to)|put (?:it|that) (?:on|under))\s+(?:the\s+)?(?:ingot\s+|number\s+|no\.?\s+)?([\p{L}\d]+(?:\s(?:one|bar|piece))?)/giu;
const INSTEAD = /\b(?:instead of|not|rather than)\s+(?:ingot\s+|number\s+)?([\p{L}\d]+)\s*$/iu;

/** `that belonged to Nettle`, `should have gone under ingot 14 instead of 12`. */
function ingotTold(words: string): Body | undefined {
  const to = [...words.matchAll(NAMED)]
    .map((match) => match[1] ?? "")
    .find(
      (name) =>
        name !== "" && !/^(me|you|him|her|it|us|them|now|today|the|wrong|another)\b/i.test(name),
    );
  const about =
    /\b(wrong (?:ingot|bar|one|piece|block)|belong\w*|under (?:the )?ingot|on (?:the )?ingot|(?:was|were) for (?:the )?ingot)\b/i.test(
      words,
    );
  if (to === undefined || !about) return undefined;
  const from = INSTEAD.exec(words)?.[1];
  return { kind: "correct", ...(from !== undefined && { from }), to, field: "ingot" };
}

function wrongIngot(parts: readonly Part[], at: number, sentence: Sentence): Body {
  const rest = parts.slice(at + 1).filter((part) => part.type !== "stop");
  if (means(rest[0], "say") === "switch") rest.shift();
  const first = rest[0];
  const last = rest[rest.length - 1];
  const words = first && last ? sentence.raw(first.from, last.to) : "";
  const name = cleanName(words.replace(LEADS_TO_NAME, "").replace(/[,\s]+(not|wrong)\s.*$/i, ""));
  return {
    kind: "correct",
    field: "ingot",

    ...(name !== "" && name.length <= 60 && { to: name }),
  };
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
  const wrong = places.find(denied);
  const right = places.find((part) => part !== wrong);
  const to = means(right, "place");
  if (to === undefined) return undefined;
  const from = means(wrong, "place");
  return { kind: "correct", ...(from !== undefined && { from }), to, field: "place" };
}

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
  const field = fig.label === undefined || fig.label === "square" ? recorded?.field : fig.label;
  const value = (one: number): number =>
    field?.endsWith("Mm") ? asMm({ ...fig, value: one }, context.units === "inch") : one;
  return made(
    value(fig.top ?? fig.value),
    fig.low === undefined ? undefined : value(fig.low),
    field,
  );
}
