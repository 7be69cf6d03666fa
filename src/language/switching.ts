import { bare } from "./bare-words.js";
import type { ReadingContext } from "./context.js";
import { closeFrame, type Ledger, open } from "./ledger.js";
import { knownName, nameAhead, nameUntilFact } from "./names.js";
import { means, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";

const ON_THE =
  /^(?:ok |so |now )?on the ((?:small|big|little|long|short|fat|thin|wide|narrow|heavy|light|old|new|first|second) (?:one|bar|ingot|piece|block)) /;

/** `back to Rook`, `ingot 7: …`, `the other bar`. Gives the parts that are still to be read. */
export function readSwitch(
  parts: readonly Part[],
  ledger: Ledger,
  context: ReadingContext,
  _talk: { heat: boolean },
  sentence: Sentence,
  all: readonly Part[],
): readonly Part[] | undefined {
  const first = parts.findIndex((part) => !bare(part) || means(part, "say") !== undefined);
  const lead = parts[first];
  const go = (name: string, next: number): readonly Part[] => {
    open(ledger, { kind: "switch", ingot: (knownName(name, context) ?? name).slice(0, 40) });
    closeFrame(ledger);
    ledger.trace.push(`rule: switch to ${name}`);
    for (const part of parts.slice(0, next)) if (part.type === "figure") part.used = true;
    return parts.slice(next).filter((part) => part.type !== "stop");
  };
  if (means(lead, "say") === "switch") {
    const named = nameUntilFact(parts, first + 1, sentence);
    if (named) return go(named.name, named.next);
  }
  const words = sentence.lower(parts[0]?.from ?? 0, parts[parts.length - 1]?.to ?? 0);
  if (/^(now |nw )?(the other (bar|one|ingot|piece|blade|block))( now| again)?$/.test(words))
    return go(
      words
        .replace(/^(now|nw) /, "")
        .replace(/^the /, "")
        .replace(/ (now|again)$/, ""),
      parts.length,
    );
  // `on the small one heat three nine ten`.
  const apt = ON_THE.exec(sentence.understood(parts[0]?.from ?? 0, parts.at(-1)?.to ?? 0));
  if (apt?.[1] !== undefined) {
    const end = (parts[0]?.from ?? 0) + apt[0].trim().split(" ").length;
    const next = parts.findIndex((part) => part.from >= end);
    const part = parts[next];
    if (
      next > 0 &&
      (part?.type === "stop" || means(part, "kind") === "heat" || means(part, "op") !== undefined)
    )
      return go(apt[1], next);
  }
  const known = nameAhead(parts, context, sentence);
  if (known) return go(known.name, known.next);
  const at = parts.findIndex((part) => means(part, "kind") === "ingot");
  if (at < 0 || /\b(new|fresh|out|came|called|named)\b/.test(words)) return undefined;
  const worked = all.some(
    (part) =>
      ["op", "removal"].some((group) => means(part, group) !== undefined) ||
      /^(heat|crack)$/.test(means(part, "kind") ?? "") ||
      part.type === "number of heat",
  );
  const told = all.some(
    (part) =>
      (part.type === "figure" &&
        (part.dimension !== undefined ||
          part.label !== undefined ||
          (part.chain !== undefined && !/ingot\s+\d+\/\d+\s*$/.test(words)))) ||
      means(part, "ingotshape") !== undefined ||
      means(part, "kind") === "melt",
  );
  if (!worked && told) return undefined;
  if (ledger.frame?.kind === "melt") return undefined;
  if (!parts.slice(0, at).every(bare)) return undefined;
  const named = nameUntilFact(parts, at + 1, sentence);
  return named ? go(named.name, named.next) : undefined;
}
