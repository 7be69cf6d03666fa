/** What leans on the message before: `same again`, `another 10`, `two more the same`. */
import type { Fact } from "../logbook/index.js";
import type { ReadingContext } from "./context.js";
import { type Body, mm } from "./ledger.js";
import { type Fig, means, type Part } from "./parts.js";
import { fahrenheit } from "./scales.js";

const REPEATED = new Set(["heat", "removal", "crack"]);

function copy(fact: Fact): Body {
  const body: Body = { ...fact };
  delete body.number;
  delete body.at;
  return body;
}

/** Entries to record again, or undefined if the clause says no such thing or nothing can be repeated. */
export function readAgain(parts: readonly Part[], context: ReadingContext): Body[] | undefined {
  const last = context.last ?? [];
  const figures = parts.filter((part): part is Fig => part.type === "figure");
  const place = parts.map((part) => means(part, "place")).find((one) => one !== undefined);
  if (parts.some((part) => means(part, "say") === "again")) {
    const again = last.filter((fact) => REPEATED.has(fact.kind)).map(copy);
    if (again.length === 0) return undefined;
    const times = figures.find(
      (fig) =>
        fig.dimension === undefined && fig.value <= 10 && fig.q.whole && fig.label === undefined,
    );
    if (times) times.used = true;
    const numbered = parts.find((part) => part.type === "number of heat");
    const first = again.find((body) => body.kind === "heat");
    if (numbered?.type === "number of heat" && first) first.number = numbered.number;
    for (const fig of figures) {
      // A size is told beside it.
      if (
        fig.used ||
        fig.chain !== undefined ||
        /^(length|width|thickness)Mm$/.test(fig.label ?? "")
      )
        continue;
      const heat = again.find((body) => body.kind === "heat");
      const removal = again.find((body) => body.kind === "removal");
      if (
        heat &&
        (fig.dimension === "temperature" || (fig.dimension === undefined && fig.value >= 500))
      )
        heat.temperatureC = fahrenheit(fig, context);
      else if (removal) Object.assign(removal, another(removal, fig, context));
      else continue;
      fig.used = true;
    }
    const placed = again.find((body) => body.kind !== "heat");
    if (place !== undefined && placed) placed.place = place;
    const words = parts.map((part) => (part.type === "mark" ? part.words : "")).join(" ");
    const said = /\btwice\b/.test(words) ? 2 : /\bthree times\b|\bthrice\b/.test(words) ? 3 : 1;
    return Array.from({ length: times?.value ?? said }, () =>
      again.map((body) => ({ ...body })),
    ).flat();
  }
  const at = parts.findIndex(
    (part) =>
      means(part, "say") === "another" ||
      (part.type === "mark" && /^(more|further|more off)$/.test(part.words)),
  );
  if (at < 0) return undefined;
  const fig = figures[0];
  const removal = [...last].reverse().find((fact) => fact.kind === "removal");
  if (
    !fig ||
    !removal ||
    figures.some((one) => one !== fig && parts.indexOf(one) < parts.indexOf(fig)) ||
    (figures.length > 1 && !/^(and|now|its|it's|weighs|,)/.test(wordAfter(parts, fig))) ||
    fig.label === "lengthMm" ||
    fig.label === "thicknessMm" ||
    fig.label === "widthMm"
  )
    return undefined;
  if (
    parts.some(
      (part) =>
        means(part, "kind") !== undefined ||
        means(part, "op") !== undefined ||
        means(part, "say") === "next heat",
    )
  )
    return undefined;
  const method = parts
    .map((part) => means(part, "removal"))
    .find((one) => one !== undefined && one !== "any");
  const body: Body = another(copy(removal), fig, context);
  if (place !== undefined) body.place = place;
  if (method !== undefined) body.method = method;
  fig.used = true;
  if (fig.approx) body.approx = true;
  return [body];
}

/** The word behind a figure. */
const wordAfter = (parts: readonly Part[], fig: Fig): string => {
  const next = parts[parts.indexOf(fig) + 1];
  return next?.type === "mark" ? next.words : "";
};

const FIELDS = ["massG", "lengthMm", "depthMm", "diameterMm"] as const;

function another(before: Body, fig: Fig, context: ReadingContext): Body {
  const body: Body = { ...before };
  const had = FIELDS.filter((field) => body[field] !== undefined);
  for (const field of FIELDS) delete body[field];
  delete body.approx;
  if (fig.dimension === "mass") body.massG = fig.value;
  else {
    const length = had.find((field) => field !== "massG");
    if (fig.dimension === "length")
      body[length ?? (body.method === "cut" ? "lengthMm" : "depthMm")] = fig.value;
    else if (had[0] === "massG") body.massG = fig.value;
    else body[length ?? "massG"] = length === undefined ? fig.value : mm(fig, context);
  }
  return body;
}
