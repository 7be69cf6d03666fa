/** Cuts the row of parts where the sense changes: at stops, and where a question or an undo begins in the middle. */
import { means, onlyFiller, type Part } from "./parts.js";

export interface Clause {
  readonly parts: readonly Part[];
  /** Ended by a full stop, a semicolon, a line end, `!` or `?`. */
  readonly hard: boolean;
  readonly asked: boolean;
}

const ASKS_INSIDE =
  /^(what|what's|whats|what is|how|how's|where|where's|wheres|can i|will the|will it|should i)$/;

/** Where in the middle of a clause a question begins. */
function questionInside(
  part: Part,
  before: Part | undefined,
  current: readonly Part[],
  linked: boolean,
): boolean {
  if (part.type !== "mark" || before === undefined) return false;
  const about = means(part, "about");
  const asks = means(part, "ask") !== undefined && ASKS_INSIDE.test(part.words);
  const willAsk = /^(will|would|does)$/.test(part.words) && means(part, "ask") !== undefined;
  if (about === undefined && !asks && !willAsk) return false;
  // `h8 935 18x33x222 next size?`: facts come first.
  const told = current.some((one) => one.type === "figure" || one.type === "number of heat");
  const asksFirst = current.some((one) => means(one, "ask") !== undefined);
  if (
    about !== undefined &&
    part.words.includes(" ") &&
    told &&
    !asksFirst &&
    (/^(next|what|where|how)/.test(part.words) ||
      // `20x40 will the press do it?` asks about the figures; a goal or a heat stands by itself.
      (/^(will|does|is it|can)/.test(part.words) &&
        current.some((one) => one.type === "number of heat" || means(one, "kind") === "goal")))
  )
    return true;
  const begins = about !== undefined && /^(whats?|hows?|wheres?|now what|which)\b/.test(part.words);
  // `20 by 30 by 150 will two blades fit`.
  if (willAsk) return told && !asksFirst;
  if (!asks && !begins) return false;
  // `how hot should I be`: one question.
  if (asksFirst && part.words === "should i") return false;
  // `what's next and how much have I lost`: two.
  if (linked && current.some((one) => means(one, "about") !== undefined)) return true;
  return means(before, "ask") === undefined && means(before, "about") === undefined;
}

const isBackTo = (part: Part, next: Part | undefined): boolean =>
  part.type === "mark" &&
  means(part, "say") === "switch" &&
  /^(back to|switch(ing)? (back |over )?to|go(ing)? back to)$/.test(part.words) &&
  !(next?.type === "figure" && next.value >= 100);
/** `24x40 how much force`: asked about these figures. */
const asksForce = (current: readonly Part[], coming: readonly Part[]): boolean =>
  current.every((one) => one.type === "figure") &&
  coming.some((one) => means(one, "about") === "force");
const TALK = /^(and|so|ok|okay|well|um|uh|er|right|now|then|but|also|please)$/;
/** The last part that says something; of a clause that begins with talk there is none, and it is not cut. */
const lastSaid = (parts: readonly Part[]): Part | undefined =>
  parts.findLast((part) => !(part.type === "mark" && TALK.test(part.words)));

const isHeading = (part: Part | undefined): boolean =>
  means(part, "kind") === "route" ||
  (means(part, "noun") === "pipe" && part?.type === "mark" && !/goes|is$/.test(part.words)) ||
  (part?.type === "mark" && part.words === "undo");

export function clausesOf(parts: readonly Part[]): Clause[] {
  const clauses: Clause[] = [];
  let current: Part[] = [];
  let asking = false;
  const close = (hard: boolean, asked: boolean): void => {
    if (current.length > 0) clauses.push({ parts: current, hard, asked });
    else if (hard && clauses.length > 0) {
      const last = clauses[clauses.length - 1];
      if (last) clauses[clauses.length - 1] = { ...last, hard: true, asked: last.asked || asked };
    }
    current = [];
    asking = false;
  };
  for (const [i, part] of parts.entries()) {
    if (part.type === "stop") {
      if (part.sign === ":") {
        current.push(part);
        continue;
      }
      if (part.sign === "(" || part.sign === ")") continue;
      // `route / end`, `pipe / depth 14`, `undo / last 3`: the name of a box and what stands in it.
      const content = current.filter((one) => !onlyFiller(one));
      if (content.length === 1 && !part.hard && isHeading(content[0])) continue;
      close(part.hard, part.sign === "?");
      continue;
    }
    const before = current.at(-1);
    const linked = before?.type === "mark" && /^and\b/.test(before.words);
    if (
      (!asking || linked) &&
      questionInside(part, lastSaid(current), current, linked) &&
      !asksForce(current, parts.slice(i, i + 4))
    ) {
      close(false, false);
      asking = true;
    }
    // `heat seven nine fifty five back to the big one and heat three`: another ingot from there on.
    if (
      isBackTo(part, parts[i + 1]) &&
      current.some((one) => one.type === "figure" || one.type === "number of heat")
    )
      close(false, false);
    if (
      means(part, "say") === "undo" &&
      current.length > 0 &&
      !current.every((one) => means(one, "filler") !== undefined || means(one, "say") !== undefined)
    )
      close(false, false);
    current.push(part);
  }
  close(true, false);
  return clauses;
}
