/** The message as typed, by token. */
import type { Token } from "./tokens.js";

export interface Sentence {
  /** What was typed from one token up to another. */
  readonly raw: (from: number, to: number) => string;
  readonly lower: (from: number, to: number) => string;
  /** The words as they were understood, slips put right. */
  readonly understood: (from: number, to: number) => string;
  readonly tokens: readonly Token[];
}

export function sentenceOf(text: string, tokens: readonly Token[]): Sentence {
  const raw = (from: number, to: number): string => {
    const first = tokens[from];
    const last = tokens[to - 1];
    return first && last && to > from ? text.slice(first.start, last.end).trim() : "";
  };
  return {
    raw,
    lower: (from, to) => raw(from, to).toLowerCase(),
    understood: (from, to) =>
      tokens
        .slice(from, to)
        .map((token) => token.text)
        .join(" "),
    tokens,
  };
}
