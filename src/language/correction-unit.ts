/** The figure was right, its unit was not: `I meant grams`, `ounces not grams`, `mm that was, none of your inches`. */
import { celsiusFromFahrenheit, fahrenheitFromCelsius, MM_PER_INCH } from "../units/index.js";
import type { ReadingContext } from "./context.js";
import { dimensionOf, lastFields, loose, made, saidOf } from "./correction-field.js";
import type { Body } from "./ledger.js";
import { means, type Part } from "./parts.js";
import { UNITS, type UnitName } from "./units.js";

const UNIT_CUE =
  /\b(meant|mean|obviously|of course|talking|that was|those were|should (?:be|have)|sorry|silly|never|none|not)\b/;
/** `I'm talking centimetres there`, `mm that was, none of your inches`. */
export function unitTold(
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
export function unitSwap(content: readonly Part[], context: ReadingContext): Body | undefined {
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

const KILOGRAM_G = 1000;
/** Who meant grams had said kilograms from here on; of steel taken away from a kilogram on. Common practice, no source; 10 to 50 kg. */
const MOST_SAID_G = 20_000;

export function otherUnit(name: string, context: ReadingContext): Body | undefined {
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
  // Who says the chat's own unit had said another: of an inch chat millimetres, of a metric one inches.
  const inches =
    unit.dimension === "length" &&
    (context.units === "inch" ? unit.name !== "inch" : unit.name === "mm");
  if (inches) said = first.value / MM_PER_INCH;
  const taken = (context.last ?? []).some(
    (fact) => fact.kind === "removal" && fact.massG === first.value,
  );
  if (unit.name === "g" && first.value >= (taken ? KILOGRAM_G : MOST_SAID_G))
    said = first.value / KILOGRAM_G;
  return made(unit.take(said), first.value, first.field);
}
