/** The first line of a reply: what was understood, figures first, in the chat's units. */
import type { Fact } from "../logbook/index.js";
import {
  type ChatUnits,
  formatForce,
  formatLength,
  formatMass,
  formatSize,
  formatTemperature,
  G_PER_POUND,
} from "../units/index.js";

type Part = string | undefined | false;
const joined = (parts: readonly Part[], separator = " · "): string =>
  parts.filter((part): part is string => typeof part === "string" && part !== "").join(separator);

const ROUTE_WORDS = {
  spine: "pipe to the spine",
  face: "pipe to a face",
  end: "pipe to one end",
  ring: "pipe punched out, ring opened",
} as const;
const DONE = {
  grind: "ground",
  chisel: "chiselled",
  cut: "cut",
  punch: "punched",
  file: "filed",
} as const;

export const routeWords = (route: keyof typeof ROUTE_WORDS, split = false): string =>
  `${ROUTE_WORDS[route]}${split ? ", split in two" : ""}`;

/** One fact in a few words. `heatNumber` is the heat's number where it was not said. */
export function factWords(fact: Fact, units: ChatUnits, heatNumber?: number): string {
  const length = (mm: number | undefined, label: string): Part =>
    mm !== undefined && `${formatLength(mm, units)} ${label}`;
  const mass = (massG: number | undefined, label = ""): Part =>
    massG !== undefined && joined([formatMass(massG, units), label], " ");
  const temperature = (tempC: number | undefined): Part =>
    tempC !== undefined && formatTemperature(tempC, units);
  const about = fact.approx === true ? "about " : "";
  switch (fact.kind) {
    case "heat":
      return joined([
        `Heat ${fact.number ?? heatNumber ?? ""}`.trim(),
        about + (temperature(fact.temperatureC) || ""),
        fact.colour,
        fact.durationMin !== undefined && `${rounded(fact.durationMin)} min`,
        fact.operation,
      ]);
    case "size":
      return about + sizeWords(fact, units);
    case "ingot":
      return joined([
        `Ingot ${fact.name ?? ""}`.trim(),
        joined([fact.shape, ingotSize(fact, units)], " "),
        mass(fact.massG),
        fact.carbonPct !== undefined && `${rounded(fact.carbonPct)} % C`,
        fact.pipeDepthMm !== undefined && `pipe ${formatLength(fact.pipeDepthMm, units)} deep`,
        fact.pipeDiameterMm !== undefined &&
          `pipe ${formatLength(fact.pipeDiameterMm, units)} wide`,
        fact.melt !== undefined && `melt ${fact.melt}`,
      ]);
    case "goal":
      return joined([
        fact.count !== undefined && fact.count > 1 ? `Goal: ${fact.count} blades` : "Goal",
        fact.edge !== undefined && `${fact.edge} edge`,
        dimensions([fact.lengthMm, fact.widthMm, fact.thicknessMm], units),
        length(fact.tangLengthMm, "tang"),
      ]);
    case "route":
      return fact.route === undefined
        ? "Route: split in two"
        : `Route: ${routeWords(fact.route, fact.split)}`;
    case "crack":
      return joined([
        fact.severity === undefined ? "Crack" : `${capital(fact.severity)} crack`,
        fact.place,
        length(fact.depthMm, "deep"),
        length(fact.lengthMm, "long"),
        fact.positionMm !== undefined &&
          `${formatLength(fact.positionMm, units)} from the tang end`,
      ]);
    case "removal":
      return joined([
        joined(
          [fact.method === undefined ? "Taken off" : capital(DONE[fact.method]), fact.place],
          " ",
        ),
        mass(fact.massG),
        length(fact.lengthMm, "long"),
        length(fact.depthMm, "deep"),
        length(fact.diameterMm, "across"),
      ]);
    case "finish":
      return joined([
        "Blade done",
        dimensions([fact.lengthMm, fact.widthMm, fact.thicknessMm], units),
        length(fact.tangLengthMm, "tang"),
        mass(fact.massG),
      ]);
    case "melt":
      return joined([
        `Melt ${fact.number ?? ""}`.trim(),
        mass(fact.massG, "charge"),
        ...(fact.charge ?? []).map((part) => joined([part.what, mass(part.massG)], " ")),
        temperature(fact.temperatureC),
        fact.durationMin !== undefined && `${rounded(fact.durationMin)} min`,
        fact.cooling !== undefined && `cooled ${fact.cooling}`,
        fact.carbonPct !== undefined && `${rounded(fact.carbonPct)} % C`,
        mass(fact.ingotG, "ingot"),
      ]);
    case "note":
      return `Noted: ${shortened(fact.note)}`;
    case "switch":
      return `Ingot ${fact.ingot} in hand`;
    case "setting":
      return joined([
        fact.units !== undefined && `Units: ${fact.units}`,
        fact.temperatureUnits !== undefined &&
          `Temperatures in °${fact.temperatureUnits.toUpperCase()}`,
        fact.pressKn !== undefined && `Press ${formatForce(fact.pressKn, units)}`,
        fact.hammerKg !== undefined && `Power hammer, tup ${tupWords(fact.hammerKg, units)}`,
        fact.handHammer === true && "Hand hammer",
        fact.welder !== undefined && (fact.welder ? "Handle can be welded on" : "No welded handle"),
        fact.timezone !== undefined && `Time zone ${fact.timezone}`,
        fact.spokenReplies !== undefined &&
          (fact.spokenReplies ? "Spoken replies on" : "Spoken replies off"),
      ]);
  }
}

function ingotSize(fact: Extract<Fact, { kind: "ingot" }>, units: ChatUnits): Part {
  const { diameterMm, heightMm } = fact;
  if (diameterMm !== undefined && heightMm !== undefined) {
    return `Ø ${formatSize([diameterMm, heightMm], units)}`;
  }
  return joined([labelled(diameterMm, "across", units), labelled(heightMm, "high", units)], " ");
}

/** A tup in whole kilograms or pounds. */
const tupWords = (massKg: number, units: ChatUnits): string =>
  units.length === "mm"
    ? `${rounded(massKg)} kg`
    : `${Math.round((massKg * 1000) / G_PER_POUND)} lb`;

function sizeWords(fact: Extract<Fact, { kind: "size" }>, units: ChatUnits): string {
  const { thicknessMm, widthMm, lengthMm, diameterMm, heightMm } = fact;
  const across = [diameterMm, heightMm].filter((mm) => mm !== undefined);
  const box = [thicknessMm, widthMm, lengthMm].filter((mm) => mm !== undefined);
  return joined([
    fact.shape !== undefined && fact.shape !== "bar" && capital(fact.shape),
    across.length === 2 && `Ø ${formatSize(across, units)}`,
    across.length === 1 &&
      `${formatLength(across[0] ?? 0, units)} ${diameterMm === undefined ? "high" : "across"}`,
    box.length === 3 && formatSize(box, units),
    box.length < 3 && labelled(thicknessMm, "thick", units),
    box.length < 3 && labelled(widthMm, "wide", units),
    box.length < 3 && labelled(lengthMm, "long", units),
    fact.massG !== undefined && formatMass(fact.massG, units),
  ]);
}

const labelled = (mm: number | undefined, label: string, units: ChatUnits): Part =>
  mm !== undefined && `${formatLength(mm, units)} ${label}`;

function dimensions(all: readonly (number | undefined)[], units: ChatUnits): Part {
  const said = all.filter((mm): mm is number => mm !== undefined);
  return said.length > 0 && formatSize(said, units);
}

/** At most two decimals, no trailing zeros. */
export const rounded = (value: number): string => String(Math.round(value * 100) / 100);
const capital = (word: string): string => word.charAt(0).toUpperCase() + word.slice(1);

const NOTE_SHOWN = 60;
const shortened = (words: string): string =>
  words.length <= NOTE_SHOWN ? words : `${words.slice(0, NOTE_SHOWN - 1).trimEnd()}…`;
