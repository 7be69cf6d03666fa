/** Which field of what was recorded a corrected figure belongs to, and the figure as it stands there. */
import { type Fact, toSnake } from "../logbook/index.js";
import { MM_PER_INCH } from "../units/index.js";
import type { ReadingContext } from "./context.js";
import { TEMP_FROM_C } from "./heat-number.js";
import type { Body } from "./ledger.js";
import { asMm, type Fig, means, type Part } from "./parts.js";
import { fahrenheit } from "./scales.js";
import type { Sentence } from "./sentence.js";
import { UNITS } from "./units.js";

export type Said = {
  readonly value: number;
  readonly fig: Fig | undefined;
  readonly heat: boolean;
};
const RELATIVE_ERROR = 1e-6;
export const near = (a: number, b: number): boolean =>
  Math.abs(a - b) <= RELATIVE_ERROR * Math.max(Math.abs(a), Math.abs(b), 1);

/** Numeric fields of the last message's entries, last first. */
export function lastFields(last: readonly Fact[]): { field: string; value: number }[] {
  const fields: { field: string; value: number }[] = [];
  for (const fact of [...last].reverse())
    for (const [field, value] of Object.entries(fact))
      if (typeof value === "number") fields.push({ field, value });
  return fields;
}

export const dimensionOf = (field: string): string =>
  field.endsWith("Mm")
    ? "length"
    : field.endsWith("G")
      ? "mass"
      : field.endsWith("C")
        ? "temperature"
        : field.endsWith("Min")
          ? "duration"
          : field.endsWith("Kn")
            ? "force"
            : field.endsWith("Kg")
              ? "mass"
              : "";

/** The figure as it would stand in a field. */
export function inField(said: Said, field: string | undefined, context: ReadingContext): number {
  if (!said.fig) return said.value;
  const dimension = field === undefined ? undefined : dimensionOf(field);
  if (dimension === "length") return asMm(said.fig, context.units === "inch");
  if (dimension === "temperature") return fahrenheit(said.fig, context);
  if (field?.endsWith("Kg")) return said.fig.value / (said.fig.dimension === "mass" ? 1000 : 1);
  return said.fig.dimension === undefined && said.fig.inches
    ? said.fig.value * MM_PER_INCH
    : said.fig.value;
}

export function fieldFor(
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
    (label === undefined || label === field || ALSO_CALLED[label]?.includes(field) === true);
  if (from) {
    const match = fields.find(
      (one) => fits(one.field) && near(one.value, inField(from, one.field, context)),
    );
    if (match) return match.field;
  }
  if (label !== undefined && label !== "square") {
    const pipe =
      label === "depthMm" ? "pipeDepthMm" : label === "diameterMm" ? "pipeDiameterMm" : "";
    const has = (field: string): boolean => fields.some((one) => one.field === field);
    const piped = parts.some((part) => means(part, "noun") === "pipe");
    if (piped && has(pipe)) return pipe;
    // `20 thick` of a disc is its height.
    return has(label) ? label : (ALSO_CALLED[label]?.find(has) ?? label);
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

/** Fields that go by another label in speech, where the label's own field was not recorded. */
const ALSO_CALLED: Readonly<Record<string, readonly string[]>> = {
  depthMm: ["pipeDepthMm"],
  diameterMm: ["pipeDiameterMm"],
  thicknessMm: ["heightMm"],
  widthMm: ["diameterMm"],
  lengthMm: ["tangLengthMm"],
  massG: ["ingotG"],
};
export const alsoCalled = (label: string, field: string): boolean =>
  ALSO_CALLED[label]?.includes(field) ?? false;
const LOOSE = /^(filler|approx|adj|noun|dir|unit)/;
export const loose = (part: Part): boolean =>
  part.type === "stop" || (part.type === "mark" && part.means.some((one) => LOOSE.test(one)));

export const saidOf = (part: Part | undefined): Said | undefined => {
  if (part?.type === "figure" && !part.q.ordinal && part.chain === undefined)
    return { value: part.value, fig: part, heat: false };
  if (part?.type === "number of heat") return { value: part.number, fig: undefined, heat: true };
  return undefined;
};

/** `12 g not 21`: the second takes the unit of the first. */
export function shareUnit(a: Said, b: Said): void {
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

export function made(to: number, from: number | undefined, field: string | undefined): Body {
  return {
    kind: "correct",
    ...(from !== undefined && { from }),
    to,
    ...(field !== undefined && { field: toSnake(field) }),
  };
}
