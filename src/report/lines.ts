/** Plain text in short lines, for a phone and a terminal. */

/** Widest line that a phone shows without breaking it. */
export const LINE_WIDTH = 44;

/** Breaks words to lines; every line after the first begins with `hang`. A word wider than a line is cut. */
export function wrapped(text: string, hang = "", width = LINE_WIDTH): string[] {
  const lines: string[] = [];
  let line = "";
  for (const whole of gluedWords(text)) {
    for (const word of pieces(whole, width - hang.length)) {
      const joined = line === "" ? word : `${line} ${word}`;
      if (joined.length <= width) {
        line = joined;
      } else {
        lines.push(line);
        line = hang + word;
      }
    }
  }
  return line === "" ? lines : [...lines, line];
}

/** Words of a text; a figure and its unit, and the sides of one size, stay together. */
export const gluedWords = (text: string): string[] =>
  text
    .trim()
    .replaceAll(/\s+/g, " ")
    .replaceAll(/(\d) (mm|in|g|oz|lb|°C|°F|%|min|h|kN)\b/g, "$1\u2007$2")
    .replaceAll(/ × (?=\d)/g, "\u2007×\u2007")
    .replaceAll(/Ø (?=\d)/g, "Ø\u2007")
    .replaceAll(/\b(heat|hole) (?=\d)/g, "$1\u2007")
    .replaceAll(/(\d) (?=\d+\/\d)/g, "$1\u2007")
    .split(" ")
    .map((word) => word.replaceAll("\u2007", " "));

function pieces(word: string, width: number): string[] {
  const parts: string[] = [];
  const letters = [...word];
  for (let start = 0; start < letters.length; start += width) {
    parts.push(letters.slice(start, start + width).join(""));
  }
  return parts;
}

/** The parts that are there, put together with dots and broken between them. */
export function dotted(parts: readonly (string | undefined | false)[], hang = ""): string[] {
  const there = parts.filter((part): part is string => typeof part === "string" && part !== "");
  const lines: string[] = [];
  let line = "";
  for (const part of there) {
    const joined = line === "" ? part : `${line} · ${part}`;
    if (joined.length <= LINE_WIDTH || line === "") line = joined;
    else {
      lines.push(line);
      line = hang + part;
    }
  }
  if (line !== "") lines.push(line);
  return lines.flatMap((each) => (each.length <= LINE_WIDTH ? [each] : wrapped(each, `${hang}  `)));
}
