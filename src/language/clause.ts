import { readAgain } from "./again.js";
import { bare, rawOf, trimmed } from "./bare-words.js";
import type { Clause } from "./clauses.js";
import type { ReadingContext } from "./context.js";
import { begun } from "./fact-reader.js";
import { readFacts, type Talk, understood } from "./facts.js";
import { isCarbon } from "./frame-melt.js";
import { addOperation, type Body, closeFrame, type Ledger, mm, open } from "./ledger.js";
import { leftovers } from "./leftovers.js";
import { type Fig, means, type Part } from "./parts.js";
import { isQuestion, readQuestion } from "./questions.js";
import type { Sentence } from "./sentence.js";
import { readSettings, wished } from "./settings.js";
import { readSwitch } from "./switching.js";
import { takenBack } from "./taken-back.js";

const NOT_YET =
  /\b(may|might|will|gonna|going to|should|about to|must|needs?|tomorrow|would|could|to go|next time|(?<!heats? )later|i'll|we'll|shall|waited|waiting|want to|wants to|hope to|plan to|if)\b/;

/** What was not done, or only meant. */
const NOT_DONE =
  /^(?:i |we |just |very |so )*(?:nearly|almost) |\b(did not|didn't|didnt|have not|haven't|havent|has not|hasn't|was not|wasn't|wasnt|could not|couldn't|couldnt|not going to|meant to|tried to|trying to|left (the|that|it|this))\b/;

/** `punch it out`, as an intention: what is to become of the ingot. */
const RING =
  /^(ok |so |let's |lets |i'll |we'll |going to |i'm going to |gonna |will |to )*punch(ing)? (it|the pipe|the middle|the centre|the pipe zone) out$|^(ok |so |let's |lets |i'll |going to )*punch(ing)? out (it|the pipe|the middle|the centre)$/;

const BOXED: Readonly<Record<string, string>> = { square: "square", edge: "edge", open: "open" };

const AHEAD_OF_NOTE =
  /\b(about to|going to|gonna|will|i'll|might|may|should|want to|need to|have to|must|ready to|time to|can i|could)( just| now| still)?$/;
/** Words after which something has not happened yet, in the middle of what has. */
const AHEAD =
  /^(going to|gonna|about to|will|i'll|we'll|then i'll|i will|might|should|need to|needs to|want to)\b/;

const DEED =
  /\b(going to|gonna|about to|will|might|should|need to|needs to|want to) (edge|square|flatten|draw|taper|bevel|straighten|punch|open|grind|cut|file|chisel|quench|temper|etch|anneal|do|hit|work|press|forge|weigh|measure)\b/;
/** Where in a clause that has told something the talk of what is to come begins. */
function aheadAt(parts: readonly Part[], sentence: Sentence): number {
  const told = parts.findIndex(
    (part) => (part.type === "figure" && !part.q.ordinal) || part.type === "number of heat",
  );
  if (told < 0) return -1;
  return parts.findIndex((part, i) => {
    if (i <= told || part.type === "figure") return false;
    const rest = sentence.lower(part.from, parts[Math.min(parts.length - 1, i + 2)]?.to ?? part.to);
    if (!AHEAD.test(rest)) return false;
    const deed = parts
      .slice(i + 1)
      .some((one) => means(one, "op") ?? means(one, "removal") ?? means(one, "say"));
    return deed || DEED.test(sentence.lower(part.from, parts[parts.length - 1]?.to ?? part.to));
  });
}

/** `spine, …`, `on the flat 60 from the tang, …`: where, before what. */
const isWhere = (part: Part): boolean =>
  means(part, "place") !== undefined ||
  means(part, "adj") === "positionMm" ||
  means(part, "adj") === "depthMm" ||
  (part.type === "figure" && (part.label === "positionMm" || part.label === "depthMm"));

/** The next thing said is a crack, or steel taken away. */
function follows(clause: Clause, all: readonly Part[]): "crack" | "removal" | undefined {
  const last = clause.parts[clause.parts.length - 1];
  const after = last === undefined ? -1 : all.indexOf(last);
  const next = all
    .slice(after + 1, after + 6)
    .find(
      (part) =>
        means(part, "kind") !== undefined ||
        means(part, "op") !== undefined ||
        means(part, "removal") !== undefined,
    );
  if (after < 0 || clause.hard) return undefined;
  return means(next, "kind") === "crack"
    ? "crack"
    : means(next, "removal") !== undefined
      ? "removal"
      : undefined;
}

const hasFigure = (parts: readonly Part[]): boolean =>
  parts.some((part) => part.type === "figure" && part.q.to > part.q.from && !part.q.ordinal);

/** `carbon 1.5`, `a puck`, `shape puck`, `flat bottomed`: told later, of the ingot in hand. */
function moreOfIngot(content: readonly Part[], ledger: Ledger): Body | undefined {
  if (ledger.bodies.length > 0 || ledger.frame) return undefined;
  const [figure, ...others] = content.filter((part): part is Fig => part.type === "figure");
  if (
    figure &&
    others.length === 0 &&
    isCarbon(figure) &&
    content.every((part) => part === figure || ofCarbon(part)) &&
    (figure.label === "carbonPct" || figure.q.unit === "c" || content.some(ofCarbon))
  ) {
    figure.used = true;
    return { kind: "ingot", carbonPct: figure.value };
  }
  const [shape, ...rest] = content;
  const told = means(shape, "ingotshape");
  return told !== undefined && rest.length === 0 ? { kind: "ingot", shape: told } : undefined;
}
const ofCarbon = (part: Part): boolean =>
  means(part, "adj") === "carbonPct" ||
  means(part, "noun") === "carbonPct" ||
  means(part, "unit") === "c";

/** Facts that say nothing but their kind, among words that are not understood, with nothing about them in what follows. */
function isRemark(
  made: readonly Body[],
  clause: Clause,
  content: readonly Part[],
  all: readonly Part[],
): boolean {
  const thin = made.every((body) => {
    const fields = Object.keys(body).filter((field) => body[field] !== undefined);
    return (
      (body.kind === "heat" || body.kind === "melt" || body.kind === "removal") &&
      fields.every((field) => field === "kind" || field === "method" || field === "waiting")
    );
  });
  const strange = content.filter((part) => part.type === "unknown" && !understood.has(part)).length;
  const cracked = content.some((part) => means(part, "kind") === "crack");
  if (made.length === 0 || !thin || strange === 0 || cracked || hasFigure(clause.parts))
    return false;
  if (clause.hard) return true;
  const last = clause.parts.at(-1);
  return !hasFigure(last === undefined ? [] : all.slice(all.indexOf(last) + 1));
}

export function readClause(
  clause: Clause,
  all: readonly Part[],
  ledger: Ledger,
  context: ReadingContext,
  talk: Talk,
  sentence: Sentence,
  unread: string[],
) {
  let parts = clause.parts;
  const give = (): void => {
    const words = rawOf(parts, sentence);
    if (words !== "") unread.push(words);
    for (const part of parts) if (part.type === "figure") part.used = true;
  };
  if (ledger.frame && (ledger.frame.kind === "crack" || ledger.frame.kind === "removal"))
    ledger.soft = true;
  const after = (): void => {
    const { frame } = ledger;
    if (!clause.hard || (frame?.kind !== "crack" && frame?.kind !== "removal")) return;
    // `CRACK!! top 2 deep`: nothing is known of it yet.
    if (frame.kind === "crack" && Object.keys(frame).length === 1) return;
    // `chiselled it out; lost 13 g`: what it cost is told after the stop.
    const next = all
      .slice(all.indexOf(clause.parts.at(-1) as Part) + 1)
      .find((part) => !bare(part));
    const costs = frame.kind === "removal" && begun(frame) && means(next, "removal") === "any";
    if (!costs) closeFrame(ledger);
  };
  for (const part of parts) if (part.type === "time") ledger.at = part.at;

  const typed = sentence.raw(parts[0]?.from ?? 0, parts.at(-1)?.to ?? 0);
  const back = takenBack(parts, typed, ledger, context, sentence);
  if (back === "not known") return give();
  if (back.length === 0) return;
  parts = back;
  const noted = parts.findIndex((part) => !bare(part));
  if (noted >= 0 && means(parts[noted], "kind") === "note" && parts[noted + 1] !== undefined) {
    const next = parts[noted + 1];
    const from = next?.type === "stop" ? parts[noted + 2]?.from : next?.from;
    if (from !== undefined)
      open(ledger, { kind: "note", note: sentence.raw(from, sentence.tokens.length) });
    ledger.ended = true;
    return;
  }
  if (
    means(parts[0], "notable") !== undefined ||
    parts.some((part) => means(part, "notable") !== undefined)
  ) {
    const at = parts.findIndex((part) => means(part, "notable") !== undefined);
    const before = parts.slice(0, at);
    // `about to quench it`: nothing has happened yet.
    const words = sentence.lower(parts[0]?.from ?? 0, parts[at]?.from ?? 0);
    if (AHEAD_OF_NOTE.test(words)) return give();
    const lead = before.every((part) => bare(part) || part.type === "unknown");
    const note = lead ? parts : parts.slice(at);
    if (!lead) readPart({ ...clause, parts: before });
    open(ledger, { kind: "note", note: trimmed(rawOf(note, sentence)).replace(/^and\s+/i, "") });
    for (const part of note) if (part.type === "figure") part.used = true;
    ledger.trace.push("rule: kept as a note");
    return after();
  }
  readPart({ ...clause, parts });
  after();

  function readPart(one: Clause) {
    parts = one.parts;
    const content = parts.filter((part) => !bare(part));
    if (content.length === 0) return;
    const shown =
      parts.some((part) => /^(units|temp)/.test(means(part, "kind") ?? "")) ||
      wished(parts, sentence) !== undefined;
    if (isQuestion(one, context, sentence) && !(shown && !hasFigure(parts))) {
      const question = readQuestion(one, context, sentence);
      if (question) {
        const same = ledger.bodies.find(
          (body) =>
            body.kind === "question" &&
            body.about === question.about &&
            (body.ingot ?? question.ingot) === (question.ingot ?? body.ingot),
        );
        // `what if I cut 30 off, would it still make the knife`: one question.
        if (same) {
          for (const [field, value] of Object.entries(question)) same[field] ??= value;
          return;
        }
        open(ledger, question);
        ledger.trace.push(`rule: question about ${String(question.about)}`);
      } else give();
      return;
    }
    const lowered = sentence.lower(parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0);
    const settled = ledger.touched;
    if (RING.test(lowered) && (context.ingot?.heats ?? 0) === 0 && !hasFigure(parts)) {
      open(ledger, { kind: "route", route: "ring" });
      ledger.trace.push("rule: punched out before any heat is the ring route");
      return;
    }
    readSettings(parts, ledger, sentence);
    const told = content.every(isWhere) && !ledger.frame ? follows(one, all) : undefined;
    const placed = content.every((part) => means(part, "place") !== undefined);
    if (told === "crack" || (told === "removal" && placed)) {
      for (const part of content) {
        const place = means(part, "place");
        if (place !== undefined) ledger.where.place = place;
        if (part.type !== "figure") continue;
        if (part.label === "depthMm") ledger.where.depthMm = mm(part, context);
        else ledger.where.positionMm = mm(part, context);
        part.used = true;
      }
      return;
    }
    const more = talk.melt || talk.ingot ? undefined : moreOfIngot(content, ledger);
    if (more) {
      open(ledger, more);
      ledger.trace.push("rule: more of the ingot in hand");
      return;
    }
    const later = aheadAt(parts, sentence);
    if (later > 0) {
      const rest = parts.slice(later);
      readPart({ ...one, parts: parts.slice(0, later) });
      parts = rest;
      return give();
    }
    if (
      ledger.touched === settled &&
      NOT_YET.test(lowered) &&
      !content.some(
        (part) =>
          means(part, "kind") === "goal" ||
          means(part, "route") !== undefined ||
          means(part, "split") !== undefined ||
          (means(part, "kind") ?? "").startsWith("welder"),
      )
    )
      return give();
    const deed = content.some(
      (part) =>
        means(part, "op") !== undefined ||
        means(part, "removal") !== undefined ||
        means(part, "kind") === "crack",
    );
    if (NOT_DONE.test(lowered) && deed && !hasFigure(parts)) return give();
    // `any cracks`, `cracks`: asked, not found.
    if (/^(any |the |open )?cracks$/.test(lowered)) {
      open(ledger, { kind: "question", about: "status" });
      return;
    }
    const again = readAgain(parts, context);
    if (again) {
      for (const body of again) open(ledger, body);
      // `…, temp 905`: what differs is told after it.
      const heats = again.filter((body) => body.kind === "heat");
      for (const heat of heats) heat.repeated = true;
      if (heats.length > 0) ledger.heats = heats;
      const worked = parts.map((part) => means(part, "op")).find((op) => op !== undefined);
      if (worked !== undefined && heats.length > 0) addOperation(ledger, worked);
      ledger.trace.push("rule: again, from the message before");
      const at = parts.findIndex((part) => /^(again|another)$/.test(means(part, "say") ?? ""));
      const sized = parts.slice(at + 1).filter((part) => part.type !== "figure" || !part.used);
      if (at >= 0 && hasFigure(sized))
        readFacts(
          sized.filter((part) => means(part, "kind") !== "heat" && part.type !== "number of heat"),
          ledger,
          context,
          talk,
          sentence,
          all,
        );
      return;
    }
    // `H4 | 950 | square | 29x29x118`: a word of working in a box of its own.
    const only = parts.filter((part) => part.type !== "stop").length === 1 ? content[0] : undefined;
    if (talk.heat && only?.type === "mark" && BOXED[only.words] !== undefined) {
      addOperation(ledger, BOXED[only.words] ?? "");
      return;
    }
    // `heat 8 945 edge`: told last in a heat's own clause, how it was worked.
    const end = parts.at(-1);
    const lastFig = parts.at(-2);
    if (
      parts[0] &&
      parts.some((part) => part.type === "number of heat") &&
      lastFig?.type === "figure" &&
      end?.type === "mark" &&
      end.words === "edge"
    ) {
      readFacts(parts.slice(0, -1), ledger, context, talk, sentence, all);
      addOperation(ledger, "edge");
      return;
    }
    const switched = readSwitch(parts, ledger, context, talk, sentence, all);
    if (switched !== undefined) {
      // `on ingot 14 today`.
      if (switched.every((part) => bare(part) || (part.type === "mark" && part.words === "today")))
        return;
      if (
        switched.some(
          (part) => means(part, "ask") !== undefined || means(part, "about") !== undefined,
        )
      )
        return readPart({ ...one, parts: switched });
      parts = switched;
    }
    const before = ledger.touched;
    const known = ledger.bodies.length;
    readFacts(parts, ledger, context, talk, sentence, all);
    if (isRemark(ledger.bodies.slice(known), one, content, all)) {
      // `the grinder was getting into its stride`: a word of the trade in passing.
      ledger.bodies.length = known;
      closeFrame(ledger);
      ledger.leftovers.splice(0);
      ledger.trace.push("rule: a remark");
      return give();
    }
    if (ledger.leftovers.length > 0) ledger.guesses.add("leftovers");
    const strange = ledger.leftovers.splice(0);
    if (ledger.touched > before || ledger.touched > settled)
      for (const one of strange) unread.push(trimmed(sentence.raw(one.from, one.to)));
    leftovers(
      parts,
      ledger,
      context,
      sentence,
      ledger.touched > before || ledger.touched > settled,
      unread,
      give,
    );
  }
}
