/** Fifth step: the message as a row of items: quantities, marks (known phrases), joins, stops, times, unknown words. */
import { type Phrase, phraseAt } from "./phrases.js";
import { type Quantity, quantityAt, type UnitHints } from "./quantities.js";
import { isNearNumber } from "./spelling.js";
import { isNumberWord, spokenAt } from "./spoken.js";
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD } from "./units.js";
import { HUES, NUMBER_CONFUSIONS, ONES, SHADES } from "./vocabulary.js";
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
/** A bare figure in this range beside a heat is a temperature, °C (contract). */
export const TEMP_FROM_C = 500;
export const TEMP_TO_C = 1300;
/** In an inch chat up to this it is °F. */
export const TEMP_TO_F = 2400;
const MOST_HEAT_NUMBER = 60;

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

const plausible = (value: number, inchChat: boolean): boolean =>
  (value >= TEMP_FROM_C && value <= TEMP_TO_C) ||
  (value > TEMP_TO_C && value <= (inchChat ? TEMP_TO_F : 1900));

const AFTER_CONFUSION =
  /^(at|um|uh|er|,|dull|bright|orange|red|drew|flattened|squared|straightened|edged|drawing|was|done)$/;

/** The number that follows `heat`: `4`, `no 6`, `#6`, `four`, and what a recogniser makes of it. */
function heatNumberAt(
  tokens: readonly Token[],
  at: number,
  hints: UnitHints,
): { number: number; next: number } | undefined {
  let start = at;
  while (/^(no|number|nr|#|num)$/.test(tokens[start]?.text ?? "")) start += 1;
  if (start > at && tokens[start]?.text === ".") start += 1;
  const token = tokens[start];
  if (!token) return undefined;
  if (token.kind === "number") {
    if (!token.whole || token.thousands || token.value === 0) return undefined;
    const said = quantityAt(tokens, start, hints);
    if (!said) return undefined;
    // `heat 3 5/8 x 1 3/8 x 4 1/8`: three sizes follow, the first a bare fraction.
    const fraction = said.fraction && said.said > 1 && listsThree(tokens, start + 1, hints);
    if (fraction) return { number: token.value, next: start + 1 };
    if (said.dimension !== undefined || said.fraction) return undefined;
    const follows = tokens[said.to]?.text ?? "";
    if (/^(x|by|\*|thick|wide|long|deep|high|more|times)$/.test(follows)) return undefined;
    if (token.value >= TEMP_FROM_C) return undefined;
    return { number: token.value, next: said.to };
  }
  if (Object.hasOwn(NUMBER_CONFUSIONS, token.text)) {
    const follows = tokens[start + 1];
    const number = NUMBER_CONFUSIONS[token.text] ?? 0;
    if (!follows || AFTER_CONFUSION.test(follows.text)) return { number, next: start + 1 };
    const figure = quantityAt(tokens, start + 1, hints);
    const temperature =
      figure &&
      (figure.dimension === "temperature" ||
        (figure.dimension === undefined && plausible(figure.value, true)));
    return temperature && token.text !== "to" ? { number, next: start + 1 } : undefined;
  }
  if (token.kind !== "word" || !isNumberWord(token.text)) return undefined;
  const alone = spokenAt(tokens, start, false);
  if (!alone?.whole) return undefined;
  const splits = [alone];
  if (alone.next === start + 2 && alone.value > 20 && alone.value < 100)
    splits.push({ ...alone, value: Math.floor(alone.value / 10) * 10, next: start + 1 });
  for (const split of splits) {
    if (split.value > MOST_HEAT_NUMBER) continue;
    const rest = spokenAt(tokens, split.next, true);
    if (rest && plausible(rest.value, true)) return { number: split.value, next: split.next };
  }
  const together = quantityAt(tokens, start, hints);
  if (together && (together.dimension !== undefined || plausible(together.value, true)))
    return undefined;
  if (together?.fraction) return undefined;
  const follows = tokens[alone.next]?.text ?? "";
  if (/^(x|by|thick|wide|long|deep|high|more)$/.test(follows)) return undefined;
  return alone.value <= MOST_HEAT_NUMBER ? { number: alone.value, next: alone.next } : undefined;
}

/** A list of three begins at the token, with a fraction. */
function listsThree(tokens: readonly Token[], at: number, hints: UnitHints): boolean {
  let next = at;
  for (let k = 0; k < 3; k += 1) {
    const one = quantityAt(tokens, next, hints);
    if (!one || (k === 0 && !(one.fraction && one.said < 1))) return false;
    if (k < 2 && !/^(x|by|\*)$/.test(tokens[one.to]?.text ?? "")) return false;
    next = one.to + 1;
  }
  return true;
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

/** After these words `one` is no figure. */
const PRONOUN_BEFORE =
  /^(new|the|that|this|small|big|other|last|first|each|every|long|short|old|which|good|nice|final|next|clean|wrong|only|same|little|bad|fresh|another)$/;

/** The phrase of one word alone. */
const wordAlone = (tokens: readonly Token[], at: number): Phrase | undefined =>
  phraseAt(tokens.slice(at, at + 1), 0) && {
    ...(phraseAt(tokens.slice(at, at + 1), 0) as Phrase),
    next: at + 1,
  };

/** `one` before a place or before a written figure stands for a thing, not for 1. */
function isPronoun(tokens: readonly Token[], at: number): boolean {
  const next = tokens[at + 1];
  if (next === undefined) return false;
  if (next.kind === "number") return !next.vulgar && tokens[at + 2]?.text !== "/";
  if (next.text === "point") return false;
  const phrase = phraseAt(tokens, at + 1);
  return (
    phrase?.means.some((one) => /^(place|severity|op):/.test(one) || one === "kind:crack") ?? false
  );
}

/** `a nasty one`, `an 88 lb one`: at the end of what is said, after a word or a unit. */
function isThing(tokens: readonly Token[], at: number): boolean {
  const next = tokens[at + 1];
  const before = tokens[at - 1];
  if (next !== undefined && !/^[.,;!?]$/.test(next.text)) return false;
  if (before?.kind !== "word" || isNumberWord(before.text)) return false;
  const article = /^(an?|the|that|this|another)$/;
  return article.test(tokens[at - 2]?.text ?? "") || article.test(tokens[at - 3]?.text ?? "");
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
      else if ((token.text === "*" || (token.text === "/" && !spaced)) && figureNext)
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
    // No phrase runs into a time: `weighed it | at 2`.
    const cut = longest && moments.some((one) => one.from > i && one.from < longest.next);
    const phrase = cut ? wordAlone(tokens, i) : longest;
    if (colour !== undefined && colour >= (phrase?.next ?? 0)) {
      items.push({ type: "colour", from: i, to: colour });
      i = colour;
      continue;
    }
    if (
      token.text === "one" &&
      PRONOUN_BEFORE.test(tokens[i - 1]?.text ?? "") &&
      !/^(deep|wide|thick|long|high|off|and)$/.test(tokens[i + 1]?.text ?? "") &&
      quantityAt(tokens, i, hints)?.to === i + 1
    ) {
      items.push({ type: "mark", means: ["filler:word"], words: "one", from: i, to: i + 1 });
      i += 1;
      continue;
    }
    // `one side`, `and one 2 deep`: no figure either.
    if (
      token.text === "one" &&
      (phrase?.next ?? i + 1) === i + 1 &&
      (isPronoun(tokens, i) || isThing(tokens, i))
    ) {
      items.push({ type: "mark", means: ["filler:word"], words: "one", from: i, to: i + 1 });
      i += 1;
      continue;
    }
    const q = quantityAt(tokens, i, hints);
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

const LINK = /^(and|&|\+|,)$/;
/** `heat 6 7 and 8`, `h4+h5`, `heat 4 and heat 5`: the numbers that go on counting, the last one joined by `and`. */
function nextHeats(
  tokens: readonly Token[],
  at: number,
  number: number,
): { number: number; from: number; to: number }[] | undefined {
  const row: { number: number; from: number; to: number }[] = [];
  let next = at;
  let joined = false;
  for (let wanted = number + 1; row.length < 8; wanted += 1) {
    let to = next;
    const link = LINK.test(tokens[to]?.text ?? "");
    if (link) to += 1;
    if (link && /^(h|heat)$/.test(tokens[to]?.text ?? "")) to += 1;
    const token = tokens[to];
    const says = token?.kind === "number" ? token.value : ONES[token?.text ?? ""];
    if (says !== wanted || token === undefined || (token.kind === "number" && !token.whole)) break;
    joined = link && tokens[next]?.text !== ",";
    row.push({ number: wanted, from: next, to: to + 1 });
    next = to + 1;
    if (joined) break;
  }
  const after = tokens[next];
  const sized = /^(x|by|\*|\/|mm|thick|wide|long|deep|g|%|min)$/.test(after?.text ?? "");
  return joined && !sized ? row : undefined;
}

/** Do the heat numbers just read follow the plural? */
function heatsBefore(items: readonly Item[]): boolean {
  for (let k = items.length - 1; k >= 0 && k > items.length - 30; k -= 1) {
    const item = items[k];
    if (item?.type === "number of heat") continue;
    return item?.type === "mark" && item.words === "heats";
  }
  return false;
}
