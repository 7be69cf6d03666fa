/** How well a note was heard: its figures, by their order. Both sides go through the same reading of number words. */
import { spokenAt, tokenise } from "../../../src/language/index.js";

export function figuresIn(words: string): number[] {
  const tokens = tokenise(words);
  const found: number[] = [];
  for (let at = 0; at < tokens.length; ) {
    const figure = spokenAt(tokens, at);
    const word = tokens[at]?.text;
    if (figure && !((word === "a" || word === "an") && figure.next === at + 1)) {
      found.push(Math.round(figure.value * 1000) / 1000);
      at = figure.next;
    } else at += 1;
  }
  return found;
}

/** Longest row of figures that both have in the same order. */
export function rightFigures(said: readonly number[], heard: readonly number[]): number {
  let row = new Array<number>(heard.length + 1).fill(0);
  for (const figure of said) {
    const next = [0];
    heard.forEach((other, j) => {
      next.push(
        Math.abs(figure - other) < 1e-3
          ? (row[j] ?? 0) + 1
          : Math.max(row[j + 1] ?? 0, next[j] ?? 0),
      );
    });
    row = next;
  }
  return row[heard.length] ?? 0;
}

export const sameFigures = (said: readonly number[], heard: readonly number[]): boolean =>
  said.length === heard.length && rightFigures(said, heard) === said.length;

/** Figures as rows of digits: `three eight nine` and `three eighty nine` are the same. */
export const digitsIn = (words: string): number[] =>
  figuresIn(words).flatMap((figure) =>
    [...String(figure)].filter((digit) => digit !== ".").map(Number),
  );
