import { bare, isTalk, trimmed } from "./bare-words.js";
import type { ReadingContext } from "./context.js";
import { doubtAbout, LEAVE_OUT } from "./doubts.js";
import { understood } from "./facts.js";
import { figureLabel } from "./figure-label.js";
import { type Body, type DoubtChoice, type Ledger, mm } from "./ledger.js";
import { asMm, type Fig, type Part } from "./parts.js";
import { fahrenheit } from "./scales.js";
import type { Sentence } from "./sentence.js";

/** What a clause left over: asked about, or handed back as typed. */
export function leftovers(
  parts: readonly Part[],
  ledger: Ledger,
  context: ReadingContext,
  sentence: Sentence,
  touched: boolean,
  unread: string[],
  give: () => void,
): void {
  const unknown = parts.filter((part) => part.type === "unknown" && !understood.has(part));
  const figures = parts.filter((part): part is Fig => part.type === "figure" && !part.used);
  if (unknown.length === 0 && figures.length === 1) {
    const fig = figures[0];
    if (
      fig &&
      fig.chain === undefined &&
      (fig.label === undefined || fig.label === "depthMm") &&
      !fig.q.ordinal &&
      (fig.dimension === undefined || fig.dimension === "length") &&
      ledger.frame?.kind !== "setting" &&
      // Nothing measures nothing: handed back unread.
      mm(fig, context) > 0
    ) {
      askDimension(fig, ledger, context);
      return;
    }
  }
  const astray = figures.find((fig) => !(fig.q.ordinal || (fig.q.spoken && fig.value === 1)));
  // Of a clause that told nothing, only where it is nothing but a figure: the rest is talk.
  if (astray && (touched || unknown.length === 0) && askWhich(astray, ledger, context)) {
    astray.used = true;
    if (!touched && figures.length === 1) return;
  }
  if (!touched) {
    const content = parts.some((part) => !bare(part));
    if (content) give();
    return;
  }
  let run: { from: number; to: number } | undefined;
  const flush = (): void => {
    if (run) unread.push(trimmed(sentence.raw(run.from, run.to)));
    run = undefined;
  };
  const lost = (part: Part): boolean =>
    (part.type === "unknown" && !understood.has(part)) ||
    (part.type === "figure" && !part.used && !part.q.ordinal);
  for (const part of parts) {
    if (lost(part)) run = { from: run?.from ?? part.from, to: part.to };
    else if (run && !(part.type === "mark" && isTalk(part))) flush();
  }
  flush();
  for (const part of parts) if (part.type === "figure" && !part.used) part.used = true;
}

const OF_DIMENSION: Readonly<Record<string, RegExp>> = {
  mass: /G$/,
  length: /Mm$/,
  temperature: /C$/,
  duration: /Min$/,
};

/**
 * A figure that no rule took, beside one of its dimension that was taken: either may be the wrong one, so that neither is recorded. Gives
 * false if nothing of its dimension was.
 */
function askWhich(lost: Fig, ledger: Ledger, context: ReadingContext): boolean {
  const kind =
    OF_DIMENSION[lost.dimension ?? (lost.label?.endsWith("Mm") === true ? "length" : "")];
  if (kind === undefined) return false;
  const taken = ledger.bodies
    .flatMap((body) =>
      [...(ledger.figures.get(body) ?? [])].map(([field, fig]) => ({ body, field, fig })),
    )
    .filter(
      ({ body, field, fig }) =>
        kind.test(field) && body[field] !== undefined && fig.from < lost.from,
    )
    .sort((a, b) => b.fig.from - a.fig.from);
  const [near] = taken;
  if (near === undefined) return false;
  const { body, field, fig } = near;
  const of =
    lost.dimension === "length"
      ? mm(lost, context)
      : lost.dimension === "temperature"
        ? fahrenheit(lost, context)
        : lost.value;
  const choice = (value: unknown): DoubtChoice => ({
    label: figureLabel(field, Number(value), context),
    body: { kind: body.kind, [field]: value },
  });
  const choices = [choice(body[field]), choice(of), { label: LEAVE_OUT, body: undefined }];
  delete body[field];
  const empty = body.kind === "size" && Object.keys(body).every((key) => key === "kind");
  if (empty) ledger.bodies.splice(ledger.bodies.indexOf(body), 1);
  doubtAbout(ledger, {
    about: "which-figure",
    choices,
    of: empty ? undefined : body,
    figs: [fig, lost],
  });
  return true;
}

const round = (value: number): number => Math.round(value * 1000) / 1000;

function askDimension(fig: Fig, ledger: Ledger, context: ReadingContext): void {
  fig.used = true;
  const value = mm(fig, context);
  // In the said unit; of a range its middle.
  const shown = fig.dimension === undefined ? fig.value : (fig.value / fig.q.value) * fig.q.said;
  const unit =
    fig.dimension === "length"
      ? (fig.q.unit ?? "")
      : context.units === "inch" || fig.inches
        ? "in"
        : "mm";
  const choice = (label: string, body: Body): DoubtChoice => ({ label, body });
  const choices: DoubtChoice[] = [];
  const frame = ledger.frame?.kind === "removal" ? ledger.frame : undefined;
  if (frame) {
    // `ground 8`: taken away for sure, but grams or millimetres?
    if (fig.dimension === undefined && !fig.inches)
      choices.push(choice(`${round(shown)} g`, { kind: "removal", massG: fig.value }));
    const field = frame.method === "cut" ? "lengthMm" : "depthMm";
    choices.push(choice(figureLabel(field, value, context), { kind: "removal", [field]: value }));
    doubtAbout(ledger, { about: "which-dimension", choices, of: frame, figs: [fig] });
    return;
  }
  const figure = `${round(shown)} ${unit}`;
  if (fig.dimension === undefined && !fig.inches && fig.value >= 500 && fig.value <= 1300)
    choices.push(choice(`${round(shown)} °C`, { kind: "heat", temperatureC: fig.value }));
  if (value <= 120)
    choices.push(
      choice(`${figure} thick`, { kind: "size", thicknessMm: value }),
      choice(`${figure} wide`, { kind: "size", widthMm: value }),
    );
  if (value >= 40 && value <= 2000)
    choices.push(choice(`${figure} long`, { kind: "size", lengthMm: value }));
  if (fig.dimension === undefined && !fig.inches && context.units === "mm" && fig.value >= 100)
    choices.push(choice(`${round(shown)} g`, { kind: "size", massG: fig.value }));
  if (choices.length === 0)
    choices.push(
      choice(`${figure} long`, { kind: "size", lengthMm: asMm(fig, context.units === "inch") }),
    );
  doubtAbout(ledger, { about: "which-dimension", choices, of: undefined, figs: [fig] });
}
