/** Where a weight goes: to what was taken away, to the charge of a melt, or to the piece. */
import { G_PER_OUNCE, G_PER_POUND } from "../units/index.js";
import { doubtAbout } from "./doubts.js";
import { beginRemoval, type FactReader, fresh, offAfter, wordsAt } from "./fact-reader.js";
import { removalMass } from "./fact-removal.js";
import { closeFrame, put, sizeOf } from "./ledger.js";
import type { Fig } from "./parts.js";

/** `weighs fifteen` in an inch chat: ounces, pounds or grams? */
function askWeight(r: FactReader, fig: Fig): void {
  const units = [
    ["oz", G_PER_OUNCE],
    ["lb", G_PER_POUND],
    ["g", 1],
  ] as const;
  doubtAbout(r.ledger, {
    about: "unit",
    choices: units
      .map(([unit, grams]) => ({ unit, massG: fig.value * grams }))
      .filter(({ massG }) => massG >= LIGHTEST_G && massG <= HEAVIEST_G)
      .map(({ unit, massG }) => ({
        label: `${Math.round(fig.value * 1000) / 1000} ${unit}`,
        body: { kind: "size", massG },
      })),
    of: undefined,
    figs: [fig],
  });
  fig.used = true;
  r.ledger.touched += 1;
}
/** What an ingot of this trade may weigh (common practice, range of what is offered to choose from). */
const LIGHTEST_G = 10;
const HEAVIEST_G = 10_000;

/** `5 g gone`. */
const isGone = (r: FactReader, i: number): boolean => {
  const next = r.parts[i + 1];
  return next !== undefined && /^(is |was |all )?gone$/.test(r.sentence.lower(next.from, next.to));
};

/** `coming`: the next thing that the clause tells, and how many parts away. */
export function takeMass(
  r: FactReader,
  fig: Fig,
  i: number,
  coming: { kind: string; gap: number } | undefined,
): void {
  const { ledger, context, talk } = r;
  const inch = context.units === "inch";
  const { frame } = ledger;
  if (fig.dimension === "mass") {
    // `ingot out 702 g from a 745 g charge`.
    if (/charge/.test(wordsAt(r, i + 1)) && talk.melt) {
      const melt = ledger.bodies.find((body) => body.kind === "melt") ?? fresh(r, { kind: "melt" });
      if (melt.massG === undefined && put(ledger, melt, "massG", fig.value, fig)) return;
    }
    if (frame?.kind === "removal" && removalMass(r, fig, frame)) return;
    // `ground three grams off the edge and two grams off the spine`.
    if (frame?.kind === "removal" && frame.massG !== undefined && offAfter(r, i)) {
      const { method } = frame;
      closeFrame(ledger);
      const body = beginRemoval(r, typeof method === "string" ? method : undefined);
      put(ledger, body, "massG", fig.value, fig);
      return;
    }
    const other =
      frame?.kind === "removal" &&
      frame.massG !== undefined &&
      coming?.kind === "removal" &&
      coming.gap === 1;
    if (other) closeFrame(ledger);
    if (
      (frame?.kind !== "removal" || other) &&
      coming?.kind === "removal" &&
      (fig.label === undefined || frame?.kind !== "crack")
    ) {
      put(ledger, beginRemoval(r, undefined), "massG", fig.value, fig);
      return;
    }
    if (offAfter(r, i) || isGone(r, i)) {
      put(ledger, beginRemoval(r, undefined), "massG", fig.value, fig);
      return;
    }
    // `lopped the tip off, lost 14 g, weighs 528 g, 188 long`: from here on the piece is told.
    if (frame?.kind === "removal" && frame.massG !== undefined) closeFrame(ledger);
    if (put(ledger, sizeOf(ledger), "massG", fig.value, fig)) return;
    return;
  }
  if (fig.label === "massG" && fig.dimension === undefined) {
    const grams = inch ? undefined : fig.value;
    if (grams !== undefined) put(ledger, sizeOf(ledger), "massG", grams, fig);
    else askWeight(r, fig);
    return;
  }
}
