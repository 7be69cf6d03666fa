/** A figure that steel cannot have becomes a question, with the likely slips as choices. */
import { celsiusFromFahrenheit, MM_PER_INCH } from "../units/index.js";
import type { ReadingContext } from "./context.js";
import { doubtAbout, LEAVE_OUT } from "./doubts.js";
import { figureLabel } from "./figure-label.js";
import type { Body, DoubtChoice, Ledger } from "./ledger.js";

/** A question shows at most this many likely slips. */
const MOST_SLIPS = 3;

/** Slips of thumb and ear: a nought too many, swapped digits, teen for ty, inches for mm. */
export function slips(value: number): readonly number[] {
  const text = String(value);
  const found = [value / 10, value * 10, value / 100, value / 1000];
  if (/^\d{2,4}$/.test(text)) {
    for (let i = 0; i + 1 < text.length; i += 1)
      found.push(Number(text.slice(0, i) + text[i + 1] + text[i] + text.slice(i + 2)));
    if (/^1[3-9]$/.test(text)) found.push(Number(`${text[1]}0`));
    if (/^[3-9]0$/.test(text)) found.push(Number(`1${text[0]}`));
  }
  return [...new Set(found)].filter((one) => one !== value && Number.isFinite(one) && one > 0);
}

/** A figure that is asked about. */
export interface Suspect {
  readonly body: Body;
  readonly field: string;
  /** The figure could be so; which of the usual slips are offered. */
  readonly fits: (value: number) => boolean;
  /** The whole entry is kept back, not the figure alone. */
  readonly whole?: boolean;
  readonly about?: string;
}

const AS_SAID_C = 2000;

/** What may have been meant, as choices; the figure as it was said and `Leave it out` come last. */
export function doubt(ledger: Ledger, context: ReadingContext, suspect: Suspect): void {
  const { body, field, fits } = suspect;
  const value = Number(body[field]);
  const fig = ledger.figures.get(body)?.get(field);
  const entry = (one: number): Body =>
    suspect.whole ? { ...body, [field]: one } : { kind: body.kind, [field]: one };
  const choices: DoubtChoice[] = [];
  const offer = (label: string, one: number): void => {
    if (!choices.some((choice) => choice.body?.[field] === one))
      choices.push({ label, body: entry(one) });
  };
  if (field === "temperatureC") {
    const said = fig?.q.said ?? value;
    const scale = fig?.q.unit;
    if (scale !== "f" && scale !== "k" && fits(celsiusFromFahrenheit(said)))
      offer(
        `${said} °F, ${figureLabel(field, celsiusFromFahrenheit(said), { ...context, temperatureUnits: "c" })}`,
        celsiusFromFahrenheit(said),
      );
    if (scale === "f" && fits(said)) offer(`${said} °C`, said);
  }
  for (const one of slips(value).filter(fits).slice(0, MOST_SLIPS))
    offer(figureLabel(field, one, context), one);
  // `16500`: a nought too many, in the other scale.
  const said = fig?.q.said ?? value;
  const tenth = celsiusFromFahrenheit(said / 10);
  if (field === "temperatureC" && choices.length === 0 && said > AS_SAID_C && fits(tenth))
    offer(
      `${said / 10} °F, ${figureLabel(field, tenth, { ...context, temperatureUnits: "c" })}`,
      tenth,
    );
  // `h6 2450` of an inch chat.
  if (
    field === "temperatureC" &&
    choices.length === 0 &&
    fig?.q.unit === undefined &&
    context.units === "inch"
  )
    offer(`${said} °F as said`, celsiusFromFahrenheit(said));
  choices.length = Math.min(choices.length, MOST_SLIPS);
  if (field !== "temperatureC" || value <= AS_SAID_C || choices.length === 0)
    choices.push({ label: `${figureLabel(field, value, context)} as said`, body: entry(value) });
  choices.push({ label: LEAVE_OUT, body: undefined });
  const figs = suspect.whole ? [...(ledger.figures.get(body)?.values() ?? [])] : fig ? [fig] : [];
  if (suspect.whole) ledger.bodies.splice(ledger.bodies.indexOf(body), 1);
  else delete body[field];
  doubtAbout(ledger, {
    about: suspect.about ?? "slip",
    choices,
    of: suspect.whole ? undefined : body,
    figs,
  });
}

/** Sizes too small to be mm were probably inches: the whole list in one or the other. */
export function unitDoubt(
  ledger: Ledger,
  body: Body,
  fields: readonly string[],
  whole: boolean,
): void {
  const figures = ledger.figures.get(body);
  const figs = fields.flatMap((field) => figures?.get(field) ?? []);
  const list = fields
    .map((field) => Number(body[field]))
    .map((one) => Math.round(one * 1000) / 1000);
  const scaled = (factor: number): Body => ({
    ...(whole ? body : { kind: body.kind }),
    ...Object.fromEntries(fields.map((field) => [field, Number(body[field]) * factor])),
  });
  const choices = [
    { label: `${list.join(" × ")} in`, body: scaled(MM_PER_INCH) },
    { label: `${list.join(" × ")} mm`, body: scaled(1) },
    { label: LEAVE_OUT, body: undefined },
  ];
  if (whole) ledger.bodies.splice(ledger.bodies.indexOf(body), 1);
  else for (const field of fields) delete body[field];
  doubtAbout(ledger, { about: "unit", choices, of: whole ? undefined : body, figs });
}
