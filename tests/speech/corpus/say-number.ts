/**
 * Figures as people say them. Written apart from the room's own number rules on purpose: what is
 * measured must not be made by what measures.
 */
import { type Chance, pick } from "./seeded.js";

const SMALL = [
  "zero",
  "one",
  "two",
  "three",
  "four",
  "five",
  "six",
  "seven",
  "eight",
  "nine",
  "ten",
  "eleven",
  "twelve",
  "thirteen",
  "fourteen",
  "fifteen",
  "sixteen",
  "seventeen",
  "eighteen",
  "nineteen",
];
const TENS = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

export function below100(value: number): string {
  if (value < 20) return SMALL[value] ?? "";
  const rest = value % 10;
  return `${TENS[Math.floor(value / 10)]}${rest === 0 ? "" : ` ${SMALL[rest]}`}`;
}

/** A whole number below 3000, in one of the ways that it is said in a shop. */
export function sayWhole(value: number, chance: Chance): string {
  if (value < 100) return below100(value);
  const hundreds = Math.floor(value / 100);
  const rest = value % 100;
  if (value >= 1000 && value < 1100) {
    if (rest === 0) return pick(["one thousand", "a thousand"], chance);
    return `${pick(["one thousand", "a thousand"], chance)} and ${below100(rest)}`;
  }
  if (rest === 0) {
    if (value % 1000 === 0) return `${SMALL[value / 1000]} thousand`;
    if (hundreds === 1) return pick(["one hundred", "a hundred"], chance);
    return `${below100(hundreds)} hundred`;
  }
  if (rest < 10) {
    return pick(
      [
        `${below100(hundreds)} hundred and ${below100(rest)}`,
        `${below100(hundreds)} oh ${below100(rest)}`,
      ],
      chance,
    );
  }
  const compact = `${below100(hundreds)} ${below100(rest)}`;
  const full = `${below100(hundreds)} hundred and ${below100(rest)}`;
  const bare = `${below100(hundreds)} hundred ${below100(rest)}`;
  return pick([compact, compact, full, bare], chance);
}

const EIGHTHS: Readonly<Record<number, string>> = {
  1: "an eighth",
  2: "a quarter",
  3: "three eighths",
  4: "a half",
  5: "five eighths",
  6: "three quarters",
  7: "seven eighths",
};

/** A figure with a decimal or (inches) eighths. */
export function sayFigure(value: number, inches: boolean, chance: Chance): string {
  if (Number.isInteger(value)) return sayWhole(value, chance);
  const whole = Math.floor(value);
  if (inches) {
    const part = EIGHTHS[Math.round((value - whole) * 8)] ?? "";
    return whole === 0 ? part.replace(/^a half$/, "half") : `${below100(whole)} and ${part}`;
  }
  const tenths = Math.round((value - whole) * 10);
  if (tenths === 5 && chance() < 0.3 && whole > 0) return `${below100(whole)} and a half`;
  return `${whole === 0 ? "zero" : sayWhole(whole, chance)} point ${SMALL[tenths]}`;
}
