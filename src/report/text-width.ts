/** How wide words are in the font of our pictures, so that they stay within their boxes. */

import { gluedWords } from "./lines.js";

/** Advance widths of the letters from space to tilde, thousandths of the size: Source Sans 3, read from its tables. */
const REGULAR = [
  200, 289, 426, 497, 497, 824, 609, 249, 303, 303, 418, 497, 249, 311, 249, 350, 497, 497, 497,
  497, 497, 497, 497, 497, 497, 497, 249, 249, 497, 497, 497, 425, 847, 543, 588, 571, 615, 527,
  494, 617, 652, 263, 479, 579, 486, 727, 647, 664, 566, 664, 569, 534, 536, 645, 515, 786, 513,
  476, 539, 303, 350, 303, 497, 500, 542, 504, 553, 456, 555, 496, 292, 504, 544, 246, 247, 495,
  255, 829, 547, 542, 555, 555, 347, 419, 338, 544, 467, 719, 446, 467, 425, 303, 241, 303, 497,
];
const SEMIBOLD = [
  200, 315, 482, 513, 513, 841, 639, 275, 324, 324, 438, 513, 275, 322, 275, 344, 513, 513, 513,
  513, 513, 513, 513, 513, 513, 513, 275, 275, 513, 513, 513, 444, 875, 558, 597, 576, 625, 538,
  510, 628, 663, 282, 494, 597, 502, 745, 657, 674, 582, 674, 592, 545, 546, 655, 536, 800, 541,
  501, 540, 324, 344, 324, 513, 500, 549, 516, 563, 462, 564, 507, 317, 520, 558, 262, 263, 522,
  271, 843, 560, 549, 564, 564, 373, 431, 361, 556, 495, 748, 481, 495, 443, 324, 255, 324, 513,
];
const FIRST = 32;
/** Widest Latin letter with an accent is 859; signs we print are narrower than 700. */
const LATIN = 860;
const LAST_LATIN = 0x24f;
const SIGNS: Readonly<Record<string, number>> = { "·": 275, "×": 513, "°": 348, Ø: 674, "…": 964 };
/** Anything else takes its whole size. */
const OTHER = 1000;

export interface TextStyle {
  readonly size: number;
  readonly bold?: boolean;
}

/** Width in the unit of `size`. Never less than what is drawn, but for pairs that the font sets wider; error under 1 %. */
export function textWidth(text: string, { bold = false, size }: TextStyle): number {
  const table = bold ? SEMIBOLD : REGULAR;
  let sum = 0;
  for (const letter of text) {
    const code = letter.codePointAt(0) ?? 0;
    sum += table[code - FIRST] ?? SIGNS[letter] ?? (code <= LAST_LATIN ? LATIN : OTHER);
  }
  return (sum * size) / 1000;
}

/** The text, or as much of it as fits, with an ellipsis. */
export function fitted(text: string, width: number, style: TextStyle): string {
  if (textWidth(text, style) <= width) return text;
  const letters = [...text];
  while (letters.length > 0 && textWidth(`${letters.join("").trimEnd()}…`, style) > width) {
    letters.pop();
  }
  return `${letters.join("").trimEnd()}…`;
}

/** Lines no wider than `width`; a word that is wider by itself is cut with an ellipsis. */
export function textLines(text: string, width: number, style: TextStyle): readonly string[] {
  if (text.trim() === "") return [];
  const lines: string[] = [];
  let line = "";
  for (const word of gluedWords(text)) {
    const joined = line === "" ? word : `${line} ${word}`;
    if (textWidth(joined, style) <= width) line = joined;
    else {
      if (line !== "") lines.push(line);
      line = fitted(word, width, style);
    }
  }
  return line === "" ? lines : [...lines, line];
}
