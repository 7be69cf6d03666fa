/**
 * Who says a figure and at once another one has put himself right: `heat 2 at 950, no, 960`, `24 by, um, no, 22 by 36`, `eight minutes,
 * nine minutes I mean`. What was given up is dropped, and the second telling stands in its place. The three parts (what is given up,
 * the words of editing, the repair) are those of the study of disfluencies in speech; the lists of words are common practice, no source.
 */
import { heatNumberAt } from "./heat-number.js";
import { phraseAt } from "./phrases.js";
import { type Quantity, quantityAt, type UnitHints } from "./quantities.js";
import type { Token } from "./tokens.js";
import { HUES, SHADES } from "./vocabulary.js";

/** Words of editing: one of these is needed. */
const EDITS = phrases(
  "no, nope, nah, sorry, wait, i mean, i meant, i tell a lie, tell a lie, i lie, what am i saying, what am i on about, correction, rather, make that, make it, oops, whoops, let me correct that, let me correct myself, my mistake, strike that, i misspoke, not that, i said that wrong, excuse me, pardon",
);
/** Words that may stand among them. */
const BETWEEN = phrases(
  "um, uh, er, erm, ah, oh, hmm, well, or, but, hang on, let me think, let me see, it was, it's, it is, that's, that was, that is, more like, call it, i make it, say, damn, dammit, actually, no, silly me, now, the, a, an, at, make, you know, what, just",
);
/** At the end of a repair: `nine minutes I mean`. */
const AFTERWARDS = phrases("i mean, i meant, rather, sorry, that is");
const USED_TO_BE = phrases("used to be, it used to be, it was once");
/** Words after a figure that belong to it: more of them, and the figure was not given up. */
const MOST_TRAILING = 4;
/** Two bare figures further apart are two facts. Common practice, no source; 5 to 20. */
const WIDEST = 12;
const MOST_EDIT_WORDS = 14;
const COLOURS = new Set([...SHADES.split(/[ ,]+/), ...HUES.split(/[ ,]+/)]);
const PAUSES = new Set([",", "-", ":"]);
/** Words of an earlier message. */
const TOLD = /^(said|put|told|wrote|typed|not)$/;
const LIST = /^(x|by|\*)$/;
const ENDS = /^[.;!?\n]$/;
/** Groups of words that can be put right in passing. */
const SWAPPED = ["place:", "severity:", "op:", "route:", "edge:", "ingotshape:"];

function phrases(list: string): readonly (readonly string[])[] {
  return list
    .split(", ")
    .map((phrase) => phrase.split(" "))
    .sort((a, b) => b.length - a.length);
}
const takes = (
  tokens: readonly Token[],
  at: number,
  list: readonly (readonly string[])[],
): number => {
  const found = list.find((words) => words.every((word, k) => tokens[at + k]?.text === word));
  return found === undefined ? 0 : found.length;
};

/** The words of editing that begin at `at`; the token after them. */
function editAt(tokens: readonly Token[], at: number): number | undefined {
  let next = at;
  let edited = false;
  while (next < tokens.length && next - at < MOST_EDIT_WORDS) {
    const token = tokens[next];
    if (token === undefined) break;
    const edit = takes(tokens, next, EDITS);
    // `make it 22`, `a, an`: only behind a word of editing do they lead to the repair.
    const filler = edit > 0 ? 0 : takes(tokens, next, BETWEEN);
    const dots = token.text === "." && tokens[next + 1]?.text === ".";
    if (edit > 0) edited = true;
    else if (filler === 0 && !PAUSES.has(token.text) && !dots && !(token.text === "." && edited))
      break;
    next += Math.max(1, edit, filler);
  }
  return edited ? next : undefined;
}

interface Said {
  readonly from: number;
  readonly to: number;
  readonly dimension: Quantity["dimension"];
  readonly said: number;
}

/** Every figure of the message in order, with the numbers of heats. */
function figuresOf(tokens: readonly Token[], hints: UnitHints): readonly Said[] {
  const found: Said[] = [];
  for (let i = 0; i < tokens.length; i += 1) {
    if (/^(heat|heats|melt|ingot)$/.test(tokens[i - 1]?.text ?? "")) {
      const heat = heatNumberAt(tokens, i, hints);
      if (heat) {
        found.push({ from: i, to: heat.next, dimension: undefined, said: heat.number });
        i = heat.next - 1;
        continue;
      }
    }
    const one = quantityAt(tokens, i, hints);
    if (!one) continue;
    found.push({ from: i, to: one.to, dimension: one.dimension, said: one.said });
    i = Math.max(i, one.to - 1);
  }
  return found;
}

const alike = (a: Said, b: Said): boolean => {
  if (a.dimension !== undefined && b.dimension !== undefined) return a.dimension === b.dimension;
  const [less, more] = [Math.min(a.said, b.said), Math.max(a.said, b.said)];
  return less > 0 && more / less <= WIDEST;
};

/** How many figures of one list end (or begin) with this one. */
function listLength(figures: readonly Said[], at: number, step: 1 | -1, tokens: readonly Token[]) {
  let length = 1;
  for (let k = at; figures[k + step] !== undefined; k += step) {
    const [first, second] = step > 0 ? [figures[k], figures[k + 1]] : [figures[k - 1], figures[k]];
    const joined =
      first !== undefined &&
      second?.from === first.to + 1 &&
      LIST.test(tokens[first.to]?.text ?? "");
    if (!joined) break;
    length += 1;
  }
  return length;
}

/** Tokens put where others stood, with the place in the message of those. */
const moved = (tokens: readonly Token[], from: Token | undefined, to: Token | undefined): Token[] =>
  tokens.map((token) => ({
    ...token,
    start: from?.start ?? token.start,
    end: to?.end ?? token.end,
  }));

/** The message without what was given up, and what was dropped, in words. */
export function repaired(
  tokens: readonly Token[],
  hints: UnitHints,
): { readonly tokens: readonly Token[]; readonly dropped: readonly string[] } {
  const dropped: string[] = [];
  let now = tokens;
  for (let round = 0; round < 4; round += 1) {
    const next =
      renewed(now, hints) ??
      figureRepaired(now, hints) ??
      colourRepaired(now) ??
      wordRepaired(now) ??
      toldAgain(now);
    if (next === undefined) break;
    dropped.push(next.dropped);
    now = next.tokens;
  }
  return { tokens: now, dropped };
}

interface Repair {
  readonly tokens: readonly Token[];
  readonly dropped: string;
}
const wordsOf = (tokens: readonly Token[]): string => tokens.map((token) => token.text).join(" ");

function figureRepaired(tokens: readonly Token[], hints: UnitHints): Repair | undefined {
  let figures: readonly Said[] | undefined;
  for (let at = 1; at < tokens.length; at += 1) {
    const to = mayEdit(tokens, at) ? editAt(tokens, at) : undefined;
    if (to === undefined) continue;
    figures ??= figuresOf(tokens, hints);
    const second = figures.findIndex((one) => one.from === to);
    const repair = figures[second];
    const before = figures.slice(0, Math.max(0, second)).findLastIndex((one) => one.to <= at);
    const given = figures[before];
    if (!repair || !given || before !== second - 1) continue;
    const trailing = tokens.slice(given.to, at);
    const whole = trailing.every((token) => !ENDS.test(token.text) && token.text !== ",");
    if (trailing.length > MOST_TRAILING || !whole || !alike(given, repair)) continue;
    if (tokens[given.from - 1]?.text === ":" && tokens[given.from]?.glued) continue;
    // `I said 24 thick, I meant 25`: that was another message.
    if (tokens.slice(Math.max(0, given.from - 3), given.from).some((one) => TOLD.test(one.text)))
      continue;
    return replaced(tokens, figures, before, second, at);
  }
  return saidAfterwards(tokens, figures, hints);
}

/** Only these can begin words of editing: most messages are left at once. */
const mayEdit = (tokens: readonly Token[], at: number): boolean => {
  const token = tokens[at];
  return (
    token !== undefined &&
    (takes(tokens, at, EDITS) > 0 ||
      PAUSES.has(token.text) ||
      (token.text === "." && tokens[at + 1]?.text === ".") ||
      /^(um|uh|er|erm|ah|oh|hmm|well|or)$/.test(token.text))
  );
};

/** `used to be 25 thick, 22 now`: what was is not told again. */
function renewed(tokens: readonly Token[], hints: UnitHints): Repair | undefined {
  const used = tokens.findIndex((_, i) => takes(tokens, i, USED_TO_BE) > 0);
  if (used < 0 || !tokens.some((token) => token.text === "now")) return undefined;
  const figures = figuresOf(tokens, hints);
  const start = used + takes(tokens, used, USED_TO_BE);
  const first = figures.findIndex((one) => one.from === start);
  const [given, repair] = [figures[first], figures[first + 1]];
  if (first < 0 || !given || !repair || !alike(given, repair)) return undefined;
  const near = tokens.slice(repair.from - 2, repair.to + 3).some((one) => one.text === "now");
  const between = tokens
    .slice(given.to, repair.from)
    .filter((one) => !/^(,|but|and|now|it's|its|is)$/.test(one.text));
  if (!near || between.length > 1) return undefined;
  const labelled = phraseAt(tokens, repair.to)?.means.some(isLabelled) === true;
  return {
    tokens: [
      ...tokens.slice(0, used),
      ...tokens.slice(repair.from, repair.to),
      ...(labelled ? [] : between),
      ...tokens.slice(repair.to),
    ],
    dropped: wordsOf(tokens.slice(given.from, given.to)),
  };
}

function replaced(
  tokens: readonly Token[],
  figures: readonly Said[],
  before: number,
  second: number,
  edit: number,
): Repair | undefined {
  const repair = figures[second];
  const last = figures[before];
  if (!repair || !last) return undefined;
  // `22 by 36 by 180, no, 38 by 180`: as many of the list as are told again.
  const again = listLength(figures, second, 1, tokens);
  const told = listLength(figures, before, -1, tokens);
  const given = figures[before - (Math.min(again, told) - 1)] ?? last;
  const trailing = tokens.slice(last.to, edit);
  const first = trailing[0]?.text;
  const follows = tokens[repair.to]?.text;
  const repeated =
    trailing.length === 0 ||
    first === follows ||
    (follows !== undefined && phraseAt(tokens, repair.to)?.means.some(isLabelled) === true);
  const dropped = wordsOf(tokens.slice(given.from, repeated ? edit : last.to));
  const lead = tokens.slice(0, given.from);
  if (repeated) return { tokens: [...lead, ...tokens.slice(repair.from)], dropped };
  const put = moved(tokens.slice(repair.from, repair.to), tokens[given.from], tokens[last.to - 1]);
  return { tokens: [...lead, ...put, ...trailing, ...tokens.slice(repair.to)], dropped };
}
const isLabelled = (one: string): boolean => /^(adj|noun|place|unit):/.test(one);

/** `eight minutes, um, nine minutes I mean`: the word of editing comes last. */
function saidAfterwards(
  tokens: readonly Token[],
  known: readonly Said[] | undefined,
  hints: UnitHints,
): Repair | undefined {
  let figures = known;
  for (let at = 2; at < tokens.length; at += 1) {
    const length = takes(tokens, at, AFTERWARDS);
    if (length === 0) continue;
    const end = tokens[at + length];
    if (end !== undefined && end.text !== "," && !ENDS.test(end.text)) continue;
    const comma = tokens[at - 1]?.text === "," ? 1 : 0;
    figures ??= figuresOf(tokens, hints);
    const second = figures.findLastIndex((one) => one.to <= at - comma);
    const [given, repair] = [figures[second - 1], figures[second]];
    if (!given || !repair || at - comma - repair.to > 1 || !alike(given, repair)) continue;
    const between = tokens.slice(given.to, repair.from);
    const label = between[0]?.text === tokens[repair.to]?.text ? 1 : 0;
    const paused = between.slice(label);
    const pause =
      paused.length > 0 &&
      paused.every(
        (token) => PAUSES.has(token.text) || /^(um|uh|er|erm|or|well)$/.test(token.text),
      );
    if (!pause) continue;
    return {
      tokens: [
        ...tokens.slice(0, given.from),
        ...tokens.slice(repair.from, at - comma),
        ...tokens.slice(at + length),
      ],
      dropped: wordsOf(tokens.slice(given.from, repair.from)),
    };
  }
  return undefined;
}

const ARTICLES = /^(the|an?|rather|on|in|at)$/;
/** Tokens before the words of editing that are looked at for what is told again. */
const LOOKS_BACK = 6;

/** `melt 16, sorry, melt 17`, `back to Brook, no, back to Magpie`, `small crack, no, a nasty crack`: told again from a word on. */
function toldAgain(tokens: readonly Token[]): Repair | undefined {
  for (let at = 1; at < tokens.length; at += 1) {
    const to = mayEdit(tokens, at) ? editAt(tokens, at) : undefined;
    if (to === undefined) continue;
    let start = to;
    while (ARTICLES.test(tokens[start]?.text ?? "")) start += 1;
    const again = tokens[start];
    if (again?.kind !== "word" || again.text.length < 3) continue;
    const phrase = phraseAt(tokens, start);
    const group = phrase && SWAPPED.find((one) => phrase.means.some((is) => is.startsWith(one)));
    const known =
      phrase?.means.some((is) => /^(kind|adj|noun|say:switch|removal|op)/.test(is)) ?? false;
    for (let from = at - 1; from >= Math.max(0, at - LOOKS_BACK); from -= 1) {
      if (/^[.;!?\n,]$/.test(tokens[from]?.text ?? "")) break;
      const same = known && tokens[from]?.text === again.text;
      const first = group === undefined ? undefined : phraseAt(tokens, from);
      const swapped =
        group !== undefined &&
        first?.means.some((is) => is.startsWith(group)) === true &&
        !first.means.some((is) => phrase?.means.includes(is));
      if (!same && !swapped) continue;
      if (TOLD.test(tokens[from - 1]?.text ?? "")) break;
      return {
        tokens: [...tokens.slice(0, from), ...tokens.slice(start)],
        dropped: wordsOf(tokens.slice(from, at)),
      };
    }
  }
  return undefined;
}

/** `dull orange no sorry bright orange`: a heat colour for another. */
function colourRepaired(tokens: readonly Token[]): Repair | undefined {
  for (let at = 1; at < tokens.length; at += 1) {
    if (!COLOURS.has(tokens[at - 1]?.text ?? "")) continue;
    const to = mayEdit(tokens, at) ? editAt(tokens, at) : undefined;
    if (to === undefined || !COLOURS.has(tokens[to]?.text ?? "")) continue;
    let from = at - 1;
    while (COLOURS.has(tokens[from - 1]?.text ?? "")) from -= 1;
    return {
      tokens: [...tokens.slice(0, from), ...tokens.slice(to)],
      dropped: wordsOf(tokens.slice(from, at)),
    };
  }
  return undefined;
}

/** `on the spine, no, the edge`: a word of one group for another of the same. */
function wordRepaired(tokens: readonly Token[]): Repair | undefined {
  for (let at = 1; at < tokens.length; at += 1) {
    const to = mayEdit(tokens, at) ? editAt(tokens, at) : undefined;
    if (to === undefined) continue;
    const skip = /^(on|in|at)$/.test(tokens[to]?.text ?? "") ? 1 : 0;
    const article = tokens[to + skip]?.text === "the" ? 1 : 0;
    const start = to + skip + article;
    const second = phraseAt(tokens, start);
    const group = second && SWAPPED.find((one) => second.means.some((is) => is.startsWith(one)));
    if (!second || group === undefined) continue;
    for (let from = at - 1; from >= Math.max(0, at - 3); from -= 1) {
      const first = phraseAt(tokens, from);
      if (first?.next !== at || !first.means.some((is) => is.startsWith(group))) continue;
      if (first.means.some((is) => second.means.includes(is))) continue;
      // `I said double, I meant single`: that was another message.
      if (TOLD.test(tokens[from - 1]?.text ?? "")) continue;
      return {
        tokens: [...tokens.slice(0, from), ...tokens.slice(start)],
        dropped: wordsOf(tokens.slice(from, at)),
      };
    }
  }
  return undefined;
}
