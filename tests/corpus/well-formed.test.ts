import { describe, expect, it } from "vitest";
import { type CorpusCase, type ExpectedEntry, loadCorpus } from "./index.js";

/** What a field may hold: the range a workshop can have, or the words of the contract. */
type Rule =
  | readonly [low: number, high: number]
  | readonly string[]
  | "words"
  | "flag"
  | "moment"
  | "charge"
  | "any";

const shared = { at: "moment", approx: "flag" } as const satisfies Record<string, Rule>;
const length = [0.1, 1000] as const;
const thin = [0.1, 150] as const;
const mass = [0.1, 5000] as const;
const carbon = [0.1, 5] as const;
const count = [1, 60] as const;

const kinds: Readonly<Record<string, Readonly<Record<string, Rule>>>> = {
  melt: {
    number: count,
    mass_g: mass,
    charge: "charge",
    temperature_c: [1300, 1700],
    duration_min: [5, 300],
    cooling: "words",
    carbon_pct: carbon,
    ingot_g: mass,
  },
  ingot: {
    name: "words",
    shape: ["bowl", "puck", "cone"],
    diameter_mm: [30, 150],
    bottom_diameter_mm: [15, 150],
    height_mm: [10, 100],
    mass_g: mass,
    carbon_pct: carbon,
    pipe_depth_mm: [1, 60],
    pipe_diameter_mm: [1, 60],
    melt: count,
  },
  goal: {
    edge: ["single", "double"],
    length_mm: [60, 500],
    width_mm: [10, 80],
    thickness_mm: [1, 12],
    tang_length_mm: [30, 200],
    count: [1, 4],
  },
  route: { route: ["spine", "face", "end", "ring"], split: "flag" },
  heat: {
    number: count,
    temperature_c: [500, 1300],
    colour: "words",
    duration_min: [0.1, 120],
    operation: [
      "flatten",
      "square",
      "draw",
      "edge",
      "taper",
      "bevel",
      "straighten",
      "punch",
      "open",
      "normalise",
    ],
  },
  size: {
    shape: ["disc", "block", "ring"],
    thickness_mm: thin,
    width_mm: thin,
    length_mm: [5, 700],
    diameter_mm: [20, 150],
    height_mm: [5, 100],
    mass_g: mass,
  },
  crack: {
    place: ["top", "bottom", "rim", "face", "spine", "edge", "end", "tang", "tip"],
    depth_mm: [0.02, 40],
    length_mm: length,
    position_mm: [1, 500],
    severity: ["hairline", "small", "large"],
  },
  removal: {
    method: ["grind", "chisel", "cut", "punch", "file"],
    mass_g: [0.1, 800],
    length_mm: [0.5, 200],
    depth_mm: [0.02, 40],
    diameter_mm: [2, 60],
    place: ["top", "bottom", "rim", "face", "spine", "edge", "end", "tang", "tip"],
  },
  finish: {
    length_mm: [60, 500],
    width_mm: [10, 80],
    thickness_mm: [1, 12],
    mass_g: [20, 1500],
    tang_length_mm: [30, 200],
  },
  note: { note: "words" },
  question: {
    about: ["next", "plan", "status", "summary", "day", "time", "force", "loss", "help"],
  },
  undo: { count: [1, 20] },
  correct: { from: "any", to: "any", field: "words" },
  switch: { ingot: "words" },
  setting: {
    units: ["mm", "inch"],
    temperature_units: ["c", "f"],
    press_kn: [20, 2000],
    hammer_kg: [1, 200],
    hand_hammer: "flag",
    welder: "flag",
    timezone: "words",
    spoken_replies: "flag",
  },
};

/** Context entries hold what the smith got wrong before a correction: only kinds and fields are checked there. */
function complaints(entry: ExpectedEntry, ranges: boolean): string[] {
  const fields = kinds[entry.kind];
  if (fields === undefined) return [`kind ${entry.kind}`];
  return Object.entries(entry).flatMap(([name, value]) => {
    if (name === "kind") return [];
    const rule: Rule | undefined = { ...shared, ...fields }[name];
    if (rule === undefined) return [`${entry.kind} has no field ${name}`];
    return fits(rule, value, ranges) ? [] : [`${entry.kind}.${name} = ${JSON.stringify(value)}`];
  });
}

function fits(rule: Rule, value: unknown, ranges: boolean): boolean {
  if (rule === "any")
    return typeof value === "number" || (typeof value === "string" && value !== "");
  if (rule === "words") return typeof value === "string" && value.trim() === value && value !== "";
  if (rule === "flag") return typeof value === "boolean";
  if (rule === "moment")
    return typeof value === "string" && /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d$/.test(value);
  if (rule === "charge")
    return Array.isArray(value) && value.length > 0 && value.every(isChargePart);
  if (isRange(rule)) {
    if (typeof value !== "number" || !Number.isFinite(value)) return false;
    return !ranges || (value >= rule[0] && value <= rule[1]);
  }
  return typeof value === "string" && rule.includes(value);
}

function isRange(
  rule: readonly [number, number] | readonly string[],
): rule is readonly [number, number] {
  return typeof rule[0] === "number";
}

function isChargePart(part: unknown): boolean {
  if (typeof part !== "object" || part === null) return false;
  const { what, mass_g, carbon_pct, ...rest } = part as Record<string, unknown>;
  return (
    fits("words", what, true) &&
    fits(mass, mass_g, true) &&
    (carbon_pct === undefined || fits(carbon, carbon_pct, true)) &&
    Object.keys(rest).length === 0
  );
}

const tuning = loadCorpus("tuning");
const setAside = loadCorpus("set-aside");
const all = [...tuning, ...setAside];

/** The words of a message without case, punctuation and spaces at the ends. */
function bare(text: string): string {
  return text
    .toLowerCase()
    .replaceAll(/[?!;:]/g, "")
    .replaceAll(/\s+/g, " ")
    .trim();
}

function repeated(values: readonly string[]): string[] {
  return values.filter((value, index) => values.indexOf(value) !== index);
}

function faults(check: (one: CorpusCase) => readonly string[]): string[] {
  return all.flatMap((one) => check(one).map((fault) => `${one.id}: ${fault}`));
}

describe("the corpus of messages", () => {
  it("is large enough, and enough of it is set aside", () => {
    expect(all.length).toBeGreaterThanOrEqual(800);
    expect(setAside.length).toBeGreaterThanOrEqual(400);
  });

  it("names every case once and says nothing twice", () => {
    expect(repeated(all.map((one) => one.id))).toEqual([]);
    expect(repeated(all.map((one) => one.text))).toEqual([]);
  });

  it("sets nothing aside that tuning has in other case or punctuation", () => {
    const known = new Set(tuning.map((one) => bare(one.text)));
    expect(setAside.filter((one) => known.has(bare(one.text))).map((one) => one.id)).toEqual([]);
  });

  it("has only the keys of a case", () => {
    const keys = new Set(["id", "text", "context", "entries", "unread", "ask", "tags"]);
    expect(faults((one) => Object.keys(one).filter((key) => !keys.has(key)))).toEqual([]);
    expect(faults((one) => (one.ask === undefined || one.ask ? [] : ["ask is not true"]))).toEqual(
      [],
    );
    expect(faults((one) => (one.tags.length > 0 ? [] : ["no tags"]))).toEqual([]);
  });

  it("expects only kinds and fields of the contract, with figures a workshop can have", () => {
    expect(faults((one) => one.entries.flatMap((entry) => complaints(entry, true)))).toEqual([]);
    expect(
      faults((one) => (one.context?.last ?? []).flatMap((entry) => complaints(entry, false))),
    ).toEqual([]);
  });

  it("takes notes, colours, switches and unread words out of the message itself", () => {
    const quoted = (one: CorpusCase): readonly string[] =>
      [
        ...(one.unread ?? []),
        ...one.entries.flatMap(({ note, colour, cooling, ingot }) => [
          note,
          colour,
          cooling,
          ingot,
        ]),
      ].filter(
        (words): words is string =>
          typeof words === "string" &&
          !one.text.includes(words) &&
          // A capital that only begins a sentence goes.
          !(
            one.entries.some(({ cooling }) => cooling === words) &&
            one.text.toLowerCase().includes(words)
          ) &&
          // `same again` takes it from the message before.
          !JSON.stringify(one.context?.last ?? []).includes(words),
      );
    expect(faults(quoted)).toEqual([]);
    expect(faults((one) => (one.unread?.length === 0 ? ["empty unread"] : []))).toEqual([]);
  });

  it("sorts the sizes of a bar and keeps them within the steel of an ingot", () => {
    const unsorted = (entry: ExpectedEntry): string[] => {
      const { thickness_mm: thickness, width_mm: width, length_mm: long, shape } = entry;
      if (entry.kind !== "size" || shape === "ring") return [];
      if (typeof thickness !== "number" || typeof width !== "number") return [];
      if (thickness > width) return ["thicker than wide"];
      if (typeof long !== "number") return [];
      const steelG = thickness * width * long * 0.0077;
      return long < width || steelG < 200 || steelG > 2000 ? [`a bar of ${steelG} g`] : [];
    };
    expect(faults((one) => one.entries.flatMap(unsorted))).toEqual([]);
  });
});
