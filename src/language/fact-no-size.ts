/** Figures that look like sizes and are none. */
import { type FactReader, isTrigger, understood, wordsAt } from "./fact-reader.js";
import { open } from "./ledger.js";
import { type Fig, means } from "./parts.js";

/** `18 mm from the tip`, `three times`: nothing that a field holds. */
export function elsewhere(r: FactReader, fig: Fig, i: number): boolean {
  const { ledger, parts } = r;
  const next = parts[i + 1];
  const times =
    wordsAt(r, i + 1) === "times" ||
    wordsAt(r, i + 1) === "cycles" ||
    wordsAt(r, i + 1) === "passes" ||
    wordsAt(r, i + 1) === "blows";
  const from =
    means(next, "noun") === "from" &&
    [parts[i + 2], parts[i + 3]].some((one) => means(one, "place") !== undefined);
  if (!times && !from) return false;
  // `cut 16 mm from the end`: taken from there.
  if (from && !times && ledger.frame?.kind === "removal" && ledger.frame.lengthMm === undefined)
    return false;
  let to = parts[i + 1]?.to ?? fig.to;
  if (from)
    for (const one of [parts[i + 2], parts[i + 3]])
      if (one?.type === "mark") {
        understood.add(one);
        to = one.to;
        if (means(one, "place") !== undefined) break;
      }
  ledger.leftovers.push({ from: fig.from, to });
  fig.used = true;
  return true;
}

/** `2 cracks, one on the rim`: no size. */
export function counts(
  r: FactReader,
  fig: Fig,
  i: number,
  coming: { kind: string } | undefined,
): boolean {
  const { ledger, parts } = r;
  const worked = parts[i + 1];
  if (
    worked?.type === "mark" &&
    means(worked, "op") !== undefined &&
    /(heats|cycles)$/.test(worked.words) &&
    fig.q.whole &&
    fig.value <= 10
  ) {
    ledger.heats = Array.from({ length: fig.value }, () => open(ledger, { kind: "heat" }));
    return true;
  }
  if (fig.dimension !== undefined || !fig.q.whole || fig.label !== undefined) return false;
  if (fig.chain !== undefined || fig.value > 20) return false;
  const plural = parts
    .slice(i + 1, i + 4)
    .some((one) => isTrigger(one) === "crack" && one.type === "mark" && one.words.endsWith("s"));
  if (coming?.kind === "crack" && plural) return true;
  const next = parts[i + 1];
  return (
    fig.q.spoken &&
    fig.value === 1 &&
    ledger.frame?.kind === "crack" &&
    next !== undefined &&
    means(next, "filler") !== undefined
  );
}
