/**
 * Corrections told in sentences (`19 is wrong, it's 16 thick`, `at the tip and not the tang`, `that was a taper, I wasn't drawing`). They need
 * what was recorded last: a word that puts right, and a value of the last entries that is denied or replaced.
 */
import { type Fact, toSnake } from "../logbook/index.js";
import type { ReadingContext } from "./context.js";
import { alsoCalled, near } from "./correction-field.js";
import type { Body } from "./ledger.js";
import { asMm, type Fig, means, type Part } from "./parts.js";
import { fahrenheit } from "./scales.js";

const CUE =
  /\b(not|never|\w+n't|ain't|wrong|mistake|mistyped|mistaken|misheard|miscounted|misread|misspoke|typo|meant|mean|only|from melt|came from|instead|rather|should (?:be|have|read|say)|shd be|wasnt|isnt|aint|s\/b|change|changed|correct|corrected|fix|swap|swapped|rubbish|nonsense|fat.?fingered|typed|actually|obviously|muppet|silly me|my bad|oops|whoops|sorry|call it|i (?:said|put|wrote|told|entered|clearly said)|you(?:'ve| have)? (?:got|put|heard|wrote)|but it (?:was|is)|make (?:the|it|that)|supposed to|it was the)\b/;
const MORE =
  /\b(ounces|grams|inch|inches|mm|centimet\w+|metres?|millimet\w+|celsius|fahrenheit|pounds|kilos?|cm|belong\w*|under ingot|for (?:the )?ingot|that was|those were)\b/;
/** Could these words put something right? */
export const mayCorrect = (words: string): boolean => {
  const lower = words.toLowerCase();
  return CUE.test(lower) || MORE.test(lower);
};

interface Field {
  readonly field: string;
  readonly value: number | string;
}
/** Fields of the last entries, the last one first. */
const fieldsOf = (last: readonly Fact[]): Field[] =>
  [...last]
    .reverse()
    .flatMap((fact) =>
      Object.entries(fact).flatMap(([field, value]) =>
        field !== "kind" &&
        field !== "at" &&
        (typeof value === "number" || typeof value === "string")
          ? [{ field, value }]
          : [],
      ),
    );

/** The figure as it would stand in a field, or undefined where it cannot. */
function valueIn(fig: Fig, field: string, context: ReadingContext): number | undefined {
  const { dimension } = fig;
  if (field.endsWith("Mm"))
    return dimension === undefined || dimension === "length"
      ? asMm(fig, context.units === "inch")
      : undefined;
  if (field.endsWith("G"))
    return dimension === "mass" || dimension === undefined ? fig.value : undefined;
  if (field.endsWith("C"))
    return dimension === "temperature" || dimension === undefined
      ? fahrenheit(fig, context)
      : undefined;
  if (field.endsWith("Min"))
    return dimension === "duration" || dimension === undefined ? fig.value : undefined;
  if (field === "number" || field === "melt" || field === "count" || field.endsWith("Pct"))
    return dimension === undefined || dimension === "percent" ? fig.value : undefined;
  return undefined;
}

const MELT_CUE =
  /\b(make (it|that)|meant|mean|should (be|have been)|(that|it) (was|is|came) (from )?melt|that's melt)\b/;
const LABELS = /(Mm|G|Pct)$/;
/** Words that turn a label into another field of what was recorded. */
const OF: readonly { readonly says: RegExp; readonly from: string; readonly to: string }[] = [
  { says: /\bpipe\b|\bpipe's\b/, from: "depthMm", to: "pipeDepthMm" },
  { says: /\bpipe\b|\bpipe's\b/, from: "diameterMm", to: "pipeDiameterMm" },
  { says: /\btang\b/, from: "lengthMm", to: "tangLengthMm" },
];

/** The label of a figure, its own or the only one said in the sentence, as the field that was recorded. */
function labelOf(
  fig: Fig,
  parts: readonly Part[],
  words: string,
  fields: readonly Field[],
): string | undefined {
  const label = bareLabel(fig, parts);
  const has = (field: string): boolean => fields.some((one) => one.field === field);
  for (const one of OF)
    if (
      one.says.test(words) &&
      has(one.to) &&
      (label === one.from || (label === undefined && one.to === "tangLengthMm"))
    )
      return one.to;
  return label;
}

function bareLabel(fig: Fig, parts: readonly Part[]): string | undefined {
  if (fig.label !== undefined) return fig.label === "square" ? undefined : fig.label;
  const at = parts.indexOf(fig);
  const before = parts.slice(Math.max(0, at - 6), at).reverse();
  for (const part of before) {
    if (part.type === "figure") return undefined;
    const said = means(part, "noun") ?? means(part, "adj");
    if (said !== undefined && LABELS.test(said)) return said;
  }
  return undefined;
}

const made = (field: string, to: number | string, from?: number | string): Body => ({
  kind: "correct",
  ...(from !== undefined && { from }),
  to,
  field: toSnake(field),
});

/** Word-valued fields and the group of the vocabulary that names their values. */
const WORD_GROUPS: readonly { readonly group: string; readonly field: string }[] = [
  { group: "place", field: "place" },
  { group: "op", field: "operation" },
  { group: "removal", field: "method" },
  { group: "severity", field: "severity" },
  { group: "route", field: "route" },
  { group: "ingotshape", field: "shape" },
  { group: "edge", field: "edge" },
  { group: "place", field: "route" },
];

/** `at the tip and not the tang`, `that was a taper, I wasn't drawing`. */
function wordTold(
  parts: readonly Part[],
  fields: readonly Field[],
  words: string,
): Body | undefined {
  for (const { group, field } of WORD_GROUPS) {
    const recorded = fields.find((one) => one.field === field);
    if (!recorded) continue;
    const said = [
      ...new Set(
        parts.flatMap((part) => {
          const value =
            means(part, group) ?? (field === "route" ? means(part, "place") : undefined);
          return value === undefined || value === "any" ? [] : [value];
        }),
      ),
    ];
    const others = said.filter((value) => value !== recorded.value);
    const [to] = others;
    if (to === undefined || others.length !== 1) continue;
    if (said.length === 2) return made(field, to, recorded.value);
    if (/\b(wrong (spot|place|side|end)|meant|mean|should|actually)\b/.test(words))
      return made(field, to);
  }
  return undefined;
}

/** `not dull red, call it cherry`: colours stand as they were typed. */
function colourTold(
  parts: readonly Part[],
  fields: readonly Field[],
  raw: (part: Part) => string,
): Body | undefined {
  const recorded = fields.find((one) => one.field === "colour");
  const said = parts.filter((part) => part.type === "colour").map(raw);
  const to = said.find((one) => one.toLowerCase() !== String(recorded?.value).toLowerCase());
  // `make that bright orange`.
  const meant = parts.some((part) => /^(make that|meant|no)$/.test(means(part, "say") ?? ""));
  if (recorded && to !== undefined && said.length === 1 && meant) return made("colour", to);
  return recorded && to !== undefined && said.length === 2
    ? made("colour", to, recorded.value)
    : undefined;
}

const MOST_HEATS = 60;
const OTHER_TALK = ["about", "ask"] as const;

/** What is put right, or undefined if the sentence is no correction of what was recorded last. */
export function toldCorrection(
  parts: readonly Part[],
  context: ReadingContext,
  words: string,
  raw: (part: Part) => string,
): readonly Body[] | undefined {
  const fields = fieldsOf(context.last ?? []);
  if (fields.length === 0 || !CUE.test(words)) return undefined;
  if (parts.some((part) => part.type === "time")) return undefined;
  const polite =
    /\b(could|would|can|please|will) (you )?(kindly )?(change|correct|fix|swap|make)\b/.test(words);
  const meant = /\b(meant|said)\b/.test(words);
  if (!polite && !meant && parts.some((part) => OTHER_TALK.some((group) => means(part, group))))
    return undefined;
  const figures = parts.filter(
    (part): part is Fig => part.type === "figure" && part.chain === undefined,
  );
  if (parts.some((part) => part.type === "figure" && part.chain !== undefined)) return undefined;
  const numbers = parts.flatMap((part) =>
    part.type === "number of heat"
      ? [part.number]
      : part.type === "figure" && part.q.ordinal
        ? [part.value]
        : [],
  );
  // `17 thick, I said seventeen not seventy`: said twice, counts once.
  const plain = figures.filter(
    (fig, i) =>
      !fig.q.ordinal &&
      !figures
        .slice(i + 1)
        .some(
          (one) =>
            one.value === fig.value && (one.label ?? fig.label) === fig.label && figures.length > 2,
        ),
  );
  // `instead of 12 it's 10 now`: the piece changed, not the record.
  if (/\bnow\b/.test(words) && /\b(instead|rather)\b/.test(words)) return undefined;
  if (plain.length === 0 && numbers.length === 0) {
    const told = colourTold(parts, fields, raw) ?? wordTold(parts, fields, words);
    return told ? [told] : undefined;
  }
  // `make it melt 24`, `sorry, that was melt 27`, `from melt 23 I meant`.
  const [only] = plain;
  const melt = (context.last ?? []).find((fact) => fact.kind === "melt" || fact.kind === "ingot");
  const field = melt?.kind === "melt" ? "number" : "melt";
  const numbered = melt !== undefined && field in melt && /\bmelt\b/.test(words);
  if (numbered && plain.length === 1 && only?.q.whole && only.dimension === undefined)
    if (MELT_CUE.test(words)) return [made(field, only.value)];
  const worked = parts.some((part) => ["op", "removal"].some((group) => means(part, group)));
  // `it was the sixth heat`, `not heat 8, 9`.
  const counted = fields.find((one) => one.field === "number");
  if (counted && numbers.length > 0 && plain.length <= 1 && !worked) {
    const all = [
      ...numbers,
      ...plain.filter((fig) => fig.q.whole && fig.dimension === undefined).map((fig) => fig.value),
    ];
    const to = all.find((one) => one !== counted.value);
    const from = all.find((one) => one === counted.value);
    const strong =
      /\b(miscounted|wrong|mistake|should (?:be|have)|meant|actually|it was the)\b/.test(words);
    const likely = to !== undefined && to <= MOST_HEATS && all.length <= 2;
    if (likely && plain.every((fig) => fig.value <= MOST_HEATS) && (from !== undefined || strong))
      return [made("number", to, from)];
  }
  if (plain.length === 2) {
    const [one, two] = plain;
    if (!one || !two) return undefined;
    for (const [from, to] of [
      [two, one],
      [one, two],
    ] as const) {
      const label = labelOf(to, parts, words, fields) ?? labelOf(from, parts, words, fields);
      const hit = fields.find((field) => {
        if (typeof field.value !== "number") return false;
        if (label !== undefined && label !== field.field && !alsoCalled(label, field.field))
          return false;
        const value = valueIn(from, field.field, context);
        return value !== undefined && near(value, field.value);
      });
      const value = hit && valueIn(shared(to, from), hit.field, context);
      if (hit && value !== undefined && !near(value, Number(hit.value)))
        return [made(hit.field, value, Number(hit.value))];
    }
  }
  if (worked) return undefined;
  // Labelled figures beside a word that puts right: the new values.
  const labelled = plain.map((fig) => ({ fig, label: labelOf(fig, parts, words, fields) }));
  const told = labelled.every(
    ({ label }) => label !== undefined && fields.some((field) => field.field === label),
  );
  if (
    !told ||
    !/\b(wrong|mistake|mis\w+|typo|change|correct|fix|make the|shd be|should (?:be|have|read|say)|s\/b|meant|instead|oops|whoops|my bad|never|actually|only)\b/.test(
      words,
    )
  )
    return undefined;
  return labelled.flatMap(({ fig, label }) => {
    const value = label === undefined ? undefined : valueIn(fig, label, context);
    return label === undefined || value === undefined ? [] : [made(label, value)];
  });
}

/** `15 g gone but it was 5`: the bare one takes the unit of the other. */
function shared(fig: Fig, other: Fig): Fig {
  if (fig.dimension !== undefined || other.dimension === undefined || other.q.said === 0)
    return fig;
  if (other.dimension === "temperature") return { ...fig, dimension: "temperature" };
  return { ...fig, value: (other.value / other.q.said) * fig.q.said, dimension: other.dimension };
}
