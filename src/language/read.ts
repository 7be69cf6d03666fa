/** The pipeline: text → tokens → items → parts → clauses → entries → checks. */
import type { Reading } from "../logbook/index.js";
import { bare } from "./bare-words.js";
import { readClause, startFrame } from "./clause.js";
import { clausesOf } from "./clauses.js";
import type { ReadingContext } from "./context.js";
import { readCorrection } from "./corrections.js";
import { readingOf } from "./drafts.js";
import { itemsOf, unitHints } from "./items.js";
import { type Ledger, newLedger, open } from "./ledger.js";
import { means, type Part, partsOf } from "./parts.js";
import { type Sentence, sentenceOf } from "./sentence.js";
import { zoneIn } from "./settings.js";
import { writtenOut } from "./shorthand.js";
import { respell } from "./spelling.js";
import { normalise } from "./text.js";
import { tokenise } from "./tokens.js";
import { momentsIn } from "./when.js";

/** Longer messages are read up to here; the rest is handed back unread. */
const LONGEST = 8000;

function noteOf(text: string): string | undefined {
  const lead = /^\s*notes?\b/i.exec(text);
  if (!lead) return undefined;
  const rest = text
    .slice(lead[0].length)
    .replace(/^\s*(to self)?\s*[:,\-–—]?\s*/i, "")
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
  const spelt = respell(
    writtenOut(tokenise(normalise(head), context.units !== "inch")),
    context.names,
  );
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
  let rest: readonly Part[] = parts;
  const corrected = readCorrection(parts, context, sentence);
  if (corrected) rest = [];
  // `no, 34 not 43. next heat 940`: the first sentence puts right, the rest is new.
  const end = parts.findIndex((part) => part.type === "stop" && part.hard);
  const first =
    !corrected && end > 0 && end < parts.length - 1
      ? readCorrection(parts.slice(0, end), context, sentence)
      : undefined;
  if (first) rest = parts.slice(end + 1);
  const correction = corrected ?? first;
  if (correction) {
    open(ledger, correction);
    ledger.trace.push("rule: correction");
  }
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
    startFrame(rest, ledger, talk);
    for (const clause of clauses)
      if (!ledger.ended) readClause(clause, rest, ledger, context, talk, sentence, unread);
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
