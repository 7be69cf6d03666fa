/** Sentences for what was not understood, not found or not possible. One line each, with what to do. */
import type { Entry, IngotState, Issue } from "../logbook/index.js";
import type { ChatUnits } from "../units/index.js";
import { factWords } from "./read-back.js";

export function issueWords(issue: Issue): string {
  switch (issue.code) {
    case "no-such-ingot":
      return `No ingot called ${clip(issue.name, 24)}. Which one?`;
    case "nothing-to-undo":
      return "Nothing left to take back.";
    case "nothing-to-correct":
      return issue.from === undefined
        ? "Nothing to put right. Say it whole: 38 wide."
        : `No ${issue.from} in your last messages. Say it whole: 38 wide.`;
    case "out-of-range":
      return `${issue.value} cannot be a ${fieldWords(issue.field)}. Not changed: say it again.`;
  }
}

const FIELD_WORDS: Readonly<Record<string, string>> = {
  temperatureC: "temperature",
  thicknessMm: "thickness",
  widthMm: "width",
  lengthMm: "length",
  diameterMm: "diameter",
  heightMm: "height",
  massG: "mass",
  carbonPct: "carbon",
  depthMm: "depth",
};
/** A field's name as a smith says it. */
export const fieldWords = (field: string): string =>
  FIELD_WORDS[field] ?? field.replace(/(Mm|G|C|Pct|Kn|Kg|Min)$/, "").toLowerCase();

export const unreadLine = (unread: readonly string[]): string =>
  `Not understood: ${unread.map((words) => `“${clip(words, 40)}”`).join(", ")}`;

/** `restored`: what stands again because the entries had taken its place. */
export function takenBackLine(
  entries: readonly Entry[],
  restored: readonly Pick<Entry, "fact">[],
  before: IngotState | undefined,
  units: ChatUnits,
): string {
  const exact: ChatUnits = { ...units, exact: true };
  const again = restored.flatMap(({ fact }) => (fact ? [factWords(fact, exact, undefined)] : []));
  const words = entries.flatMap(({ id, fact }) => {
    const heat = before?.heats.find(({ entryId }) => entryId === id)?.value.number;
    return fact === undefined ? [] : [factWords(fact, exact, heat)];
  });
  const back = again.length === 0 ? "" : `, back to ${firstFew(again)}`;
  return `Taken back: ${firstFew(words) || "the last message"}${back}`;
}

/** Facts that one line has room for. */
const MOST_FACTS = 6;
/** The first facts in a line, and how many more there are. */
export function firstFew(words: readonly string[]): string {
  const more = words.length - MOST_FACTS;
  return more <= 0
    ? words.join(" · ")
    : `${words.slice(0, MOST_FACTS).join(" · ")} · and ${more} more`;
}

/** "1 heat", "3 heats", "no crack". */
export const counted = (count: number, word: string): string =>
  count === 0 ? `no ${word}s` : `${count} ${word}${count === 1 ? "" : "s"}`;

export const clip = (words: string, most: number): string =>
  words.length <= most ? words : `${words.slice(0, most - 1).trimEnd()}…`;

/** How the body of an ingot is told, in the chat's units. */
export const ingotExample = (units: ChatUnits): string =>
  units.length === "mm" ? "64 across 30 high 450 g" : '2 1/2" across 1 1/4" high 1 lb';
export const askForBody = (units: ChatUnits): string =>
  `Size and weight? Say: ${ingotExample(units)}`;
export const massExample = (units: ChatUnits): string =>
  units.length === "mm" ? "430 g" : "15 oz";

export const HELP: readonly string[] = [
  "Say it as it happens:",
  "new ingot 64 across 30 high 450 g",
  "goal 150 by 28 single edge",
  "heat 4 at 950, 22x36x180",
  "crack 2 deep on the spine · undo · plan",
];
