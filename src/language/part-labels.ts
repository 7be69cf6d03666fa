/** Sixth step, second half: a label (`thick`, `length`) and `about` join the figure that they belong to. */
import { type Fig, means, onlyFiller, type Part } from "./parts.js";

const RIGHT_SKIP =
  /^(is|of|at|to|now|was|it|about|the|=|in|down to|up to|reads|says|measures|just|only|still|has|went|goes|gone|came|comes|came to|grew|grew to|become|becomes|has become)$/;

function neighbour(parts: readonly Part[], from: number, step: 1 | -1): number | undefined {
  for (
    let i = from + step, hops = 0;
    i >= 0 && i < parts.length && hops < 4;
    i += step, hops += 1
  ) {
    const part = parts[i];
    if (!part) return undefined;
    if (part.type === "figure") return i;
    if (part.type === "stop" && part.sign === ":" && step === 1) continue;
    if (part.type !== "mark") return undefined;
    if (means(part, "approx") !== undefined) continue;
    if (step === 1 && (part.words === "from" || means(part, "dir") !== undefined)) continue;
    if (!onlyFiller(part)) return undefined;
    if (step === -1 && !/^(in|now|its|it's|the|a|,|or|of|at)$/.test(part.words)) return undefined;
    if (step === 1 && !RIGHT_SKIP.test(part.words)) return undefined;
  }
  return undefined;
}

const wordOf = (part: Part | undefined): string => (part?.type === "mark" ? part.words : "");
const isNumberOf = (before: Part | undefined, fig: Fig): boolean =>
  means(before, "kind") === "melt" &&
  fig.q.whole &&
  fig.dimension === undefined &&
  fig.value <= 500;

/** Does the run of figures and labels that goes through `at` end with a figure? */
function endsInFigure(parts: readonly Part[], at: number): boolean {
  let last = parts[at];
  for (let i = at + 1; i < parts.length; i += 1) {
    const part = parts[i];
    if (means(part, "adj") !== undefined) return false;
    if (part?.type !== "figure" && means(part, "noun") === undefined) break;
    if (part?.type === "figure" && part.dimension !== undefined && part.dimension !== "length")
      break;
    last = part;
  }
  return last?.type === "figure";
}

/** Labels that a message about no ingot does not have: there they are places. */
const ONLY_OF_INGOTS: Readonly<Record<string, string>> = { bottomDiameterMm: "place:bottom" };
/** `a 13 mm hairline across the top`: where the crack runs. */
const ACROSS_TOP = /^(across|over) the top$/;

/** Gives each label to its figure. */
export function labelled(parts: Part[], ingotTalk: boolean): Part[] {
  let first: 1 | -1 | undefined;
  for (let i = 0; i < parts.length; i += 1) {
    const part = parts[i];
    if (part?.type === "stop" && part.hard) first = undefined;
    const adjective = means(part, "adj");
    const noun = means(part, "noun");
    const label = adjective ?? noun;
    if (label === undefined || part?.type !== "mark") continue;
    if (!ingotTalk && ACROSS_TOP.test(part.words)) {
      parts[i] = { ...part, means: ["place:top"] };
      continue;
    }
    if (!ingotTalk && ONLY_OF_INGOTS[label] !== undefined) {
      parts[i] = { ...part, means: [ONLY_OF_INGOTS[label] ?? ""] };
      continue;
    }
    if (
      label === "pipe" ||
      label === "from" ||
      label === "peak" ||
      label === "ingotG" ||
      label === "duration"
    )
      continue;
    const left = neighbour(parts, i, -1);
    const right = neighbour(parts, i, 1);
    const free = (at: number | undefined): Fig | undefined => {
      const fig = at === undefined ? undefined : parts[at];
      if (fig?.type !== "figure" || fig.q.ordinal) return undefined;
      if (fig.label !== undefined && !(label === "bottomDiameterMm" && fig.label === "diameterMm"))
        return undefined;
      if (!fits(fig, label)) return undefined;
      return fig;
    };
    let leftFig = free(left);
    let rightFig = free(right);
    // `58 dia bottom dia 40`: a figure that has its label already is not the foot's.
    if (label === "bottomDiameterMm" && noun !== undefined && leftFig?.label && rightFig)
      leftFig = undefined;
    // `nine twenty left it nineteen thick`: no weight.
    const it = parts[i + 1];
    if (part.words === "left" && it?.type === "mark" && /^(it|me|it at)\b/.test(it.words)) continue;
    // `eight seventy weighs six forty five grams`: the one with a weight's unit.
    if (label === "massG" && rightFig?.dimension === "mass" && leftFig?.dimension === undefined)
      leftFig = undefined;
    // `lost eleven grams weighs six fifty two grams`: the first one is gone.
    const lost = left !== undefined && means(parts[left - 1], "removal") !== undefined;
    if (label === "massG" && leftFig && rightFig && lost) leftFig = undefined;
    // `17x35x220 weighs 1020`: a figure of a list is a size.
    if (label === "massG" && leftFig?.chain !== undefined && leftFig.dimension !== "mass")
      leftFig = undefined;
    // `new ingot no 23 carbon 1.3`: its name.
    const numbered = /^(no|no\.|nr|number|ingot)$/.test(wordOf(parts[(left ?? 0) - 1]));
    if (label === "carbonPct" && numbered && leftFig?.q.whole && rightFig) leftFig = undefined;
    if (label === "carbonPct" && leftFig?.chain !== undefined && rightFig) leftFig = undefined;
    // `melt 3 carbon 1.4`: the number names the melt.
    const leads = noun !== undefined || label === "carbonPct";
    const named = label === "massG" && means(parts[(left ?? 0) - 1], "kind") === "ingot";
    if (
      leads &&
      leftFig &&
      left !== undefined &&
      rightFig &&
      (named || isNumberOf(parts[left - 1], leftFig))
    )
      leftFig = undefined;
    // `h12 900 length 214`: the heat's temperature.
    if (
      leftFig &&
      left !== undefined &&
      rightFig &&
      leftFig.dimension === undefined &&
      leftFig.value >= 500 &&
      noun !== undefined &&
      label !== "massG"
    )
      leftFig = undefined;
    // `900 length 214 width 31`: from figure to figure, so each label stands before its own.
    if (leftFig && rightFig && noun !== undefined && first === undefined && endsInFigure(parts, i))
      leftFig = undefined;
    if (rightFig && right !== undefined && leftFig) {
      const beyond = parts[right + 1];
      const claimed =
        means(beyond, "adj") !== undefined || (means(beyond, "noun") !== undefined && first !== 1);
      if (claimed) rightFig = undefined;
    }
    let chosen: Fig | undefined;
    let side: 1 | -1 = -1;
    if (adjective !== undefined) {
      chosen = first === 1 && rightFig && leftFig === undefined ? rightFig : (leftFig ?? rightFig);
      side = chosen === leftFig ? -1 : 1;
    } else if (leftFig && rightFig) {
      side = first ?? (part.words === "ø" ? 1 : -1);
      chosen = side === 1 ? rightFig : leftFig;
    } else {
      chosen = leftFig ?? rightFig;
      side = leftFig ? -1 : 1;
    }
    if (label === "square" && chosen === rightFig && chosen !== leftFig) continue;
    if (!chosen) continue;
    chosen.label = label;
    if (part.from >= chosen.to) chosen.labelTo = part.to;
    first ??= side;
  }
  return parts;
}

function fits(fig: Fig, label: string): boolean {
  if (label === "massG") return fig.dimension === "mass" || fig.dimension === undefined;
  if (label === "carbonPct")
    return (
      fig.dimension === "percent" ||
      fig.dimension === undefined ||
      (fig.q.unit === "c" && fig.value < 7)
    );
  if (label === "bore" || label === "bite")
    return fig.dimension === "length" || fig.dimension === undefined;
  return fig.dimension === "length" || fig.dimension === undefined;
}

/** `about` and its like, before or after, make the figure approximate. */
export function roughly(parts: readonly Part[]): void {
  for (let i = 0; i < parts.length; i += 1) {
    const part = parts[i];
    if (part?.type !== "mark" || means(part, "approx") === undefined) continue;
    const next = neighbour(parts, i, 1);
    const before = parts[i - 1];
    if (parts[i + 1]?.type === "time") continue;
    const after = next === undefined ? undefined : parts[next];
    if (
      /^(or so|ish|more or less|give or take|near enough|thereabouts|or thereabouts)$/.test(
        part.words,
      )
    ) {
      for (let k = i - 1; k >= 0 && k > i - 4; k -= 1) {
        const left = parts[k];
        if (left?.type === "figure") {
          left.approx = true;
          break;
        }
      }
    } else if (after?.type === "figure") after.approx = true;
    else {
      const left = before?.type === "figure" ? before : parts[i - 2];
      const label = means(before, "adj") !== undefined;
      if (left?.type === "figure" && (left === before || label)) left.approx = true;
    }
  }
}
