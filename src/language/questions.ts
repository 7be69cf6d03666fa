/** A clause that asks. Figures in it are kept inside the question and never recorded. */

import type { Clause } from "./clauses.js";
import type { ReadingContext } from "./context.js";
import { TEMP_FROM_C, TEMP_TO_C, TEMP_TO_F } from "./heat-number.js";
import { type Body, mm } from "./ledger.js";
import { knownName, nameAfter } from "./names.js";
import { type Fig, means, type Part } from "./parts.js";
import { ASKS, best, scored } from "./question-about.js";
import { fahrenheit } from "./scales.js";
import type { Sentence } from "./sentence.js";
import { isKnownWord } from "./spelling.js";

const isTalk = (part: Part): boolean =>
  part.type === "mark" &&
  part.means.every((one) => one.startsWith("filler:") || one.startsWith("say:no"));

const NUMBERED =
  /^(?:status|summary|card|plan|loss|losses|sum up|recap)(?: ingot| number| no| #)* ?#?(\d{1,3})$/;
const BRIEF =
  /^(?:the |a |full )?(?:day|day sheet|plan|status|summary|card|sum up|losses|loss|next|next size|cracks)\s+(?:of|for|on)\s+(.+?)(?:\s+please)?$/;

/** `status of 7`, `plan for the small one`: the ingot asked about. */
function askedOf(clause: Clause, context: ReadingContext, sentence: Sentence): string | undefined {
  const first = clause.parts[0];
  const last = clause.parts[clause.parts.length - 1];
  if (clause.parts.length < 2 || !clause.parts.some((part) => means(part, "about") !== undefined))
    return undefined;
  const words = sentence.lower(first?.from ?? 0, last?.to ?? 0);
  // `status 2`, `summary ingot 2`.
  const short = NUMBERED.exec(words)?.[1];
  if (short !== undefined) return short;
  const rest = BRIEF.exec(words)?.[1];
  if (rest === undefined) return undefined;
  const known = knownName(rest, context);
  if (known !== undefined) return known;
  const number = /^(?:ingot |number |no |#)*(\d{1,3})$/.exec(rest)?.[1];
  const strange = /^[a-z]+$/.test(rest) && !isKnownWord(rest) ? rest : undefined;
  return number ?? strange ?? /^ingot ([a-z]+)$/.exec(rest)?.[1];
}

/** `charge for 600 g at 1.5 carbon`: what to weigh in, not what was weighed. */
function asksCharge(content: readonly Part[]): boolean {
  const [first, second] = content;
  return (
    first?.type === "mark" &&
    /^(charge|crucible charge|charge for)$/.test(first.words) &&
    (first.words === "charge for" || (second?.type === "mark" && /^for/.test(second.words))) &&
    content.some((part) => part.type === "figure" && part.dimension === "mass") &&
    !content.some((part) => part.type === "unknown" || means(part, "what") !== undefined) &&
    !content.slice(1).some((part) => means(part, "kind") === "melt")
  );
}

/** `melt 12 summary`, `ingot 7 status`: what is asked about, and what. */
function named(content: readonly Part[]): boolean {
  const [first, figure, about] = content;
  return (
    content.length === 3 &&
    /^(melt|ingot)$/.test(means(first, "kind") ?? "") &&
    (figure?.type === "figure" || figure?.type === "unknown") &&
    about?.type === "mark" &&
    /^(summary|status|card|plan|loss|losses|sum up|recap)$/.test(about.words)
  );
}
/** Does the clause ask something of the bot? */
export function isQuestion(clause: Clause, context: ReadingContext, sentence: Sentence): boolean {
  if (clause.asked) return true;
  const content = clause.parts.filter((part) => !isTalk(part));
  if (asksCharge(clause.parts.filter((part) => part.type !== "stop"))) return true;
  if (askedOf(clause, context, sentence) !== undefined) return true;
  if (named(content)) return true;
  const first = content[0];
  // `our press does 40 tonnes`: told.
  const force = clause.parts.some((part) => part.type === "figure" && part.dimension === "force");
  if (
    force &&
    first?.type === "mark" &&
    first !== clause.parts[0] &&
    /^(does|do|makes|has|press does)$/.test(first.words)
  )
    return false;
  // `h7 945, too cold`: a remark.
  if (first?.type === "mark" && /^too (cold|hot)$/.test(first.words)) return false;
  // `recap this ingot for me`.
  if (
    means(first, "about") === "summary" &&
    content
      .slice(1)
      .every(
        (part) => /^(ingot|finish|goal)$/.test(means(part, "kind") ?? "") || means(part, "goal"),
      )
  )
    return true;
  const asked = sentence.lower(clause.parts[0]?.from ?? 0, clause.parts.at(-1)?.to ?? 0);
  if (/^(and |so |ok )*is \d.*\benough\b/.test(asked)) return true;
  // `…, which was 21 g`: more of what was told.
  if (
    first?.type === "mark" &&
    first.words === "which" &&
    /\bwhich (was|is|weighed|weighs|came|cost|costs|left|makes|leaves|lost|took|made|gave|brings|brought)\b/.test(
      sentence.lower(first.from, clause.parts.at(-1)?.to ?? first.to),
    ) &&
    content.some((part) => part.type === "figure")
  )
    return false;
  const about = means(first, "about");
  if (means(first, "topic") !== undefined) return true;
  if (
    ASKS.test(asked) &&
    means(first, "kind") !== "goal" &&
    (means(first, "ask") === undefined || means(first, "ask") === "word") &&
    !/^(will|would) (?!(?:it|the|this|that|my|a|an|i|we|there|you|two|both|three|one)\b|\d)/.test(
      asked,
    ) &&
    scored(asked, clause.parts) !== undefined
  )
    return true;
  if (
    /^(will|would) (?!(?:it|the|this|that|my|a|an|i|we|there|you|two|both|three|one)\b|\d)/.test(
      asked,
    )
  )
    return false;
  if (means(first, "ask") !== undefined) {
    if (
      first?.type === "mark" &&
      /^(will|would)$/.test(first.words) &&
      means(content[1], "op") !== undefined
    )
      return false;
    if (
      first?.type === "mark" &&
      /^(when|who|why|which|show|give|this is|is this|is that|does|would|will|is the)$/.test(
        first.words,
      )
    )
      return (
        content.some(
          (part) => means(part, "about") !== undefined || means(part, "noun") === "bite",
        ) ||
        content.length < 3 ||
        content.some((part) => part.type === "unknown")
      );
    return true;
  }
  if (about === undefined || first?.type !== "mark") return false;
  // `bloody hot in here today` asks nothing.
  if (first.words === "today" && clause.parts.length > 2) return false;
  if (first.words.includes(" "))
    return !content.slice(1).some((part) => part.type === "figure" && part.dimension === "mass");
  return content.every((part) => means(part, "about") !== undefined || isQuestionFiller(part));
}

const isQuestionFiller = (part: Part): boolean =>
  part.type === "mark" && (means(part, "ask") !== undefined || part.words === "size");
/** `how hot should I be`, `what colour should it be`: of the heat that comes. */
const WARM =
  /\b(how hot (should|do|does|must)|what (temp|temperature|colour|color|heat) (should|do|does|to))\b/;
/** Groups of words that make a question one about steel. */
const TRADE = [
  "kind",
  "about",
  "topic",
  "noun",
  "shape",
  "ingotshape",
  "place",
  "op",
  "removal",
  "goal",
  "route",
  "unit",
  "severity",
] as const;

/** The question, or undefined if it is none of the bot's business. */
export function readQuestion(
  clause: Clause,
  context: ReadingContext,
  sentence: Sentence,
): Body | undefined {
  const { parts } = clause;
  const first = parts[0];
  const last = parts[parts.length - 1];
  const words = ` ${sentence.lower(first?.from ?? 0, last?.to ?? 0)} `;
  const has = (group: string): boolean => parts.some((part) => means(part, group) !== undefined);
  const says = (pattern: RegExp): boolean => pattern.test(words);
  let about = best(parts) ?? (has("topic") ? "status" : undefined);
  const asks = has("ask");
  const figure = parts.some((part) => part.type === "figure");
  const blade =
    parts.some((part) => part.type === "mark" && /^(dagger|sword)s?$/.test(part.words)) ||
    (has("goal") && parts.some((part) => means(part, "goal") === "blade"));
  const charged = asksCharge(parts.filter((part) => part.type !== "stop"));
  if (says(WARM)) about = "next";
  else if (says(/\bwhat (temp|temperature|colour|color) was\b/)) about = "summary";
  if (charged) about = "plan";
  else if (says(/\bwhat if\b|\bif i\b|\bif we\b/)) about = "plan";
  else if (about === undefined) {
    if (!asks && !clause.asked && !ASKS.test(words.trim())) return undefined;
    if (
      blade ||
      says(/\bfit\b/) ||
      says(/\broute\b/) ||
      (says(/\bpipe\b/) && says(/\b(should|which way|best)\b/)) ||
      says(/\bcharge\b/)
    )
      about = "plan";
    else if (says(/\bbite\b|\bforce\b|\bpress\b/)) about = "force";
    else if (
      says(/\bpipe\b/) ||
      says(/\bhow (heavy|long|wide|thick|big)\b/) ||
      says(/\bcracks?\b/) ||
      says(/^ ?(uh |um |so |and |ok )*what('s| is) (it|this|that)( now)?\b/) ||
      says(/\bhow much (is|'s) left\b|\bis (it|this) cracked\b/)
    )
      about = "status";
    else if (says(/\b(lost|scale|loss)\b/) && asks) about = "loss";
    else if (says(/\btoday\b|\byesterday\b/)) about = "day";
    else if (says(/\b(cold|seconds|hot enough|before i)\b/)) about = "time";
    else if (
      says(/\bnext\b|\bnow what\b/) ||
      says(/\bwhat should (the|it|this)\b.*\bbe\b/) ||
      says(/^ ?(uh |um |so |and |ok )*what (do|should) (i|we) do\b/)
    )
      about = "next";
  }
  const trade = parts.some((part) => TRADE.some((group) => means(part, group) !== undefined));
  const strange = parts.some(
    (part) =>
      part.type === "unknown" && knownName(sentence.raw(part.from, part.to), context) === undefined,
  );
  // `how long has the kettle been on`, `where did you put the tongs`: of others.
  const theirs = strange && !trade && !parts.some((part) => part.type === "figure");
  about ??= asks || clause.asked || ASKS.test(words.trim()) ? scored(words, parts) : undefined;
  if (about === undefined) return undefined;
  if (theirs && about === "status" && says(/\b(where|how long)\b/) && best(parts) === undefined)
    return undefined;
  if (about === "status" && says(/\b(lost|lose|losing|loss|losses|thrown away|wasted|cost)\b/))
    about = "loss";
  if (about === "status" && says(/\b(today|yesterday)\b/) && says(/\b(do|did|done)\b/))
    about = "day";
  if (about === "status" && says(/\bnext\b/) && !says(/\bpipe\b/)) about = "next";
  if (about === "status" && says(/\bhow long a\b/)) about = "plan";
  const body: Body = { kind: "question", about };
  if (says(/\bbite\b/)) body.topic = "bite";
  else if (says(/\bcharge\b/) && figure) body.topic = "charge";
  else if (about === "plan" && (has("removal") || says(/\b(cut|grind|saw|trim)\b/)))
    body.topic = "cut";
  else if (
    about === "plan" &&
    (blade ||
      says(/\bfit\b/) ||
      says(
        /\b(what|which|how (big|long) an?|longest|biggest|largest) (blade|knife|dagger|sword)\b/,
      ))
  )
    body.topic = "blade";
  else if (says(/\bpipe\b/) && about === "status") body.topic = "pipe";
  if (has("topic")) body.topic = "log";
  const named = askedOf(clause, context, sentence) ?? ingotIn(parts, sentence);
  if (named !== undefined) {
    body.ingot = named.slice(0, 40);
    for (const part of parts)
      if (part.type === "figure" && sentence.raw(part.from, part.to) === named) part.used = true;
  }
  figures(parts, body, context);
  return body;
}

/** `how heavy is ingot 7`. */
function ingotIn(parts: readonly Part[], sentence: Sentence): string | undefined {
  const at = parts.findIndex((part) => means(part, "kind") === "ingot");
  return at < 0 ? undefined : nameAfter(parts, at, sentence)?.name;
}

function figures(parts: readonly Part[], body: Body, context: ReadingContext): void {
  const chains = new Map<number, Fig[]>();
  const set = (field: string, value: number): void => {
    if (body[field] === undefined) body[field] = value;
  };
  parts.forEach((fig, i) => {
    if (fig.type !== "figure" || fig.used) return;
    fig.used = true;
    const next = parts[i + 1];
    if (fig.dimension === "temperature") set("temperatureC", fahrenheit(fig, context));
    else if (fig.dimension === "mass") set("massG", fig.value);
    else if (fig.label === "carbonPct" || fig.dimension === "percent") set("carbonPct", fig.value);
    else if (fig.dimension !== undefined && fig.dimension !== "length") return;
    else if (fig.chain !== undefined)
      chains.set(fig.chain, [...(chains.get(fig.chain) ?? []), fig]);
    else if (
      fig.label === "bite" ||
      (body.topic === "bite" && (means(next, "noun") === "bite" || next?.type !== "mark"))
    ) {
      if (fig.value >= 500 && fig.label === undefined)
        set("temperatureC", fahrenheit(fig, context));
      else set("biteMm", mm(fig, context));
    } else if (fig.label === "thicknessMm" || fig.label === "widthMm" || fig.label === "lengthMm")
      set(fig.label, mm(fig, context));
    else if (
      fig.dimension === undefined &&
      !fig.inches &&
      fig.value >= TEMP_FROM_C &&
      fig.value <= (context.units === "inch" ? TEMP_TO_F : TEMP_TO_C)
    )
      set("temperatureC", fahrenheit(fig, context));
    else
      set(
        body.about === "time" || body.about === "force" ? "thicknessMm" : "lengthMm",
        mm(fig, context),
      );
  });
  for (const list of chains.values()) {
    const sorted = list.map((one) => mm(one, context)).sort((a, b) => a - b);
    const blade = body.topic === "blade";
    const names =
      blade && sorted.length === 2
        ? ["widthMm", "lengthMm"]
        : ["thicknessMm", "widthMm", "lengthMm"];
    sorted.slice(0, 3).forEach((value, k) => {
      set(names[k] ?? "", value);
    });
  }
}
