/**
 * Messages per second and share read right of our reader beside general-purpose readers, on the same messages in one run.
 * Right, for everyone alike: the quantities found in a message are those it expects, each with its value in its dimension (a size, a weight, a
 * temperature, a time, a number), none missing, none too many. The others get the glue that a user of theirs would write: the unit word after
 * a figure where the library leaves it out, the chat's unit for a bare figure, the range of a heat. What a figure is *of* (thickness or
 * width, crack or heat) is asked of nobody. Messages without a figure, questions, notes and times are left out.
 */
import { createRequire } from "node:module";
import { read, readingToJson } from "../../src/language/index.js";
import { compare } from "../corpus/compare.js";
import { CORPUS_NOW, CORPUS_TIMEZONE, type CorpusCase, loadCorpus } from "../corpus/index.js";

const load = createRequire(import.meta.url);
const RELATIVE = 1e-4;
type Dimension = "length" | "mass" | "temperature" | "time" | "force" | "percent" | "plain";
interface Found {
  readonly value: number;
  /** Undefined: a bare figure, which may be of any dimension in the chat's unit. */
  readonly dimension: Dimension | undefined;
}
type Finder = (text: string, one: CorpusCase) => readonly Found[];

const SUFFIX: readonly [RegExp, Dimension][] = [
  [/_mm$/, "length"],
  [/_k?g$/, "mass"],
  [/_c$/, "temperature"],
  [/_min$/, "time"],
  [/_kn$/, "force"],
  [/_pct$/, "percent"],
];
const dimensionOf = (field: string): Dimension =>
  SUFFIX.find(([ending]) => ending.test(field))?.[1] ?? "plain";

/** The quantities of entries, each once. */
function quantitiesOf(entries: readonly unknown[]): Found[] {
  const found = new Map<string, Found>();
  const walk = (value: unknown, field: string): void => {
    const dimension = dimensionOf(field);
    if (typeof value === "number" && !(field === "to" || field === "from" || field === "count"))
      found.set(`${value} ${dimension}`, {
        value: field === "hammer_kg" ? value * 1000 : value,
        dimension,
      });
    else if (Array.isArray(value)) for (const inner of value) walk(inner, field);
    else if (typeof value === "object" && value !== null)
      for (const [name, inner] of Object.entries(value)) walk(inner, name);
  };
  walk(entries, "");
  return [...found.values()];
}

const near = (a: number, b: number): boolean =>
  Math.abs(a - b) <= RELATIVE * Math.max(1, Math.abs(b));
const celsius = (value: number): number => (value - 32) / 1.8;

function meets(found: Found, want: Found, inch: boolean): boolean {
  if (found.dimension !== undefined)
    return found.dimension === want.dimension && near(found.value, want.value);
  if (near(found.value, want.value)) return true;
  if (!inch && want.dimension !== "length") return false;
  // A bare figure in an inch chat, and a bare workshop fraction in any.
  if (want.dimension === "length")
    return (inch || found.value % 1 !== 0) && near(found.value * 25.4, want.value);
  return want.dimension === "temperature" && near(celsius(found.value), want.value);
}

function isRight(found: readonly Found[], one: CorpusCase): boolean {
  const wanted = quantitiesOf(one.entries);
  const inch = one.context?.units === "inch";
  return (
    wanted.every((want) => found.some((value) => meets(value, want, inch))) &&
    found.every((value) => wanted.some((want) => meets(value, want, inch)))
  );
}

function ours(): Finder {
  return (text, one) =>
    quantitiesOf(
      readingToJson(
        read(text, {
          now: CORPUS_NOW,
          timezone: CORPUS_TIMEZONE,
          units: one.context?.units ?? "mm",
        }),
      ).entries as unknown[],
    );
}

/** The unit after a figure, for libraries that leave it out; factors to mm, g, °C, min. */
const GLUE: readonly [RegExp, Dimension, (value: number) => number][] = [
  [/^-?\s*(mm|mil|millimet\w+)\b/i, "length", (v) => v],
  [/^-?\s*(cm|centimet\w+)\b/i, "length", (v) => v * 10],
  [/^-?\s*(in|inch|inches)\b|^\s*["″]/i, "length", (v) => v * 25.4],
  [/^-?\s*thou\b/i, "length", (v) => v * 0.0254],
  [/^-?\s*(ft|foot|feet)\b/i, "length", (v) => v * 304.8],
  [/^-?\s*(kg|kilos?|kilograms?)\b/i, "mass", (v) => v * 1000],
  [/^-?\s*(g|gr|gm|grams?|grammes?)\b/i, "mass", (v) => v],
  [/^-?\s*(oz|ounces?)\b/i, "mass", (v) => v * 28.349523125],
  [/^-?\s*(lbs?|pounds?)\b/i, "mass", (v) => v * 453.59237],
  [/^\s*(°|degrees?|deg)?\s*(c|celsius)\b/i, "temperature", (v) => v],
  [/^\s*(°|degrees?|deg)?\s*(f|fahrenheit)\b/i, "temperature", celsius],
  [/^-?\s*(min|mins|minutes?)\b/i, "time", (v) => v],
  [/^-?\s*(s|sec|secs|seconds?)\b/i, "time", (v) => v / 60],
  [/^-?\s*(h|hours?)\b/i, "time", (v) => v * 60],
  [/^\s*(%|percent|per cent)/i, "percent", (v) => v],
  [/^\s*(kn|kilonewtons?)\b/i, "force", (v) => v],
  [/^-?\s*(t|tons?|tonnes?)\b/i, "force", (v) => v * 9.80665],
];
function glued(value: number, after: string): Found {
  for (const [pattern, dimension, take] of GLUE)
    if (pattern.test(after)) return { value: take(value), dimension };
  return { value, dimension: undefined };
}

function compromiseNumbers(): Finder {
  const nlp = load("compromise");
  interface One {
    readonly number?: { readonly num?: number; readonly suffix?: string; readonly unit?: string };
    readonly offset: { readonly start: number; readonly length: number };
  }
  return (text) =>
    nlp(text)
      .numbers()
      .json({ offset: true })
      .map(({ number, offset }: One) =>
        glued(
          number?.num ?? Number.NaN,
          `${number?.unit ?? ""}${number?.suffix ?? ""} ${text.slice(offset.start + offset.length)}`.trimStart(),
        ),
      );
}

function recognizers(): Finder {
  const numbers = load("@microsoft/recognizers-text-number");
  const units = load("@microsoft/recognizers-text-number-with-unit");
  const number = new numbers.NumberRecognizer("en-us").getNumberModel();
  const unit = new units.NumberWithUnitRecognizer("en-us");
  const models = [unit.getDimensionModel(), unit.getTemperatureModel()];
  interface One {
    readonly start: number;
    readonly end: number;
    readonly resolution?: { readonly value?: string | null; readonly unit?: string };
  }
  return (text) => {
    const withUnit: One[] = models
      .flatMap((model): One[] => model.parse(text))
      .filter((one: One) => one.resolution?.value != null);
    const free = (number.parse(text) as One[]).filter(
      (one) => !withUnit.some((other) => one.start <= other.end && other.start <= one.end),
    );
    return [
      ...withUnit.map((one) =>
        glued(Number(one.resolution?.value), one.resolution?.unit?.toLowerCase() ?? ""),
      ),
      ...free.map((one) => glued(Number(one.resolution?.value), text.slice(one.end + 1))),
    ];
  };
}

function wink(): Finder {
  const nlp = load("wink-nlp")(load("wink-eng-lite-web-model"));
  const { its } = nlp;
  return (text) => {
    const tokens = nlp.readDoc(text).tokens();
    const words: string[] = tokens.out(its.value);
    const types: string[] = tokens.out(its.type);
    const found: Found[] = [];
    let at = 0;
    for (let i = 0; i < words.length; i += 1) {
      const word = words[i] ?? "";
      at = text.indexOf(word, at) + word.length;
      if (types[i] === "number" && Number.isFinite(Number(word)))
        found.push(glued(Number(word), text.slice(at)));
    }
    return found;
  };
}

/**
 * The stricter measure, which only a reader of this trade can meet: every entry with its kind, fields and values exactly
 * as expected, and nothing else. The others find figures, not entries; for them it is not defined.
 */
const entriesExact = (cases: readonly CorpusCase[]): number =>
  cases.filter((one) => compare(one).exact).length;

const LEFT_OUT = new Set(["question", "note", "correct", "undo"]);
const counts = (one: CorpusCase): boolean =>
  one.context?.last === undefined &&
  one.ask !== true &&
  quantitiesOf(one.entries).length > 0 &&
  !one.entries.some((entry) => LEFT_OUT.has(entry.kind) || entry.at !== undefined);

/** Prints the comparison. Share right first, then speed over three passes. */
export async function benchReading(): Promise<void> {
  const finders: [string, () => Finder][] = [
    ["hearth-tally", ours],
    ["Recognizers-Text number + number-with-unit", recognizers],
    ["compromise, numbers", compromiseNumbers],
    ["wink-nlp, number tokens", wink],
  ];
  const parts = (["set-aside", "tuning"] as const).map((part) => ({
    part,
    cases: loadCorpus(part).filter(counts),
  }));
  console.log(
    `reading: quantities right in messages with figures (${parts.map(({ part, cases }) => `${part} ${cases.length}`).join(", ")}), messages a second`,
  );
  const all = parts.flatMap(({ cases }) => cases);
  for (const [name, make] of finders) {
    const find = make();
    const shares = parts.map(({ part, cases }) => {
      const right = cases.filter((one) => isRight(find(one.text, one), one)).length;
      return `${part} ${((100 * right) / cases.length).toFixed(1)} %`;
    });
    const start = performance.now();
    const passes = 3;
    for (let i = 0; i < passes; i += 1) for (const one of all) find(one.text, one);
    const perSecond = (passes * all.length * 1000) / (performance.now() - start);
    console.log(`  ${name}: ${shares.join(", ")}, ${Math.round(perSecond)}/s`);
  }
  for (const { part, cases } of parts)
    console.log(
      `  hearth-tally, all entries exact, ${part}: ${((100 * entriesExact(cases)) / cases.length).toFixed(1)} %`,
    );
}
