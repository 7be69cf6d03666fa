/**
 * Messages per second and share right of our reader beside general-purpose readers, on the tuning messages, in one run.
 * Right, for everyone alike: every figure that the case expects (in its unit or in ours) is among the figures found, and
 * no figure is found that the case does not have. That is kinder to the others than our own measure: kinds and labels do not count for them.
 */
import { createRequire } from "node:module";
import { read } from "../../src/language/index.js";
import { compare } from "../corpus/compare.js";
import { CORPUS_NOW, CORPUS_TIMEZONE, type CorpusCase, loadCorpus } from "../corpus/index.js";

const load = createRequire(import.meta.url);
const RELATIVE = 1e-4;
type Finder = (text: string, one: CorpusCase) => number[];

const wantedIn = (one: CorpusCase): number[] => {
  const figures: number[] = [];
  const walk = (value: unknown, field: string): void => {
    if (typeof value === "number" && field !== "from") figures.push(value);
    else if (Array.isArray(value)) for (const inner of value) walk(inner, "");
    else if (typeof value === "object" && value !== null)
      for (const [name, inner] of Object.entries(value)) walk(inner, name);
  };
  walk(one.entries, "");
  return [...new Set(figures)];
};
/** A found figure counts in any unit of the trade. */
const FACTORS = [
  1,
  10,
  1000,
  25.4,
  304.8,
  0.0254,
  28.349523125,
  453.59237,
  60,
  1 / 60,
  9.80665,
  8.896443230521,
  0.45359237,
];
const near = (a: number, b: number): boolean =>
  Math.abs(a - b) <= RELATIVE * Math.max(1, Math.abs(b));
const meets = (found: number, want: number): boolean =>
  FACTORS.some((factor) => near(found * factor, want)) ||
  near((found - 32) / 1.8, want) ||
  near(found - 273.15, want);

function isRight(found: readonly number[], one: CorpusCase): boolean {
  const wanted = wantedIn(one);
  if (wanted.length === 0) return found.length === 0;
  return (
    wanted.every((want) => found.some((value) => meets(value, want))) &&
    found.every((value) => wanted.some((want) => meets(value, want)))
  );
}

function ours(): Finder {
  return (text, one) => {
    const reading = read(text, {
      now: CORPUS_NOW,
      timezone: CORPUS_TIMEZONE,
      units: one.context?.units ?? "mm",
    });
    const found: number[] = [];
    const walk = (value: unknown): void => {
      if (typeof value === "number") found.push(value);
      else if (Array.isArray(value)) value.forEach(walk);
      else if (typeof value === "object" && value !== null) Object.values(value).forEach(walk);
    };
    for (const draft of reading.drafts) if (draft.body.kind !== "question") walk(draft.body);
    return found;
  };
}

function compromiseNumbers(): Finder {
  const nlp = load("compromise");
  return (text) =>
    nlp(text)
      .numbers()
      .json()
      .map((one: { number?: { num?: number } }) => one.number?.num ?? Number.NaN);
}

function recognizers(): Finder {
  const numbers = load("@microsoft/recognizers-text-number");
  const units = load("@microsoft/recognizers-text-number-with-unit");
  const number = new numbers.NumberRecognizer("en-us").getNumberModel();
  const unit = new units.NumberWithUnitRecognizer("en-us");
  const models = [unit.getDimensionModel(), unit.getTemperatureModel()];
  const figureOf = (one: { resolution?: { value?: string } }): number =>
    Number(one.resolution?.value);
  return (text) => [number, ...models].flatMap((model) => model.parse(text).map(figureOf));
}

function wink(): Finder {
  const nlp = load("wink-nlp")(load("wink-eng-lite-web-model"));
  return (text) => {
    const doc = nlp.readDoc(text);
    const found: number[] = doc
      .tokens()
      .filter((token: { out: (what: unknown) => string }) => token.out(nlp.its?.type) === "number")
      .out()
      .map(Number);
    return found.filter(Number.isFinite);
  };
}

/**
 * The stricter measure, which only a reader of this trade can meet: every entry with its kind, fields and values exactly
 * as expected, and nothing else. The others find figures, not entries; for them it is not defined.
 */
const entriesExact = (cases: readonly CorpusCase[]): number =>
  cases.filter((one) => compare(one).exact).length;

/** Prints the comparison. Share right first, then speed over three passes. */
export async function benchReading(): Promise<void> {
  const cases = loadCorpus("tuning").filter(
    (one) => one.context?.last === undefined && one.ask !== true,
  );
  const finders: [string, () => Finder][] = [
    ["hearth-tally", ours],
    ["Recognizers-Text number + number-with-unit", recognizers],
    ["compromise, numbers", compromiseNumbers],
    ["wink-nlp, number tokens", wink],
  ];
  console.log(`reading: ${cases.length} messages, figures right, messages a second`);
  for (const [name, make] of finders) {
    const find = make();
    const right = cases.filter((one) => isRight(find(one.text, one), one)).length;
    const start = performance.now();
    const passes = 3;
    for (let i = 0; i < passes; i += 1) for (const one of cases) find(one.text, one);
    const perSecond = (passes * cases.length * 1000) / (performance.now() - start);
    console.log(
      `  ${name}: ${right} (${((100 * right) / cases.length).toFixed(1)} %), ${Math.round(perSecond)}/s`,
    );
  }
  const exact = entriesExact(cases);
  console.log(
    `  hearth-tally, all entries exact: ${exact} (${((100 * exact) / cases.length).toFixed(1)} %)`,
  );
}
