/** The frame that a later word of the message names, for the figures that stand before it. */
import { bare } from "./bare-words.js";
import type { ReadingContext } from "./context.js";
import type { Talk } from "./facts.js";
import { type Ledger, open } from "./ledger.js";
import { type Fig, means, type Part } from "./parts.js";

/** `150 by 28 blade, single edge`: a blade with its edge or its tang is what is wanted, not the bar. */
function isBladeTold(parts: readonly Part[], figure: number): boolean {
  const blade = parts.findIndex((part) => means(part, "goal") === "blade");
  const before = parts[blade - 1];
  // `150 by 28 blade`: a list and then the word is a blade whatever follows.
  if (before?.type === "figure" && before.chain !== undefined && before.label === undefined)
    return true;
  return (
    blade >= 0 &&
    figure >= 0 &&
    parts.some((part) => means(part, "edge") !== undefined || means(part, "place") === "tang")
  );
}

/** `30 high 64 dia, new ingot`: the frame that a later word names takes earlier figures. */
/** Words of other work: what follows a melt then belongs to that. */
const OTHER_WORK = ["op", "removal", "goal", "route", "place"] as const;

/** The message before told of a melt and nothing else, and this one tells of no other work. */
export function goesOnWithMelt(parts: readonly Part[], context: ReadingContext): boolean {
  const last = context.last ?? [];
  if (last.length === 0 || last.some((fact) => fact.kind !== "melt")) return false;
  return !parts.some(
    (part) =>
      part.type === "number of heat" ||
      part.type === "colour" ||
      /^(heat|crack|ingot|finish)$/.test(means(part, "kind") ?? "") ||
      OTHER_WORK.some((group) => means(part, group) !== undefined),
  );
}

/** `held 40 min`, `1510 for half an hour`; `came out 60 across 30 high`: of the melt just told, and what came out of it. */
function afterMelt(parts: readonly Part[], ledger: Ledger, context: ReadingContext): boolean {
  if (!goesOnWithMelt(parts, context)) return false;
  const figures = parts.filter((part): part is Fig => part.type === "figure");
  const round = figures.some(
    (fig) => /^(diameter|height)Mm$/.test(fig.label ?? "") || fig.chain !== undefined,
  );
  if (round) {
    ledger.frame = open(ledger, { kind: "ingot", isNew: true });
    return true;
  }
  const hot = figures.some(
    (fig) =>
      fig.dimension === "duration" ||
      fig.dimension === "temperature" ||
      (fig.dimension === undefined && fig.label === undefined && fig.value >= COOLEST_MELT_C),
  );
  if (hot) ledger.frame = open(ledger, { kind: "melt" });
  return hot;
}
/** So many blades come out of one bar. Common practice, no source; 2 to 6. */
const MOST_BLADES = 6;
/** A bare figure from here on is a melt's, °C. Common practice, no source; 1000 to 1300. */
const COOLEST_MELT_C = 1000;

export function startFrame(
  parts: readonly Part[],
  ledger: Ledger,
  talk: Talk,
  context: ReadingContext,
): void {
  if (afterMelt(parts, ledger, context)) return;
  // `two blades`: what is wanted.
  const said = parts.filter((part) => !bare(part));
  const blades = said[1]?.type === "mark" && /^(blades|knives|daggers)$/.test(said[1].words);
  if (said.length === 2 && blades && said[0]?.type === "figure" && said[0].value <= MOST_BLADES) {
    ledger.frame = open(ledger, { kind: "goal" });
    return;
  }
  const kindAt = (kind: string): number => parts.findIndex((part) => means(part, "kind") === kind);
  const figure = parts.findIndex((part) => part.type === "figure");
  const first = parts.findIndex((part) =>
    ["kind", "op", "removal", "route", "split"].some((group) => means(part, group) !== undefined),
  );
  if (first < 0 && figure >= 0 && !talk.heat && isBladeTold(parts, figure)) {
    ledger.frame = open(ledger, { kind: "goal" });
    return;
  }
  // `done! blade 0,214 kg 232 long`.
  const lead = parts.find((part) => !bare(part));
  const blade = parts.slice(0, 6).some((part) => means(part, "goal") === "blade");
  const over = [lead, parts[0]].some(
    (part) => part?.type === "mark" && /^(done|all done)$/.test(part.words),
  );
  if (over && blade && figure >= 0) {
    ledger.frame = open(ledger, { kind: "finish" });
    return;
  }
  if (
    /^(puck|cone)$/.test(means(lead, "ingotshape") ?? "") &&
    figure >= 0 &&
    !talk.heat &&
    !talk.worked
  ) {
    ledger.frame = open(ledger, {
      kind: "ingot",
      isNew: true,
      shape: means(lead, "ingotshape"),
    });
    return;
  }
  const weighed = parts[figure];
  // `12 oz of iron and 2 of cast iron in the crucible`: a charge, named at the end.
  if (
    talk.melt &&
    weighed?.type === "figure" &&
    weighed.dimension === "mass" &&
    parts.slice(figure + 1, figure + 3).some((part) => means(part, "what") !== undefined)
  ) {
    ledger.frame = open(ledger, { kind: "melt" });
    ledger.meltMode = "charge";
    return;
  }
  if (figure < 0 || first < 0 || figure > first || talk.heat) return;
  const lone = parts.slice(0, first).filter((part) => !bare(part));
  // `tang 100, goal 34 x 260`; `0.187 kg finished blade`.
  const tang = lone.length === 2 && lone.some((part) => means(part, "place") === "tang");
  if (kindAt("goal") === first && tang) {
    ledger.frame = open(ledger, { kind: "goal" });
    return;
  }
  const weight = lone.length === 1 && lone[0]?.type === "figure" && lone[0].dimension === "mass";
  if (kindAt("finish") === first && weight) {
    ledger.frame = open(ledger, { kind: "finish" });
    return;
  }
  const ingot = kindAt("ingot");
  const goal = kindAt("goal");
  const isNew = parts.some((part) => part.type === "mark" && /\bnew\b/.test(part.words));
  if (ingot === first && isNew) ledger.frame = open(ledger, { kind: "ingot", isNew: true });
  else if (
    goal === first &&
    parts.slice(0, goal + 1).some((part) => means(part, "goal") === "blade")
  )
    ledger.frame = open(ledger, { kind: "goal" });
}
