/** The pipeline: text → tokens → items → parts → clauses → entries → checks. */
import type { Reading } from "../logbook/index.js";
import { bare } from "./bare-words.js";
import { readClause } from "./clause.js";
import { clausesOf } from "./clauses.js";
import type { ReadingContext } from "./context.js";
import { correctionIn } from "./correction-in.js";
import { readingOf } from "./drafts.js";
import { itemsOf, unitHints } from "./items.js";
import { imply, type Ledger, newLedger, open } from "./ledger.js";
import { means, type Part } from "./parts.js";
import { partsOf } from "./parts-of.js";
import { repaired } from "./self-repair.js";
import { type Sentence, sentenceOf } from "./sentence.js";
import { zoneIn } from "./settings.js";
import { writtenOut } from "./shorthand.js";
import { respell } from "./spelling.js";
import { startFrame } from "./start-frame.js";
import { normalise } from "./text.js";
import { tokenise } from "./tokens.js";
import { momentsIn } from "./when.js";

const ON_INGOT = /\b(?:on|for|this (?:is|was)) ingot \S+\s*[.!]*\s*$/i;
/** Longer messages are read up to here; the rest is handed back unread. */
const LONGEST = 8000;

function noteOf(text: string): string | undefined {
  const lead = /^\s*notes?\b/i.exec(text);
  if (!lead) return undefined;
  const rest = text
    .slice(lead[0].length)
    .replace(/^\s*[:,\-–—]?\s*/i, "")
    .trim();
  return rest;
}

const MM_SAID =
  /\b(use|in|to|go|switch to|work in|change to)\s+(mm|millimet\w+|metric)\b[^?]*[,.;]\s*\S/i;
const INCH_SAID =
  /\b(use|in|to|go|switch to|work in|change to)\s+(inch|inches|imperial)\b[^?]*[,.;]\s*\S/i;

/** `use millimetres, bar's 24 x 40 x 165`: the unit that is wished for holds at once. */
function unitsSaid(text: string, context: ReadingContext): ReadingContext {
  const head = text.slice(0, LONGEST);
  if (context.units === "inch" && MM_SAID.test(head)) return { ...context, units: "mm" };
  return context.units === "mm" && INCH_SAID.test(head) ? { ...context, units: "inch" } : context;
}

/** Reads one message. Pure: the same text and context give the same reading; never throws. */
export function readMessage(text: string, told: ReadingContext): Reading {
  const context = unitsSaid(text, told);
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
  const spelt = respell(
    writtenOut(tokenise(normalise(head), context.units !== "inch")),
    context.names,
    head,
  );
  const hints = unitHints(spelt.tokens, context.units === "inch");
  const mended = repaired(spelt.tokens, hints);
  const tokens = mended.tokens;
  const sentence = sentenceOf(head, tokens);
  const moments = momentsIn(tokens, context.now, context.timezone);
  const items = itemsOf(tokens, hints, moments);
  const parts = partsOf(items);
  const ledger = newLedger();
  for (const change of spelt.changed) ledger.trace.push(`spelling: ${change}`);
  for (const given of mended.dropped) ledger.trace.push(`put right in passing: not ${given}`);
  for (const moment of moments)
    ledger.trace.push(`time: ${sentence.raw(moment.from, moment.to)} → ${moment.at}`);
  for (const part of parts) ledger.trace.push(() => describe(part, sentence));
  if (spelt.changed.length > 0) ledger.guesses.add("spelling");
  const unread: string[] = [];
  const corrected = correctionIn(parts, context, sentence);
  for (const body of corrected?.bodies ?? []) {
    open(ledger, body);
    ledger.trace.push("rule: correction");
  }
  const rest = corrected?.rest ?? parts;
  if (rest.length > 0) {
    const zone = zoneIn(tokens, sentence);
    if (zone) open(ledger, { kind: "setting", timezone: zone.name });
    const clauses = clausesOf(
      zone ? rest.filter((part) => part.from < zone.from || part.from >= zone.to) : rest,
    );
    const talk = {
      heat: rest.some(
        (part) => means(part, "kind") === "heat" || means(part, "say") === "next heat",
      ),
      worked: rest.some((part) => means(part, "op") !== undefined),
      melt: rest.some(
        (part, i) =>
          (means(part, "kind") === "melt" &&
            !(
              part.type === "mark" &&
              part.words === "melt" &&
              rest.slice(0, i).some((one) => means(one, "kind") === "ingot")
            )) ||
          (means(part, "noun") === "peak" && part.type === "mark" && /peak/.test(part.words)) ||
          (means(part, "noun") === "ingotG" &&
            part.type === "mark" &&
            /^ingot out/.test(part.words)),
      ),
      ingot: rest.some((part) => means(part, "kind") === "ingot"),
      shop: rest.some(
        (part) =>
          part.type === "figure" &&
          (part.dimension === "force" ||
            part.dimension === "pressure" ||
            (part.dimension === "mass" && rest.some((one) => means(one, "kind") === "hammer"))),
      ),
    };
    startFrame(rest, ledger, talk, context);
    for (const clause of clauses)
      if (!ledger.ended) readClause(clause, rest, ledger, context, talk, sentence, unread);
  }
  throughCrack(ledger, context, head);
  // `heat 3 at 900 on ingot 1`: everything is told of that one.
  const last = ledger.bodies.at(-1);
  const named =
    last?.kind === "switch" ||
    (last?.kind === "ingot" && Object.keys(last).every((key) => key === "kind" || key === "name"));
  if (named && ledger.bodies.length > 1 && ON_INGOT.test(head))
    ledger.bodies.unshift(...ledger.bodies.splice(-1));
  if (tail !== "") unread.push(tail);
  const said = parts.some((part) => !bare(part));
  return readingOf(text, context, ledger, unread, sentence, said);
}

const THROUGH =
  /\b(?:(?:right|all the way|clean|straight) (?:through|thru)|through and through|(?:through|thru) the whole)\b/i;
/** `it cracked right through`: as deep as the piece is thick, as far as that is known. */
function throughCrack(ledger: Ledger, context: ReadingContext, text: string): void {
  const [crack, ...others] = ledger.bodies.filter((body) => body.kind === "crack");
  if (!crack || others.length > 0 || crack.depthMm !== undefined || !THROUGH.test(text)) return;
  crack.severity ??= "large";
  const { piece } = context.ingot ?? {};
  const depthMm = piece?.thicknessMm ?? piece?.heightMm;
  if (depthMm === undefined) return;
  crack.depthMm = depthMm;
  imply(ledger, crack, "depthMm");
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
