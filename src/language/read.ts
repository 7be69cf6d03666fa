/** The pipeline: text → tokens → items → parts → clauses → entries → checks. */
import type { Reading } from "../logbook/index.js";
import { readAgain } from "./again.js";
import { type Clause, clausesOf } from "./clauses.js";
import type { ReadingContext } from "./context.js";
import { readCorrection } from "./corrections.js";
import { doubtAbout } from "./doubts.js";
import { readingOf } from "./drafts.js";
import { readFacts, type Talk, understood } from "./facts.js";
import { figureLabel } from "./figure-label.js";
import { itemsOf, unitHints } from "./items.js";
import {
  type Body,
  closeFrame,
  type DoubtChoice,
  type Ledger,
  mm,
  newLedger,
  open,
} from "./ledger.js";
import { knownName, nameAhead, nameUntilFact } from "./names.js";
import { asMm, type Fig, means, type Part, partsOf } from "./parts.js";
import { isQuestion, readQuestion } from "./questions.js";
import { type Sentence, sentenceOf } from "./sentence.js";
import { readSettings, zoneIn } from "./settings.js";
import { respell } from "./spelling.js";
import { normalise } from "./text.js";
import { tokenise } from "./tokens.js";
import { momentsIn } from "./when.js";

/** Longer messages are read up to here; the rest is handed back unread. */
const LONGEST = 8000;
const NOT_YET =
  /\b(may|might|will|gonna|going to|should|about to|must|needs?|tomorrow|would|could|to go|next time|later|i'll|we'll|shall|waited|waiting|want to|wants to|hope to|plan to|if)\b/;

/** `punch it out`, as an intention: what is to become of the ingot. */
const RING =
  /^(ok |so |let's |lets |i'll |we'll |going to |i'm going to |gonna |will |to )*punch(ing)? (it|the pipe|the middle|the centre|the pipe zone) out$|^(ok |so |let's |lets |i'll |going to )*punch(ing)? out (it|the pipe|the middle|the centre)$/;
const hasFigure = (parts: readonly Part[]): boolean =>
  parts.some((part) => part.type === "figure" && part.q.to > part.q.from && !part.q.ordinal);

const trimmed = (text: string): string =>
  text.replace(/^[\s,.;:!?()\-–—/]+/, "").replace(/[\s,.;:!?()\-–—/]+$/, "");

function noteOf(text: string): string | undefined {
  const lead = /^\s*notes?\b/i.exec(text);
  if (!lead) return undefined;
  const rest = text
    .slice(lead[0].length)
    .replace(/^\s*(to self|that)?\s*[:,\-–—]?\s*/i, "")
    .trim();
  return rest;
}

/** Reads one message. Pure: the same text and context give the same reading; never throws. */
export function readMessage(text: string, context: ReadingContext): Reading {
  const note = noteOf(text.slice(0, LONGEST));
  if (note !== undefined)
    return readingOf(
      text,
      context,
      noteLedger(note === "" ? undefined : note.slice(0, LONGEST), text),
      [],
      undefined,
      false,
    );
  const cut = text.length > LONGEST ? text.lastIndexOf(" ", LONGEST) : text.length;
  const head = text.slice(0, cut > 0 ? cut : LONGEST);
  const tail = text.slice(head.length).trim();
  const spelt = respell(tokenise(normalise(head)), context.names);
  const tokens = spelt.tokens;
  const sentence = sentenceOf(head, tokens);
  const moments = momentsIn(tokens, context.now, context.timezone);
  const items = itemsOf(tokens, unitHints(tokens, context.units === "inch"), moments);
  const parts = partsOf(items);
  const ledger = newLedger();
  for (const change of spelt.changed) ledger.trace.push(`spelling: ${change}`);
  for (const moment of moments)
    ledger.trace.push(`time: ${sentence.raw(moment.from, moment.to)} → ${moment.at}`);
  for (const part of parts) ledger.trace.push(() => describe(part, sentence));
  if (spelt.changed.length > 0) ledger.guesses.add("spelling");
  const unread: string[] = [];
  const corrected = readCorrection(parts, context, sentence);
  if (corrected) {
    open(ledger, corrected);
    ledger.trace.push("rule: correction");
  } else {
    const zone = zoneIn(tokens, sentence);
    if (zone) open(ledger, { kind: "setting", timezone: zone.name });
    const clauses = clausesOf(
      zone ? parts.filter((part) => part.from < zone.from || part.from >= zone.to) : parts,
    );
    const talk = {
      heat: parts.some(
        (part) => means(part, "kind") === "heat" || means(part, "say") === "next heat",
      ),
      melt: parts.some(
        (part, i) =>
          (means(part, "kind") === "melt" &&
            !(
              part.type === "mark" &&
              part.words === "melt" &&
              parts.slice(0, i).some((one) => means(one, "kind") === "ingot")
            )) ||
          (means(part, "noun") === "peak" && part.type === "mark" && /peak/.test(part.words)) ||
          (means(part, "noun") === "ingotG" &&
            part.type === "mark" &&
            /^ingot out/.test(part.words)),
      ),
      ingot: parts.some((part) => means(part, "kind") === "ingot"),
      shop: parts.some(
        (part) =>
          part.type === "figure" &&
          (part.dimension === "force" ||
            part.dimension === "pressure" ||
            (part.dimension === "mass" && parts.some((one) => means(one, "kind") === "hammer"))),
      ),
    };
    startFrame(parts, ledger, talk);
    for (const clause of clauses)
      if (!ledger.ended) readClause(clause, parts, ledger, context, talk, sentence, unread);
  }
  if (tail !== "") unread.push(tail);
  const said = parts.some((part) => !bare(part));
  return readingOf(text, context, ledger, unread, sentence, said);
}

function noteLedger(note: string | undefined, text: string): Ledger {
  const ledger = newLedger();
  if (note !== undefined) open(ledger, { kind: "note", note });
  ledger.trace.push(`rule: note ${text.length} characters`);
  return ledger;
}

function describe(part: Part, sentence: Sentence): string {
  const words = sentence.raw(part.from, part.to);
  if (part.type === "figure")
    return `figure: ${words} = ${part.value} ${part.dimension ?? (part.inches ? "inches" : "bare")}${part.label === undefined ? "" : ` ${part.label}`}${part.chain === undefined ? "" : ` list ${part.chain}`}`;
  if (part.type === "mark") return `word: ${words} = ${part.means.join(", ")}`;
  return `${part.type}: ${words}`;
}

/** `150 by 28 blade, single edge`: a blade with its edge or its tang is what is wanted, not the bar. */
function isBladeTold(parts: readonly Part[], figure: number): boolean {
  const blade = parts.findIndex((part) => means(part, "goal") === "blade");
  return (
    blade >= 0 &&
    figure >= 0 &&
    parts.some((part) => means(part, "edge") !== undefined || means(part, "place") === "tang")
  );
}

/** `30 high 64 dia, new ingot`: the frame that a later word names takes earlier figures. */
function startFrame(parts: readonly Part[], ledger: Ledger, talk: Talk): void {
  const kindAt = (kind: string): number => parts.findIndex((part) => means(part, "kind") === kind);
  const figure = parts.findIndex((part) => part.type === "figure");
  const first = parts.findIndex((part) =>
    ["kind", "op", "removal", "route", "split"].some((group) => means(part, group) !== undefined),
  );
  if (first < 0 && figure >= 0 && !talk.heat && isBladeTold(parts, figure)) {
    ledger.frame = open(ledger, { kind: "goal" });
    return;
  }
  if (figure < 0 || first < 0 || figure > first || talk.heat) return;
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

const isTalk = (part: Part): boolean =>
  part.type === "mark" && part.means.every((one) => one.startsWith("filler:") || one === "say:no");
const bare = (part: Part): boolean =>
  part.type === "stop" ||
  part.type === "time" ||
  isTalk(part) ||
  (part.type === "mark" &&
    part.means.every((one) => one.startsWith("filler:") || one.startsWith("approx:")));

function rawOf(clause: readonly Part[], sentence: Sentence): string {
  let start = 0;
  while (
    start < clause.length - 1 &&
    clause[start]?.type === "mark" &&
    clause[start] !== undefined &&
    /^(ok|okay|well|um|uh|er|erm|so|and|right|oh|then|yes|yeah|thanks|but|ah|hmm|hm|yep|great|alright|you know)$/.test(
      (clause[start] as { words: string }).words,
    )
  )
    start += 1;
  const first = clause[start];
  const last = clause[clause.length - 1];
  return first && last ? trimmed(sentence.raw(first.from, last.to)) : "";
}

function readClause(
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
    if (clause.hard && (ledger.frame?.kind === "crack" || ledger.frame?.kind === "removal"))
      closeFrame(ledger);
  };
  for (const part of parts) if (part.type === "time") ledger.at = part.at;

  const undo = parts.findIndex((part) => means(part, "say") === "undo");
  if (undo >= 0) {
    const count = parts
      .slice(undo + 1)
      .find(
        (part): part is Fig =>
          part.type === "figure" &&
          part.dimension === undefined &&
          part.q.whole &&
          part.label === undefined &&
          part.chain === undefined &&
          part.value <= 50,
      );
    const rest = parts.slice(undo + 1).filter((part) => part !== count);
    const simple = rest.every(
      (part) =>
        bare(part) ||
        (part.type === "mark" && /^(entries|messages|ones|steps|things)$/.test(part.words)) ||
        part.type === "unknown",
    );
    open(ledger, { kind: "undo", ...(count && simple && { count: count.value }) });
    ledger.trace.push("rule: undo");
    if (simple || rest.length === 0) return;
    parts = rest;
  }
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
    if (isQuestion(one, context, sentence)) {
      const question = readQuestion(one, context, sentence);
      if (question) {
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
    const again = readAgain(parts, context);
    if (again) {
      for (const body of again) open(ledger, body);
      ledger.trace.push("rule: again, from the message before");
      return;
    }
    const switched = readSwitch(parts, ledger, context, talk, sentence, all);
    if (switched !== undefined) {
      if (switched.length === 0) return;
      parts = switched;
    }
    const before = ledger.touched;
    readFacts(parts, ledger, context, talk, sentence, all);
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

/** `back to Rook`, `ingot 7: …`, `the other bar`. Gives the parts that are still to be read. */
function readSwitch(
  parts: readonly Part[],
  ledger: Ledger,
  context: ReadingContext,
  _talk: { heat: boolean },
  sentence: Sentence,
  all: readonly Part[],
): readonly Part[] | undefined {
  const first = parts.findIndex((part) => !bare(part) || means(part, "say") !== undefined);
  const lead = parts[first];
  const go = (name: string, next: number): readonly Part[] => {
    open(ledger, { kind: "switch", ingot: (knownName(name, context) ?? name).slice(0, 40) });
    closeFrame(ledger);
    ledger.trace.push(`rule: switch to ${name}`);
    for (const part of parts.slice(0, next)) if (part.type === "figure") part.used = true;
    return parts.slice(next).filter((part) => part.type !== "stop");
  };
  if (means(lead, "say") === "switch") {
    const named = nameUntilFact(parts, first + 1, sentence);
    if (named) return go(named.name, named.next);
  }
  const words = sentence.lower(parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0);
  if (/^(now )?(the other (bar|one|ingot|piece|blade|block))( now| again)?$/.test(words))
    return go(
      words
        .replace(/^now /, "")
        .replace(/^the /, "")
        .replace(/ (now|again)$/, ""),
      parts.length,
    );
  const known = nameAhead(parts, context, sentence);
  if (known) return go(known.name, known.next);
  const at = parts.findIndex((part) => means(part, "kind") === "ingot");
  if (at < 0 || /\b(new|fresh|out|came|called|named)\b/.test(words)) return undefined;
  const worked = all.some(
    (part) =>
      ["op", "removal"].some((group) => means(part, group) !== undefined) ||
      /^(heat|crack)$/.test(means(part, "kind") ?? "") ||
      part.type === "number of heat",
  );
  const told = all.some(
    (part) =>
      (part.type === "figure" &&
        (part.dimension !== undefined ||
          part.label !== undefined ||
          (part.chain !== undefined && !/ingot\s+\d+\/\d+\s*$/.test(words)))) ||
      means(part, "ingotshape") !== undefined ||
      means(part, "kind") === "melt",
  );
  if (!worked && told) return undefined;
  if (ledger.frame?.kind === "melt") return undefined;
  if (!parts.slice(0, at).every(bare)) return undefined;
  const named = nameUntilFact(parts, at + 1, sentence);
  return named ? go(named.name, named.next) : undefined;
}

/** What a clause left over: asked about, or handed back as typed. */
function leftovers(
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
