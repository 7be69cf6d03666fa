/**
 * Sixth step: figures get what stands beside them: ranges become one figure, a list shares its unit, and a label
 * (`thick`, `length`) joins the figure that it belongs to.
 */
import { MM_PER_INCH } from "../units/index.js";
import type { Item } from "./items.js";
import type { Quantity } from "./quantities.js";
import type { Dimension } from "./units.js";
import { UNITS } from "./units.js";

export interface Fig {
  readonly type: "figure";
  readonly from: number;
  readonly to: number;
  readonly q: Quantity;
  /** In the internal system when a unit is known; as said when not. */
  value: number;
  dimension: Dimension | undefined;
  /** A bare figure that is inches because of a fraction or its neighbours. */
  inches: boolean;
  label: string | undefined;
  /** Token after the label, where that stands behind the figure. */
  labelTo: number | undefined;
  /** Figures of one list (`22x36x180`) share a number. */
  chain: number | undefined;
  /** The figures of that list. */
  list?: readonly Fig[];
  approx: boolean;
  /** `12 or 20`: the other value. */
  or: number | undefined;
  /** Stands after `to`: the new size. */
  target: boolean;
  /** `950 to 915`: the figure before. */
  low?: number;
  /** Of a range: its upper end. */
  top?: number;
  used: boolean;
}
export type Mark = Extract<Item, { type: "mark" }>;
export type Part = Fig | Exclude<Item, { type: "quantity" } | { type: "join" }>;

const COLON = 58;
/** What a word means in a group of the vocabulary: `place:spine` → `spine`. */
export const means = (part: Part | undefined, group: string): string | undefined => {
  if (part?.type !== "mark") return undefined;
  const { length } = group;
  for (const one of part.means)
    if (one.charCodeAt(length) === COLON && one.startsWith(group)) return one.slice(length + 1);
  return undefined;
};
const onlyFiller = (part: Part): boolean =>
  part.type === "mark" &&
  part.means.every(
    (one) => one.startsWith("filler:") || (one === "unit:inch" && part.words === "in"),
  );

/** A half that was spoken follows the chat; every other bare fraction is inches. */
function bareInches(q: Quantity): boolean {
  if (q.dimension !== undefined || !q.fraction) return false;
  const rest = q.said % 1;
  if (rest === 0.5 && q.spoken) return false;
  return true;
}

function figure(item: Extract<Item, { type: "quantity" }>): Fig {
  const { q } = item;
  return {
    type: "figure",
    from: item.from,
    to: item.to,
    q,
    value: q.value,
    dimension: q.dimension,
    inches: bareInches(q),
    label: undefined,
    labelTo: undefined,
    chain: undefined,
    approx: q.approx,
    or: undefined,
    target: false,
    used: false,
  };
}

const takeUnit = (fig: Fig, from: Quantity): void => {
  if (fig.dimension !== undefined || from.unit === undefined) return;
  const unit = UNITS[from.unit];
  fig.value = unit.take(fig.q.said);
  fig.dimension = unit.dimension;
  fig.inches = false;
};

/** A list shares a unit at its end, and inches where one of it is a bare fraction. */
function shareUnits(list: readonly Fig[]): void {
  for (let i = list.length - 2; i >= 0; i -= 1) {
    const next = list[i + 1];
    const fig = list[i];
    if (!fig || !next || fig.dimension !== undefined) continue;
    const giver = list.slice(i + 1).find((one) => one.q.unit !== undefined);
    if (giver) takeUnit(fig, giver.q);
  }
  if (
    list.some((one) => one.inches) &&
    list.every((one) => one.dimension === undefined || one.q.unit === "inch")
  )
    for (const one of list) if (one.dimension === undefined) one.inches = true;
  if (list.some((one) => one.q.unit === "inch"))
    for (const one of list) if (one.dimension === undefined && one.value < 25) one.inches = true;
}

/** A list of more figures is no size. */
const LONGEST_LIST = 8;

/** `at 940 to 16x34x240`: a temperature and then a size, no range. */
const parted = (low: Fig, high: Quantity, after: Item | undefined): boolean =>
  low.dimension === undefined &&
  low.value >= 500 &&
  (after?.type === "join" || high.value * 2 < low.value);

const RANGE_WORDS = new Set(["to", "or", "and", "till", "up to"]);

/** One figure for a range or a change. */
function merged(low: Fig, high: Fig, word: string, change: boolean): Fig {
  shareUnits([low, high]);
  const rising = low.value < high.value;
  const temperature =
    high.dimension === "temperature" ||
    (low.value >= 500 && high.value <= 1300 && high.value >= 500);
  const both = { ...high, from: low.from, approx: true };
  if (word === "or") return { ...high, from: low.from, or: low.value };
  if ((change && !temperature) || !rising)
    return { ...high, from: low.from, target: true, low: low.value };
  return { ...both, value: (low.value + high.value) / 2, low: low.value, top: high.value };
}

/** Items with ranges and lists joined. */
function joined(items: readonly Item[]): Part[] {
  const parts: Part[] = [];
  let chain = 0;
  let list: Fig[] = [];
  let linked = false;
  const close = (): void => {
    if (list.length > 1 && list.length <= LONGEST_LIST) {
      shareUnits(list);
      for (const one of list) {
        one.chain = chain;
        one.list = list;
      }
      chain += 1;
    }
    list = [];
    linked = false;
  };
  for (let i = 0; i < items.length; i += 1) {
    const item = items[i];
    if (!item) continue;
    if (item.type === "join") {
      linked = true;
      continue;
    }
    if (item.type === "quantity") {
      let fig = figure(item);
      const between = items[i + 1];
      const upper = items[i + 2];
      const word =
        between?.type === "mark"
          ? between.words
          : between?.type === "join" && between.sign === "-"
            ? "-"
            : "";
      const down = between?.type === "mark" && between.means.includes("dir:down");
      const before = parts[parts.length - 1];
      const beforeTwo = parts[parts.length - 2];
      const said = (words: string): boolean =>
        (before?.type === "mark" && before.words.endsWith(words)) ||
        (beforeTwo?.type === "mark" &&
          beforeTwo.words.endsWith(words) &&
          onlyFiller(before ?? beforeTwo));
      const third = items[i + 3];
      const dashes = word === "-" && third?.type === "join" && third.sign === "-";
      if (
        upper?.type === "quantity" &&
        !dashes &&
        !parted(fig, upper.q, third) &&
        // `from 20x34 to 19x36`: a list follows a list.
        !(linked && third?.type === "join") &&
        !fig.q.ordinal &&
        (RANGE_WORDS.has(word) || word === "-" || down) &&
        (word !== "and" || said("between") || said("somewhere between")) &&
        (word !== "-" || fig.q.said < upper.q.said) &&
        (fig.q.dimension === undefined ||
          upper.q.dimension === fig.q.dimension ||
          (upper.q.dimension === undefined && down && said("from")))
      ) {
        fig = merged(fig, figure(upper), word, said("from") || down);
        i += 2;
      }
      if (!linked) close();
      list.push(fig);
      linked = false;
      parts.push(fig);
      continue;
    }
    const label =
      item.type === "mark" &&
      item.means.some(
        (one) =>
          one.startsWith("adj:") ||
          one.startsWith("noun:") ||
          one.startsWith("filler:") ||
          one.startsWith("approx:"),
      );
    if (!label && !linked) close();
    if (item.type === "stop" && item.sign !== ":") close();
    parts.push(item);
  }
  close();
  return parts;
}

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
function labelled(parts: Part[], ingotTalk: boolean): Part[] {
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
    // `17x35x220 weighs 1020`: a figure of a list is a size.
    if (label === "massG" && leftFig?.chain !== undefined && leftFig.dimension !== "mass")
      leftFig = undefined;
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
function roughly(parts: readonly Part[]): void {
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

/** The figure as a length, mm. */
export const asMm = (fig: Fig, inchChat: boolean): number =>
  fig.dimension === "length"
    ? fig.value
    : fig.inches || inchChat
      ? fig.value * MM_PER_INCH
      : fig.value;

/** `22, 36, 180` and `35 mm. 22 mm. 190 mm.`: bare figures between stops are a list too. */
function listed(parts: readonly Part[]): void {
  let list: Fig[] = [];
  const close = (): void => {
    if (list.length === 2 || list.length === 3) {
      shareUnits(list);
      for (const one of list) {
        one.chain = -1 - (list[0]?.from ?? 0);
        one.list = list;
      }
    }
    list = [];
  };
  for (let i = 0; i < parts.length; i += 1) {
    const part = parts[i];
    if (part?.type === "stop" && part.sign !== ":") continue;
    const alone =
      (i === 0 || parts[i - 1]?.type === "stop") &&
      (i === parts.length - 1 || parts[i + 1]?.type === "stop");
    const length =
      part?.type === "figure" &&
      part.label === undefined &&
      part.chain === undefined &&
      (part.dimension === "length" || part.dimension === undefined) &&
      !part.q.ordinal;
    if (alone && length) {
      const bare = part.dimension === undefined && part.value >= 500;
      if (!bare) {
        list.push(part);
        continue;
      }
    }
    close();
  }
  close();
}

/** `from 20x34 to 19x36`: the old sizes are not recorded again. */
function renewed(parts: Part[]): Part[] {
  for (let i = 0; i < parts.length; i += 1) {
    const first = parts[i];
    if (first?.type !== "figure" || first.chain === undefined) continue;
    const { list = [] } = first;
    const link = parts[i + list.length];
    const second = parts[i + list.length + 1];
    const word = parts[i - 1];
    const from = word?.type === "mark" && /(^| )from$/.test(word.words);
    const to = link?.type === "mark" && /^(to|down to|out to|up to|into)$/.test(link.words);
    if (!from || !to || second?.type !== "figure" || second.chain === undefined) continue;
    if ((second.list ?? []).length !== list.length) continue;
    parts.splice(i - 1, list.length + 1);
  }
  return parts;
}

/** The whole step. */
export function partsOf(items: readonly Item[]): Part[] {
  const ingotTalk = items.some(
    (item) =>
      item.type === "mark" &&
      (item.means.includes("kind:ingot") ||
        item.means.some((one) => one.startsWith("ingotshape:") && one !== "ingotshape:bowl")),
  );
  const parts = labelled(renewed(joined(items)), ingotTalk);
  roughly(parts);
  listed(parts);
  for (let i = 1; i < parts.length; i += 1) {
    const part = parts[i];
    const before = parts[i - 1];
    if (part?.type === "figure" && before?.type === "mark" && /(^| )to$/.test(before.words))
      part.target = true;
  }
  return parts;
}
