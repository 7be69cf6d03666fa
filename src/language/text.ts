/**
 * First step: one spelling for characters that look alike. The result has the same length as the
 * message, so that every later position points into what was typed.
 */
import { ONES, TENS } from "./vocabulary.js";

const SAME: Readonly<Record<string, string>> = {
  "“": '"',
  "”": '"',
  "„": '"',
  "″": '"',
  "‘": "'",
  "’": "'",
  "′": "'",
  "`": "'",
  "´": "'",
  "–": "-",
  "—": "-",
  "−": "-",
  "‑": "-",
  "‐": "-",
  "×": "x",
  "✕": "x",
  "⨯": "x",
  "⁄": "/",
  "∕": "/",
  º: "°",
  "˚": "°",
  "℃": "c",
  "℉": "f",
  Ø: "ø",
  "⌀": "ø",
  "∅": "ø",
  Φ: "ø",
  "≈": "~",
  "∼": "~",
  "…": ".",
  "，": ",",
  "；": ";",
  "：": ":",
  "？": "?",
  "！": "!",
  "（": "(",
  "）": ")",
  "\u00a0": " ",
  "\u2009": " ",
  "\u202f": " ",
  "\u2007": " ",
  "\u200b": " ",
  "\ufeff": " ",
  "\t": " ",
  "\r": "\n",
};

const FULL_WIDTH_ZERO = 0xff10;

/** `twenty-one` → `twenty one`. */
const HYPHEN_IN_NUMBER = new RegExp(
  `\\b(${Object.keys(TENS).join("|")})-(?=(?:${Object.keys(ONES).join("|")})\\b)`,
  "g",
);

/** Lower case and one form a sign; length and positions are kept. */
export function normalise(text: string): string {
  let out = "";
  for (let i = 0; i < text.length; i += 1) {
    const char = text[i] ?? "";
    const code = text.charCodeAt(i);
    const same = SAME[char];
    if (same !== undefined) out += same;
    else if (code >= FULL_WIDTH_ZERO && code < FULL_WIDTH_ZERO + 10)
      out += String(code - FULL_WIDTH_ZERO);
    else {
      const lower = char.toLowerCase();
      out += lower.length === 1 ? lower : char;
    }
  }
  return out.includes("y-") ? out.replace(HYPHEN_IN_NUMBER, "$1 ") : out;
}
