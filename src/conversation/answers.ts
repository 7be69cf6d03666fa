/** Answers to questions: short ones by the rule of five lines; plan, summary and day's sheet whole. */

import { type IngotState, learnedFigures } from "../logbook/index.js";
import { cardWords, dayWords, ingotCard, learnedWords } from "../report/index.js";
import { type ChatUnits, formatMass, formatPercent } from "../units/index.js";
import { chargeLines } from "./charge-lines.js";
import { blade, cut, force, pipe, time } from "./figures-asked.js";
import { nextLines, spareText } from "./forge.js";
import { givenUpText } from "./given-up-line.js";
import { RANK, type RankedLine } from "./lines.js";
import { heatsDone, lostSoFarG, massNow, planFor } from "./plan-for.js";
import { planLines } from "./plan-lines.js";
import { factWords } from "./read-back.js";
import { daySheetOf, wholePlanOf } from "./sheets.js";
import type { ShopNow } from "./shop-now.js";
import type { Asked, TurnInput } from "./turn-input.js";
import { askForBody, counted, HELP, ingotExample, massExample } from "./words.js";

export interface Answers {
  readonly lines: readonly RankedLine[];
  /** Lines of an answer that was asked for whole. */
  readonly long: readonly string[];
}

const noIngot = (units: ChatUnits): string =>
  `No ingot in hand. Say: new ingot ${ingotExample(units)}`;

export function answerQuestions(
  input: TurnInput & { readonly shop: ShopNow; readonly units: ChatUnits },
): Answers {
  const { shop, units, decision } = input;
  const answers = decision.questions.map(({ question, state }) =>
    answer({ question, input, state: state ?? decision.state, shop, units }),
  );
  return {
    lines: answers.flatMap(({ lines }) => lines),
    long: answers.flatMap(({ long }) => long),
  };
}

function answer(asked: Asked): Answers {
  const { question, state } = asked;
  if (question.about === "help") return whole(HELP);
  if (question.topic === "figures") return whole(figures(asked));
  if (question.topic === "log") return lastSaid(asked);
  if (question.topic === "charge") return whole(chargeLines(question, asked.shop, asked.units));
  if (question.about === "day") return day(asked);
  if (question.about === "time") return short(time(asked));
  if (question.about === "force") return short(force(asked));
  if (state === undefined) return short([noIngot(asked.units)]);
  if (question.topic === "pipe") return short(pipe(asked, state));
  if (question.topic === "blade") return short(blade(asked, state));
  if (question.topic === "cut") return short(cut(asked, state));
  switch (question.about) {
    case "next":
      return next(asked, state);
    case "plan":
      return whole(planLines(state, asked.shop, asked.units));
    case "status":
      return short(status(asked, state));
    case "loss":
      return short(loss(asked, state));
    case "summary":
      return whole(summary(asked, state));
  }
}

const short = (texts: readonly string[]): Answers => ({
  lines: texts.map((text) => ({ rank: RANK.verdict, text })),
  long: [],
});
const whole = (texts: readonly string[]): Answers => ({ lines: [], long: texts });

function next({ shop, units }: Asked, state: IngotState): Answers {
  if (state.finish !== undefined) return short([`Ingot ${state.name} is done. Say: summary`]);
  if (state.givenUp !== undefined) return short([givenUpText(state)]);
  const plan = planFor(state, shop);
  if (plan === undefined) return short([askForBody(units)]);
  if (plan.refused) return short([plan.what]);
  const route = plan.routes[0];
  return { lines: route === undefined ? [] : nextLines(state, route, units), long: [] };
}

function status({ shop, units }: Asked, state: IngotState): string[] {
  const piece =
    state.piece === undefined
      ? undefined
      : factWords({ kind: "size", ...sizesOf(state.piece) }, units);
  const massG = massNow(state);
  const open = state.cracks.filter(({ takenOutBy }) => takenOutBy === undefined);
  const plan = state.givenUp === undefined ? planFor(state, shop) : undefined;
  const route = plan === undefined || plan.refused ? undefined : plan.routes[0];
  const gone = state.givenUp === undefined ? undefined : "given up";
  return [
    [`Ingot ${state.name}`, gone, piece, massG === undefined ? undefined : formatMass(massG, units)]
      .filter((part) => part !== undefined)
      .join(" · "),
    `${counted(heatsDone(state), "heat")} · ${
      open.length === 0
        ? "no open crack"
        : open.map(({ value }) => factWords({ kind: "crack", ...value }, units)).join(", ")
    }`,
    ...(route === undefined ? [] : [spareText(state, route, units)]),
  ];
}

const sizesOf = ({ at: _at, afterHeats: _after, ...sizes }: NonNullable<IngotState["piece"]>) =>
  sizes;

function loss({ shop, units }: Asked, state: IngotState): string[] {
  const lostG = lostSoFarG(state);
  const startG = state.facts.massG;
  const heats = heatsDone(state);
  const known = state.removals.reduce((sum, { value }) => sum + (value.massG ?? 0), 0);
  if (lostG === undefined || startG === undefined) {
    const off = known > 0 ? `${formatMass(known, units)} taken off so far. ` : "";
    return [`${off}Weigh it and say the mass: ${massExample(units)}`];
  }
  const plan = planFor(state, shop);
  const route = plan === undefined || plan.refused ? undefined : plan.routes[0];
  const fire = Math.max(0, lostG - known);
  const perHeat = heats > 0 ? ` · ${formatPercent((100 * fire) / startG / heats)} a heat` : "";
  return [
    `Lost ${formatMass(lostG, units)}, ${formatPercent((100 * lostG) / startG)} of ${formatMass(startG, units)}`,
    `Taken off ${formatMass(known, units)} · fire ${formatMass(fire, units)}${perHeat}`,
    ...(route === undefined ? [] : [spareText(state, route, units)]),
  ];
}

function summary({ shop, units }: Asked, state: IngotState): string[] {
  return cardWords(ingotCard({ state, shop, ...wholePlanOf(state, shop) }), units).split("\n");
}

/** What the log has taught, each figure with the ingots behind it. */
const figures = ({ shop }: Asked): string[] =>
  learnedWords(shop.taught ?? learnedFigures([])).split("\n");

/** The last message's entries, read back. */
function lastSaid({ input, units }: Asked): Answers {
  const facts = input.view.lastTurns[0]?.entries.flatMap(({ fact }) => fact ?? []) ?? [];
  if (facts.length === 0) return short(["Nothing logged yet."]);
  return short([`Logged last: ${facts.map((fact) => factWords(fact, units)).join(" · ")}`]);
}

function day({ input, shop, units }: Asked): Answers {
  if (input.dayLog === undefined) return short([]);
  const { date, entries, states } = input.dayLog;
  const sheet = daySheetOf({ date, timezone: input.timezone, entries, states, shop });
  return whole(dayWords(sheet, units).split("\n"));
}
