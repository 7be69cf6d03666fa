/** Lines from a stream that may hold anything: binary junk, no line end at all, gigabytes of it. */
import type { Readable } from "node:stream";
import { StringDecoder } from "node:string_decoder";

/** Longest line that is taken, in characters: what one stored message may hold. */
export const LINE_LIMIT = 20_000;

export type Line =
  | { readonly kind: "words"; readonly text: string }
  | { readonly kind: "too-long" };

/** The lines of a stream; of a line beyond the limit only the fact is kept, never the bytes. */
export async function* readLines(input: Readable): AsyncGenerator<Line> {
  const decoder = new StringDecoder("utf8");
  let held = "";
  let overflow = false;
  const take = (piece: string): void => {
    if (overflow) return;
    held += piece;
    if (held.length > LINE_LIMIT) {
      overflow = true;
      held = "";
    }
  };
  const finish = (): Line => {
    const line: Line = overflow ? { kind: "too-long" } : { kind: "words", text: held };
    held = "";
    overflow = false;
    return line;
  };
  for await (const chunk of input as AsyncIterable<Buffer | string>) {
    const text = typeof chunk === "string" ? chunk : decoder.write(chunk);
    const pieces = text.split("\n");
    for (const [index, piece] of pieces.entries()) {
      take(piece);
      if (index < pieces.length - 1) yield finish();
    }
  }
  take(decoder.end());
  if (held !== "" || overflow) yield finish();
}
