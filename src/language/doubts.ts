/**
 * A doubt is a figure that is not recorded but asked about. One question a message: the first doubt is asked, the words
 * of the others are handed back unread, so that nothing that was said is lost in silence.
 */
import type { ReadingContext } from "./context.js";
import type { Body, Doubt, DoubtChoice, Ledger } from "./ledger.js";
import type { Sentence } from "./sentence.js";

/** The last way out of a doubt: nothing comes on top of what is recorded already. */
export const LEAVE_OUT = "Leave it out";

/** Adds a doubt. A question has at least two answers: where one is left, leaving it out is the other. */
export function doubtAbout(ledger: Ledger, doubt: Doubt): void {
  const choices =
    doubt.choices.length < 2
      ? [...doubt.choices, { label: LEAVE_OUT, body: undefined }]
      : doubt.choices;
  ledger.doubts.push({ ...doubt, choices });
  ledger.trace.push(`doubt: ${doubt.about}: ${choices.map((choice) => choice.label).join(" | ")}`);
}

/** Fields that tell which entry is meant when a figure is added to it later. */
const TELLS: Readonly<Record<string, readonly string[]>> = {
  heat: ["number"],
  crack: ["place"],
  removal: ["method", "place"],
  melt: ["number"],
  ingot: ["name"],
};

/** A choice's entry: what tells which one it is, and the figure in doubt. */
export function onTop(
  choice: DoubtChoice,
  doubt: Doubt,
  context: ReadingContext,
): Body | undefined {
  if (choice.body === undefined) return undefined;
  const { of } = doubt;
  if (of === undefined) return choice.body;
  const body: Body = { ...choice.body };
  for (const field of TELLS[of.kind] ?? [])
    if (of[field] !== undefined && body[field] === undefined) body[field] = of[field];
  // A heat without a number is the next one; told by its number it is not counted twice.
  if (of.kind === "heat" && body.number === undefined)
    body.number = (context.ingot?.heats ?? 0) + 1;
  return body;
}

/** Words of the doubts that are not asked, as typed. */
export function unasked(ledger: Ledger, sentence: Sentence): string[] {
  const [, ...others] = ledger.doubts;
  const asked = new Set(ledger.doubts[0]?.figs ?? []);
  const figs = [...new Set(others.flatMap((doubt) => doubt.figs))]
    .filter((fig) => !asked.has(fig))
    .sort((a, b) => a.from - b.from);
  const runs: { from: number; to: number }[] = [];
  for (const fig of figs) {
    const last = runs[runs.length - 1];
    if (last && fig.from <= last.to + 1) last.to = Math.max(last.to, fig.labelTo ?? fig.to);
    else runs.push({ from: fig.from, to: fig.labelTo ?? fig.to });
  }
  return runs.map((run) => sentence.raw(run.from, run.to));
}
