/** Fifth step: the message as a row of items: quantities, marks (known phrases), joins, stops, times, unknown words. */
import { heatNumberAt, nextHeats } from "./heat-number.js";
import { isOneThing } from "./one-thing.js";
import { type Phrase, phraseAt } from "./phrases.js";
import { type Quantity, quantityAt, type UnitHints } from "./quantities.js";
import { isNearNumber } from "./spelling.js";
import { isNumberWord, spokenAt } from "./spoken.js";
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD } from "./units.js";
import { HUES, SHADES } from "./vocabulary.js";
import type { Moment } from "./when.js";

interface Place {
  readonly from: number;
  readonly to: number;
}
export type Item =
  | (Place & { readonly type: "quantity"; readonly q: Quantity })
  | (Place & { readonly type: "number of heat"; readonly number: number })
  | (Place & { readonly type: "mark"; readonly means: readonly string[]; readonly words: string })
  | (Place & { readonly type: "colour" })
  | (Place & { readonly type: "join"; readonly sign: string })
  | (Place & { readonly type: "stop"; readonly sign: string; readonly hard: boolean })
  | (Place & { readonly type: "time"; readonly at: string })
  | (Place & { readonly type: "unknown" });

const shades = new Set(SHADES.split(", "));
const hues = new Set(HUES.split(", ").filter((hue) => !hue.includes(" ")));
/** Words that settle contested unit signs for the whole message. */
export function unitHints(tokens: readonly Token[], inchChat: boolean): UnitHints {
  let holding = false;
  let press = false;
  for (const { text } of tokens) {
    if (/^(hold|held|holding|soak|soaked|soaking|sat|lasted)$/.test(text)) holding = true;
    if (/^(press|bore|hydraulic|cylinder|ram|kn)$/.test(text)) press = true;
  }
  return { inchChat, holding, press };
}

function colourAt(tokens: readonly Token[], at: number): number | undefined {
  let next = at;
  let end: number | undefined;
  while (
    tokens[next]?.kind === "word" &&
    (shades.has(tokens[next]?.text ?? "") || hues.has(tokens[next]?.text ?? ""))
  ) {
    if (hues.has(tokens[next]?.text ?? "")) end = next + 1;
    next += 1;
    if (tokens[next]?.text === "-" && tokens[next]?.glued) next += 1;
  }
  return end;
}

const STOPS: Readonly<Record<string, boolean>> = {
  ",": false,
  ";": true,
  ".": true,
  "\n": true,
  "!": true,
  "?": true,
  "(": false,
  ")": false,
  ":": false,
  "|": false,
};

/** The phrase of one word alone. */
const wordAlone = (tokens: readonly Token[], at: number): Phrase | undefined =>
  phraseAt(tokens.slice(at, at + 1), 0) && {
    ...(phraseAt(tokens.slice(at, at + 1), 0) as Phrase),
    next: at + 1,
  };

const MOST_MELTS = 2000;
/** `from melt twenty two sixty four by thirty nine`: the number ends where the sizes begin. */
function meltNumberAt(
  tokens: readonly Token[],
  at: number,
  before: Item | undefined,
  hints: UnitHints,
): Quantity | undefined {
  if (before?.type !== "mark" || !before.means.includes("kind:melt") || before.to !== at)
    return undefined;
  const all = quantityAt(tokens, at, hints);
  const alone = all?.spoken ? spokenAt(tokens, at, false) : undefined;
  if (!all || !alone?.whole || alone.next >= all.to) return undefined;
  const sized = /^(by|x)$/.test(tokens[all.to]?.text ?? "");
  if (all.dimension !== undefined || !(all.value >= MOST_MELTS || sized)) return undefined;
  return { ...all, said: alone.value, value: alone.value, to: alone.next, runOn: false };
}

/** The row of items of a message. `moments` are the times found before; their words are not read again. */
export function itemsOf(
  tokens: readonly Token[],
  hints: UnitHints,
  moments: readonly Moment[],
): readonly Item[] {
  const items: Item[] = [];
  const starts = new Map(moments.map((moment) => [moment.from, moment]));
  let i = 0;
  const last = (): Item | undefined => items[items.length - 1];
  /** `935 - 17 x 35`: a dash between blanks before a smaller figure parts two facts. */
  const falls = (q: Quantity, at: number): boolean => {
    const next = quantityAt(tokens, at + 1, hints);
    if (next === undefined) return false;
    // `melt 22 - 700 g wrought iron`: a number, and then what was charged.
    const named = items.at(-2);
    if (
      named?.type === "mark" &&
      /^(melt|ingot)$/.test(named.words) &&
      next.dimension !== undefined
    )
      return true;
    if (q.dimension === undefined) return next.said < q.said;
    // `1745 °F - 3/8 x 1 1/4`: another kind of figure follows.
    const range = next.dimension === q.dimension || tokens[next.to]?.text === "°";
    return q.dimension !== "length" && !range && next.said < q.said;
  };
  while (i < tokens.length) {
    const token = tokens[i];
    if (!token) break;
    const moment = starts.get(i);
    if (moment) {
      items.push({ type: "time", at: moment.at, from: i, to: moment.to });
      i = moment.to;
      continue;
    }
    const next = tokens[i + 1];
    const before = last();
    const afterFigure = before?.type === "quantity";
    if (before?.type === "mark" && before.means.includes("kind:heat") && before.to === i) {
      const found = heatNumberAt(tokens, i, hints);
      if (found) {
        items.push({ type: "number of heat", number: found.number, from: i, to: found.next });
        i = found.next;
        continue;
      }
    }
    if (before?.type === "number of heat" && before.to === i) {
      const row = nextHeats(tokens, i, before.number);
      if (row) {
        for (const one of row) items.push({ type: "number of heat", ...one });
        i = row[row.length - 1]?.to ?? i + 1;
        continue;
      }
    }
    if (
      before?.type === "number of heat" &&
      /^(and|,|&|\+|to|-)$/.test(token.text) &&
      heatsBefore(items)
    ) {
      const found = heatNumberAt(tokens, i + 1, hints);
      if (found) {
        if (token.text === "to" || token.text === "-")
          for (let n = before.number + 1; n < found.number && n < before.number + 10; n += 1)
            items.push({ type: "number of heat", number: n, from: i, to: i + 1 });
        items.push({ type: "number of heat", number: found.number, from: i, to: found.next });
        i = found.next;
        continue;
      }
    }
    if (token.kind === "sign") {
      const figureNext =
        next?.kind === "number" || (next?.kind === "word" && isNumberWord(next.text));
      const spaced = !token.glued && next !== undefined && !next.glued;
      if (token.text === "~")
        items.push({ type: "mark", means: ["approx:yes"], words: "~", from: i, to: i + 1 });
      else if (
        (token.text === "*" || (token.text === "/" && !spaced && afterOrLabel(before))) &&
        figureNext
      )
        items.push({ type: "join", sign: token.text, from: i, to: i + 1 });
      else if (token.text === "-" && spaced && before?.type === "quantity" && falls(before.q, i))
        items.push({ type: "stop", sign: "-", hard: false, from: i, to: i + 1 });
      else if (token.text === "-" && afterFigure && figureNext)
        items.push({ type: "join", sign: "-", from: i, to: i + 1 });
      else if (token.text === "/" || (token.text === "-" && spaced))
        items.push({ type: "stop", sign: token.text, hard: false, from: i, to: i + 1 });
      else if (STOPS[token.text] !== undefined)
        items.push({
          type: "stop",
          sign: token.text,
          hard: STOPS[token.text] ?? false,
          from: i,
          to: i + 1,
        });
      i += 1;
      continue;
    }
    if (token.text === "x" && (afterFigure || (afterOrLabel(before) && next?.kind === "number"))) {
      items.push({ type: "join", sign: "x", from: i, to: i + 1 });
      i += 1;
      continue;
    }
    if (/^(buy|bye|bi)$/.test(token.text) && afterFigure && quantityAt(tokens, i + 1, hints)) {
      items.push({ type: "join", sign: "by", from: i, to: i + 1 });
      i += 1;
      continue;
    }
    const colour = colourAt(tokens, i);
    const longest = phraseAt(tokens, i);
    // No phrase runs into a time or a figure: `weighed it | at 2`, `another | one and a half`.
    const half =
      longest?.words.endsWith(" one") === true &&
      tokens[longest.next]?.text === "and" &&
      tokens[longest.next + 1]?.text === "a";
    const cut = longest && (half || moments.some((one) => one.from > i && one.from < longest.next));
    const phrase = cut ? wordAlone(tokens, i) : longest;
    if (colour !== undefined && colour >= (phrase?.next ?? 0)) {
      items.push({ type: "colour", from: i, to: colour });
      i = colour;
      continue;
    }
    if (isOneThing(tokens, i, hints, phrase?.next)) {
      items.push({ type: "mark", means: ["filler:word"], words: "one", from: i, to: i + 1 });
      i += 1;
      continue;
    }
    const q = meltNumberAt(tokens, i, before, hints) ?? quantityAt(tokens, i, hints);
    if (q && q.to >= (phrase?.next ?? 0)) {
      items.push({ type: "quantity", q, from: i, to: q.to });
      i = q.to;
      continue;
    }
    if (phrase) {
      // `58 dia bottom dia 40`: the second pair of words belongs together.
      if (phrase.words === "dia bottom" && /^dia/.test(tokens[phrase.next]?.text ?? "")) {
        items.push({ type: "mark", means: ["noun:diameterMm"], words: "dia", from: i, to: i + 1 });
        i += 1;
        continue;
      }
      if (
        phrase.words === "by" &&
        afterOrLabel(before) &&
        (quantityAt(tokens, phrase.next, hints) ||
          /^(about|roughly|a|an)$/.test(tokens[phrase.next]?.text ?? ""))
      )
        items.push({ type: "join", sign: "by", from: i, to: phrase.next });
      else
        items.push({
          type: "mark",
          means: phrase.means,
          words: phrase.words,
          from: i,
          to: phrase.next,
        });
      // `pressed the disc flat`: what was worked is named inside the phrase.
      for (let k = i + 1; k < phrase.next; k += 1) {
        const inside = /^(disc|disk|block)$/.test(tokens[k]?.text ?? "");
        const shape = inside && phraseAt(tokens, k);
        if (shape && !phrase.words.includes(shape.words))
          items.push({ type: "mark", means: shape.means, words: shape.words, from: k, to: k + 1 });
      }
      i = phrase.next;
      continue;
    }
    if (token.kind === "word" || /\d/.test(token.text)) {
      const unit = UNIT_OF_WORD.get(token.text);
      if (unit !== undefined)
        items.push({
          type: "mark",
          means: [`unit:${unit}`],
          words: token.text,
          from: i,
          to: i + 1,
        });
      else items.push({ type: "unknown", from: i, to: i + 1 });
    }
    i += 1;
  }
  return withoutHalfFigures(items, tokens);
}

/** `tweny five`: beside a slip in a number word the rest of the number is no figure. Figures are never guessed. */
function withoutHalfFigures(items: Item[], tokens: readonly Token[]): readonly Item[] {
  if (!items.some((item) => item.type === "unknown")) return items;
  return items.map((item, k) => {
    if (item.type !== "quantity" || !item.q.spoken) return item;
    const slip = [items[k - 1], items[k + 1]].some(
      (one) =>
        one?.type === "unknown" &&
        (one.to === item.from || one.from === item.to) &&
        isNearNumber(tokens[one.from]?.text ?? ""),
    );
    return slip ? { type: "unknown", from: item.from, to: item.to } : item;
  });
}

const afterOrLabel = (before: Item | undefined): boolean =>
  before?.type === "quantity" ||
  (before?.type === "mark" &&
    before.means.some((one) => one.startsWith("adj:") || one.startsWith("noun:")));

/** Do the heat numbers just read follow the plural? */
function heatsBefore(items: readonly Item[]): boolean {
  for (let k = items.length - 1; k >= 0 && k > items.length - 30; k -= 1) {
    const item = items[k];
    if (item?.type === "number of heat") continue;
    return item?.type === "mark" && item.words === "heats";
  }
  return false;
}
