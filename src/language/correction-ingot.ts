/** The facts were right, the ingot was not: `wrong ingot, that was seven`, `that belonged to Nettle`. */
import type { Body } from "./ledger.js";
import { cleanName } from "./names.js";
import { means, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";

/** `that was`, `should have been` … before the right name. */
const LEADS_TO_NAME =
  /^(?:(?:that's|thats|that|tht|it's|it|this|was|is|should|have|been|be|meant|i|for|to|on|go|goes|belongs|sorry|one(?=\s+(?:was|is))|oops|mate|the)[\s,]+){0,7}/i;

const NAMED =
  /\b(?:belongs? to|belonged to|(?:was|were|is|all) (?:meant )?for|should(?:'ve| have)? (?:gone|be|go|been) (?:on|under|to|in|with)|goes (?:on|under|to)|put (?:it|that) (?:on|under))\s+(?:the\s+)?(?:ingot\s+|number\s+|no\.?\s+)?([\p{L}\d]+(?:\s(?:one|bar|piece))?)/giu;
const INSTEAD = /\b(?:instead of|not|rather than)\s+(?:ingot\s+|number\s+)?([\p{L}\d]+)\s*$/iu;

/** `that belonged to Nettle`, `should have gone under ingot 14 instead of 12`. */
export function ingotTold(words: string): Body | undefined {
  const to = [...words.matchAll(NAMED)]
    .map((match) => match[1] ?? "")
    .find(
      (name) =>
        name !== "" && !/^(me|you|him|her|it|us|them|now|today|the|wrong|another)\b/i.test(name),
    );
  const about =
    /\b(wrong (?:ingot|bar|one|piece|block)|belong\w*|under (?:the )?ingot|on (?:the )?ingot|(?:was|were) for (?:the )?ingot)\b/i.test(
      words,
    );
  if (to === undefined || !about) return undefined;
  const from = INSTEAD.exec(words)?.[1];
  return { kind: "correct", ...(from !== undefined && { from }), to, field: "ingot" };
}

export function wrongIngot(parts: readonly Part[], at: number, sentence: Sentence): Body {
  const rest = parts.slice(at + 1).filter((part) => part.type !== "stop");
  if (means(rest[0], "say") === "switch") rest.shift();
  const first = rest[0];
  const last = rest[rest.length - 1];
  const words = first && last ? sentence.raw(first.from, last.to) : "";
  const name = cleanName(words.replace(LEADS_TO_NAME, "").replace(/[,\s]+(not|wrong)\s.*$/i, ""));
  const from = INSTEAD.exec(words)?.[1];
  return {
    kind: "correct",
    field: "ingot",
    ...(from !== undefined && { from }),
    ...(name !== "" && name.length <= 60 && { to: name }),
  };
}
