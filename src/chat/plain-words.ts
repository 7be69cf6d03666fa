/** Words that came from outside, made safe to store and to show: no control marks, no tricks of direction. */

// C0 and C1 controls except tab and newline, marks that turn the direction of text, and lone surrogates.
const UNSAFE =
  /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** The same words without control and direction marks; carriage returns become newlines. */
export function plainWords(text: string): string {
  return text.replace(/\r\n?/g, "\n").replace(UNSAFE, "");
}

/** Longest name kept, in characters. */
const NAME_LIMIT = 64;

/** A person's or a chat's name on one line, at most 64 characters; empty if nothing is left of it. */
export function plainName(name: string): string {
  const line = plainWords(name).replace(/\s+/g, " ").trim();
  return Array.from(line).slice(0, NAME_LIMIT).join("").trim();
}
