/**
 * Numbers in words: `one eighty`, `nine hundred and fifty`, `two point five`, `twelve and a half`,
 * `seven sixteenths`. One figure is read from a given token; the caller moves on.
 */
import type { Token } from "./tokens.js";
import { ONES, ORDINALS, PARTS, TEENS, TENS, ZEROS } from "./vocabulary.js";

export interface Spoken {
  readonly value: number;
  /** Token after the figure. */
  readonly next: number;
  /** Said as a part (`five eighths`, `one and a half`). */
  readonly fraction: boolean;
  readonly whole: boolean;
  /** Two numbers said in one breath and joined: `nine fifty`. */
  readonly runOn?: boolean;
}

const ZERO_WORDS = new Set(ZEROS.split(", "));
const MOST_HUNDREDS_SPOKEN = 2400;

type Atom = "one" | "teen" | "ten" | "zero" | undefined;
const wordAt = (tokens: readonly Token[], at: number): string =>
  tokens[at]?.kind === "word" ? (tokens[at]?.text ?? "") : "";

const ATOMS = new Map<string, { kind: Atom; worth: number }>();
for (const word of ZERO_WORDS) ATOMS.set(word, { kind: "zero", worth: 0 });
for (const [word, worth] of Object.entries(TENS)) ATOMS.set(word, { kind: "ten", worth });
for (const [word, worth] of Object.entries(TEENS)) ATOMS.set(word, { kind: "teen", worth });
for (const [word, worth] of Object.entries(ONES)) ATOMS.set(word, { kind: "one", worth });
const atom = (word: string): Atom => ATOMS.get(word)?.kind;
const worth = (word: string): number => ATOMS.get(word)?.worth ?? 0;

const BEGINNINGS = new Set([
  ...[ONES, TEENS, TENS, PARTS, ORDINALS].flatMap((table) => Object.keys(table)),
  ...ZERO_WORDS,
  ..."a an half quarter hundred thousand point decimal couple dozen".split(" "),
]);
/** Can a figure in words begin with this token? */
export const mayBegin = (token: Token): boolean =>
  token.kind === "word" && BEGINNINGS.has(token.text);

/** Is this word part of a number? */
export const isNumberWord = (word: string): boolean =>
  (atom(word) !== undefined && word !== "o" && word !== "oh") ||
  word === "hundred" ||
  word === "thousand";

const PART_WORDS = new Set(Object.keys(PARTS).map((words) => words.split(" ")[0] ?? ""));

/** The part named at `at` (`eighths`, `thirty seconds`), with the token after it. */
export function partAt(
  tokens: readonly Token[],
  at: number,
): { under: number; next: number } | undefined {
  const first = wordAt(tokens, at);
  if (!PART_WORDS.has(first)) return undefined;
  const two = PARTS[`${first} ${wordAt(tokens, at + 1)}`];
  if (two !== undefined) return { under: two, next: at + 2 };
  const one = Object.hasOwn(PARTS, first) ? PARTS[first] : undefined;
  return one === undefined ? undefined : { under: one, next: at + 1 };
}

/** 1 to 99 without spoken hundreds. */
function small(tokens: readonly Token[], at: number): { value: number; next: number } | undefined {
  const word = wordAt(tokens, at);
  const kind = atom(word);
  if (kind === "one" || kind === "teen") return { value: worth(word), next: at + 1 };
  if (kind !== "ten") return undefined;
  const unit = wordAt(tokens, at + 1);
  return atom(unit) === "one"
    ? { value: worth(word) + worth(unit), next: at + 2 }
    : { value: worth(word), next: at + 1 };
}

const TIME_UNIT = /^(min|mins|minute|minutes|sec|secs)$/;

/** After `hundred` or `thousand`: `and fifty`, `five`. */
function tail(
  tokens: readonly Token[],
  at: number,
  below: number,
): { value: number; next: number } {
  const joined = wordAt(tokens, at) === "and";
  const start = joined ? at + 1 : at;
  const none = { value: 0, next: at };
  const rest = small(tokens, start);
  if (!rest) return none;
  const after = wordAt(tokens, rest.next);
  if (after === "hundred" && below === 1000 && rest.value < 10) {
    const more = tail(tokens, rest.next + 1, 100);
    return { value: rest.value * 100 + more.value, next: more.next };
  }
  if (after === "hundred" || after === "thousand") return none;
  // `nine hundred five minutes`: the heat and how long it was held.
  if (!joined && below === 100 && TIME_UNIT.test(after)) return none;
  if (partAt(tokens, rest.next) && joined) return none;
  const kind = atom(after);
  if (!joined && rest.value < 10 && (kind === "ten" || kind === "teen")) return none;
  if (joined && rest.value < 10 && (kind === "ten" || kind === "teen")) return none;
  return rest;
}

/** A whole number. `compact` allows `nine fifty` and `ten fifty`. */
function cardinal(
  tokens: readonly Token[],
  at: number,
  compact: boolean,
): { value: number; next: number; runOn?: boolean } | undefined {
  const word = wordAt(tokens, at);
  if (word === "a" || word === "an") {
    const size = wordAt(tokens, at + 1);
    if (size !== "hundred" && size !== "thousand") return undefined;
    const rest = tail(tokens, at + 2, size === "hundred" ? 100 : 1000);
    return { value: (size === "hundred" ? 100 : 1000) + rest.value, next: rest.next };
  }
  if (word === "hundred") {
    const rest = tail(tokens, at + 1, 100);
    return { value: 100 + rest.value, next: rest.next };
  }
  const letter = word === "o" || word === "oh";
  if (atom(word) === "zero" && (!letter || wordAt(tokens, at + 1) === "point"))
    return { value: 0, next: at + 1 };
  const first = small(tokens, at);
  if (!first) return undefined;
  const after = wordAt(tokens, first.next);
  if (after === "hundred" || after === "thousand") {
    const size = after === "hundred" ? 100 : 1000;
    const rest = tail(tokens, first.next + 1, size);
    return { value: first.value * size + rest.value, next: rest.next };
  }
  if (partAt(tokens, first.next) && !isDuration(tokens, first.next)) return first;
  const joined = compact ? spokenHundreds(tokens, { ...first, from: at }) : undefined;
  return joined ? { ...joined, runOn: true } : first;
}

/** `thirty seconds` beside a number is a part only if the number is odd and below 32. */
const isDuration = (tokens: readonly Token[], at: number): boolean =>
  wordAt(tokens, at) === "second" || wordAt(tokens, at) === "seconds";

/** Behind these words three digits in a row are one figure. */
const DIGIT_LEAD = /^(at|peak|peaked|reached|hit|is|weighs|reads)$/;
/** Before these words `fifteen ten` is 1510. */
const HOT_LEAD = /^(at|peak|peaked|reached|hit|to|max)$/;

function spokenHundreds(
  tokens: readonly Token[],
  first: { value: number; next: number; from: number },
): { value: number; next: number } | undefined {
  if (first.value > 24 || first.value === 20) return undefined;
  const word = wordAt(tokens, first.next);
  const kind = atom(word);
  const following = wordAt(tokens, first.next + 1);
  if (first.value < 10 && kind === "one" && wordAt(tokens, first.next + 1) !== "hundred") {
    const last = atom(following);
    const beyond = atom(wordAt(tokens, first.next + 2));
    if (last === "zero" && beyond === undefined)
      return { value: first.value * 100 + worth(word) * 10, next: first.next + 2 };
    // `at nine two five`.
    if (last === "one" && beyond === undefined && DIGIT_LEAD.test(wordAt(tokens, first.from - 1)))
      return {
        value: first.value * 100 + worth(word) * 10 + worth(following),
        next: first.next + 2,
      };
    return undefined;
  }
  if (kind === "zero" && atom(following) === "one")
    return { value: first.value * 100 + worth(following), next: first.next + 2 };
  if (kind === "teen" && first.value < 10) {
    if (following === "hundred") return undefined;
    return { value: first.value * 100 + worth(word), next: first.next + 1 };
  }
  // `heat two at ten ten`.
  const counted = first.value >= 10 && isNumberWord(wordAt(tokens, first.from - 2));
  if (kind === "teen" && counted && wordAt(tokens, first.from - 1) === "at")
    return { value: first.value * 100 + worth(word), next: first.next + 1 };
  if (kind === "teen" && first.value > 12 && HOT_LEAD.test(wordAt(tokens, first.from - 1)))
    return { value: first.value * 100 + worth(word), next: first.next + 1 };
  if (kind !== "ten") return undefined;
  const rest = small(tokens, first.next);
  if (!rest || wordAt(tokens, rest.next) === "hundred") return undefined;
  const value = first.value * 100 + rest.value;
  return value > MOST_HUNDREDS_SPOKEN ? undefined : { value, next: rest.next };
}

function decimals(tokens: readonly Token[], at: number): { text: string; next: number } {
  let text = "";
  let next = at;
  for (;;) {
    const word = wordAt(tokens, next);
    const kind = atom(word);
    const followed = wordAt(tokens, next + 1);
    if (text !== "" && (followed === "hundred" || followed === "thousand")) break;
    if (kind === "zero") text += "0";
    else if (kind === "one") {
      if (text !== "" && atom(followed) === "ten") break;
      text += String(worth(word));
    } else if ((kind === "ten" || kind === "teen") && text === "") {
      const two = small(tokens, next);
      return two ? { text: String(two.value), next: two.next } : { text, next };
    } else break;
    next += 1;
  }
  return { text, next };
}

/** `and a half`, `and three eighths`, `and three quarter`. */
export function andPart(
  tokens: readonly Token[],
  at: number,
): { value: number; next: number } | undefined {
  const word = wordAt(tokens, at);
  const start = word === "and" || tokens[at]?.text === "&" ? at + 1 : -1;
  if (start < 0) return undefined;
  const found = partFrom(tokens, start);
  return found && found.value < 1 ? found : undefined;
}

/** `a half`, `three eighths`, `half`, `a quarter`. */
export function partFrom(
  tokens: readonly Token[],
  at: number,
): { value: number; next: number } | undefined {
  const word = wordAt(tokens, at);
  if (word === "half") return { value: 0.5, next: at + 1 };
  if (word === "quarter") return { value: 0.25, next: at + 1 };
  if (word === "a" || word === "an" || word === "one") {
    const part = partAt(tokens, at + 1);
    if (part) return { value: 1 / part.under, next: part.next };
    if (word !== "one") return undefined;
  }
  const digit = tokens[at];
  const over =
    digit?.kind === "number" && digit.whole
      ? { value: digit.value, next: at + 1 }
      : cardinal(tokens, at, false);
  if (!over || over.value < 1 || over.value > 63) return undefined;
  const part = partAt(tokens, over.next);
  if (!part || over.value >= part.under * 4) return undefined;
  if (part.under === 32 && wordAt(tokens, part.next - 1) === "seconds" && over.value % 2 === 0)
    return undefined;
  return { value: over.value / part.under, next: part.next };
}

const UNIT_AFTER_BARE_PART = new Set(["inch", "inches", "in", "of"]);

/** The figure in words that begins at `at`, if one does. `compact` false keeps `four nine` apart. */
export function spokenAt(tokens: readonly Token[], at: number, compact = true): Spoken | undefined {
  const word = wordAt(tokens, at);
  if (word === "") return undefined;
  // `near the point two mil deep`: the tip.
  const tip = word === "point" && /^(the|its|near|at)$/.test(wordAt(tokens, at - 1));
  if ((word === "point" && !tip) || word === "decimal") {
    const rest = decimals(tokens, at + 1);
    if (rest.text === "") return undefined;
    return { value: Number(`0.${rest.text}`), next: rest.next, fraction: false, whole: false };
  }
  const part = partFrom(tokens, at);
  if (part) return { ...part, fraction: true, whole: false };
  const bare = partAt(tokens, at);
  if (bare && UNIT_AFTER_BARE_PART.has(wordAt(tokens, bare.next)) && bare.under > 5)
    return { value: 1 / bare.under, next: bare.next, fraction: true, whole: false };
  if (word === "couple" || (word === "a" && wordAt(tokens, at + 1) === "couple")) {
    const next = at + (word === "a" ? 2 : 1);
    return {
      value: 2,
      next: wordAt(tokens, next) === "of" ? next + 1 : next,
      fraction: false,
      whole: true,
    };
  }
  if (word === "dozen") return { value: 12, next: at + 1, fraction: false, whole: true };
  const whole = cardinal(tokens, at, compact);
  if (!whole) return undefined;
  // `twenty eight fifty fahrenheit`.
  const rest =
    compact && whole.value >= 20 && whole.value < 30 ? small(tokens, whole.next) : undefined;
  if (
    rest &&
    rest.value >= 10 &&
    whole.next === at + 2 &&
    /^(f|fahrenheit|degrees|deg)$/.test(wordAt(tokens, rest.next))
  )
    return {
      value: whole.value * 100 + rest.value,
      next: rest.next,
      fraction: false,
      whole: true,
      runOn: true,
    };
  const comma = whole.value === 0 && tokens[whole.next]?.text === "comma";
  if (wordAt(tokens, whole.next) === "point" || comma) {
    const rest = decimals(tokens, whole.next + 1);
    if (rest.text !== "")
      return {
        value: Number(`${whole.value}.${rest.text}`),
        next: rest.next,
        fraction: false,
        whole: false,
      };
  }
  const more = andPart(tokens, whole.next);
  if (more)
    return { value: whole.value + more.value, next: more.next, fraction: true, whole: false };
  return {
    value: whole.value,
    next: whole.next,
    fraction: false,
    whole: true,
    runOn: whole.runOn ?? false,
  };
}
