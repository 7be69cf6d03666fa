/** Second step: words, digit figures and signs, each with its place in the message. */
export interface Token {
  readonly kind: "number" | "word" | "sign" | "other";
  readonly text: string;
  readonly start: number;
  readonly end: number;
  /** Nothing stands between this token and the one before. */
  readonly glued: boolean;
  /** Of a number: its value. */
  readonly value: number;
  /** Of a number: a single fraction character (½). */
  readonly vulgar: boolean;
  /** Of a number: written as digits only, no point, no comma. */
  readonly whole: boolean;
  /** Of a number: a comma stood before three digits, read as thousands. */
  readonly thousands: boolean;
}

const VULGAR: Readonly<Record<string, number>> = {
  "½": 1 / 2,
  "⅓": 1 / 3,
  "⅔": 2 / 3,
  "¼": 1 / 4,
  "¾": 3 / 4,
  "⅕": 1 / 5,
  "⅖": 2 / 5,
  "⅗": 3 / 5,
  "⅘": 4 / 5,
  "⅙": 1 / 6,
  "⅚": 5 / 6,
  "⅛": 1 / 8,
  "⅜": 3 / 8,
  "⅝": 5 / 8,
  "⅞": 7 / 8,
  "⅒": 1 / 10,
};
/** Longer digit strings are no figure of a workshop. */
const MOST_DIGITS = 12;
const MOST_LETTERS = 40;

const isDigit = (code: number): boolean => code >= 48 && code <= 57;
const LETTER = /\p{L}|\p{M}/u;
function isLetter(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  if (code < 128) return code >= 97 && code <= 122;
  return LETTER.test(text[at] ?? "");
}

const UNIT_BEFORE_X = new Set(["mm", "cm", "m", "in", "inch", "inches", "ft", "mil"]);

/** Where a digit figure that begins at `at` ends, and its value. */
function digits(
  text: string,
  at: number,
  comma: boolean,
): { end: number; value: number; whole: boolean; thousands: boolean } {
  const run = (from: number): number => {
    let end = from;
    while (isDigit(text.charCodeAt(end))) end += 1;
    return end;
  };
  let end = run(at);
  let plain = text.slice(at, end);
  let whole = true;
  let thousands = false;
  // `h10,930`: the number of a heat, and its temperature.
  const heat = /(^|[^\p{L}])h$/u.test(text.slice(Math.max(0, at - 2), at)) && plain.length <= 2;
  const listed = /[x×*]/.test(text[at - 1] ?? "");
  while (
    !heat &&
    !listed &&
    text[end] === "," &&
    plain !== "0" &&
    run(end + 1) - end === 4 &&
    (thousands || plain.length <= 3) &&
    plain !== ""
  ) {
    plain += text.slice(end + 1, end + 4);
    end += 4;
    thousands = true;
  }
  const sign = text[end];
  const decimals = run(end + 1);
  // `1.020,5`: points between thousands, a decimal comma.
  if (
    sign === "." &&
    decimals - end === 4 &&
    plain !== "" &&
    plain.length <= 3 &&
    text[decimals] === ","
  ) {
    const last = run(decimals + 1);
    if (last > decimals + 1)
      return {
        end: last,
        value: Number(`${plain}${text.slice(end + 1, decimals)}.${text.slice(decimals + 1, last)}`),
        whole: false,
        thousands: false,
      };
  }
  if (
    sign === "." &&
    decimals > end + 1 &&
    // A figure that begins with its point has no other.
    (plain === "" || !(text[decimals] === "." && isDigit(text.charCodeAt(decimals + 1))))
  ) {
    plain += `.${text.slice(end + 1, decimals)}`;
    end = decimals;
    whole = false;
  } else if (sign === "," && !thousands && decimals > end + 1) {
    const list = text[decimals] === "," && isDigit(text.charCodeAt(decimals + 1));
    // `h3,1690f`: no figure has so many decimals behind a comma.
    const long = decimals - end - 1 > MOST_COMMA_DECIMALS;
    const told = (heat || listed) && decimals - end - 1 >= MOST_COMMA_DECIMALS;
    if (
      comma &&
      !list &&
      !long &&
      !told &&
      !(text[at - 1] === "," && isDigit(text.charCodeAt(at - 2)))
    ) {
      plain += `.${text.slice(end + 1, decimals)}`;
      end = decimals;
      whole = false;
    }
  }
  return { end, value: Number(plain), whole, thousands };
}

const MOST_COMMA_DECIMALS = 3;
/** Letters that stand before a figure as its label: height or heat, length, thickness, width, diameter, times. */
const LABEL_LETTERS = /[hltwdxø]/;

/** An ingot's mark, a letter and one or two digits on their own (`a7`): one word, never a figure. */
function markEnd(text: string, from: number, end: number): number | undefined {
  if (end !== from + 1 || LABEL_LETTERS.test(text[from] ?? "")) return undefined;
  if (isDigit(text.charCodeAt(from - 1)) || !isDigit(text.charCodeAt(end))) return undefined;
  let last = end;
  while (isDigit(text.charCodeAt(last))) last += 1;
  const after = text[last] ?? " ";
  return last - end <= 2 && /[\s:;!?),.]/.test(after) ? last : undefined;
}

/** A minus before a figure, not a dash between two things: `new ingot -64`, but not `9 -10` or `heat - 950`. */
const isMinus = (text: string, at: number, before: Token | undefined): boolean =>
  text[at] === "-" &&
  isDigit(text.charCodeAt(at + 1)) &&
  /^\s?$/.test(text[at - 1] ?? "") &&
  before?.kind !== "number";

/** Splits a normalised message. Linear in its length. `decimalComma`: `9,5` is one figure; in an inch chat it is two. */
export function tokenise(text: string, decimalComma = true): readonly Token[] {
  const tokens: Token[] = [];
  let lastEnd = -1;
  const push = (
    kind: Token["kind"],
    start: number,
    end: number,
    rest: { value?: number; vulgar?: boolean; whole?: boolean; thousands?: boolean } = {},
  ): void => {
    tokens.push({
      kind,
      text: text.slice(start, end),
      start,
      end,
      glued: lastEnd === start,
      value: rest.value ?? Number.NaN,
      vulgar: rest.vulgar ?? false,
      whole: rest.whole ?? false,
      thousands: rest.thousands ?? false,
    });
    lastEnd = end;
  };
  let i = 0;
  while (i < text.length) {
    const char = text[i] ?? "";
    const code = text.charCodeAt(i);
    const leadingPoint =
      isDigit(text.charCodeAt(i + 1)) &&
      ((char === "." &&
        !isDigit(text.charCodeAt(i - 1)) &&
        !/\p{L}{3}/u.test(text.slice(Math.max(0, i - 3), i))) ||
        // `,61 kg`: a decimal comma where no list goes before.
        (decimalComma &&
          char === "," &&
          /^\s?$/.test(text[i - 1] ?? "") &&
          tokens.at(-1)?.kind !== "number" &&
          /^(\d+\s*(kg|kilo)|\d(?![\dx])(?!\s*x))/.test(text.slice(i + 1, i + 12))));
    if (isMinus(text, i, tokens.at(-1))) {
      // A figure below nothing is no size and no weight: handed back unread.
      const figure = digits(text, i + 1, decimalComma);
      push("other", i, figure.end);
      i = figure.end;
    } else if (isDigit(code) || leadingPoint) {
      const figure = digits(text, i, decimalComma);
      if (figure.end - i > MOST_DIGITS) push("other", i, figure.end);
      else push("number", i, figure.end, figure);
      i = figure.end;
    } else if (VULGAR[char] !== undefined) {
      push("number", i, i + 1, { value: VULGAR[char], vulgar: true });
      i += 1;
    } else if (isLetter(text, i)) {
      let end = i + 1;
      while (
        end < text.length &&
        (isLetter(text, end) ||
          (text[end] === "'" && end + 1 < text.length && isLetter(text, end + 1)))
      )
        end += 1;
      end = markEnd(text, i, end) ?? end;
      const word = text.slice(i, end);
      const before = word.slice(0, -1);
      if (
        word.length > 1 &&
        word.endsWith("x") &&
        isDigit(text.charCodeAt(end)) &&
        UNIT_BEFORE_X.has(before)
      ) {
        push("word", i, end - 1);
        push("word", end - 1, end);
      } else push(word.length > MOST_LETTERS ? "other" : "word", i, end);
      i = end;
    } else if (char === "\n" || (char !== " " && code > 32 && code < 127) || char === "°") {
      push("sign", i, i + 1);
      i += 1;
    } else if (code <= 32 || char === " ") {
      i += 1;
    } else {
      push("other", i, i + 1);
      i += 1;
    }
  }
  return tokens;
}
