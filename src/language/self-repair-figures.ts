/** A figure that is told again: `heat 2 at 950, no, 960`, `24 by, um, no, 22 by 36`, `eight minutes, nine minutes I mean`. */
import { heatNumberAt } from "./heat-number.js";
import { phraseAt } from "./phrases.js";
import { type Quantity, quantityAt, type UnitHints } from "./quantities.js";
import type { Token } from "./tokens.js";
import {
  AFTERWARDS,
  ENDS,
  editAt,
  mayEdit,
  PAUSES,
  type Repair,
  TOLD,
  takes,
  USED_TO_BE,
  wordsOf,
} from "./words-of-editing.js";

/** Words after a figure that belong to it: more of them, and the figure was not given up. */
const MOST_TRAILING = 4;
/** Two bare figures further apart are two facts. Common practice, no source; 5 to 20. */
const WIDEST = 12;
const LIST = /^(x|by|\*)$/;

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

/** A figure and then, behind words of editing, the right one. */
export function figureRepaired(tokens: readonly Token[], hints: UnitHints): Repair | undefined {
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

/** `used to be 25 thick, 22 now`: what was is not told again. */
export function renewed(tokens: readonly Token[], hints: UnitHints): Repair | undefined {
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

/** How many figures of the list are told again: as many as makes each the nearest to the one it stands for. */
function overlap(figures: readonly Said[], before: number, second: number, most: number): number {
  let best = 1;
  let least = Number.POSITIVE_INFINITY;
  for (let count = 1; count <= most; count += 1) {
    let apart = 0;
    for (let k = 0; k < count; k += 1) {
      const [old, now] = [figures[before - count + 1 + k], figures[second + k]];
      apart += Math.abs(Math.log((now?.said ?? 1) / (old?.said ?? 1)));
    }
    if (apart / count < least) {
      least = apart / count;
      best = count;
    }
  }
  return best;
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
  const given =
    figures[before - (overlap(figures, before, second, Math.min(again, told)) - 1)] ?? last;
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
