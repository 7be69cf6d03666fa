/** Sixth step, first half: ranges become one figure, and a list shares its unit. */
import type { Item } from "./items.js";
import { type Fig, onlyFiller, type Part } from "./parts.js";
import type { Quantity } from "./quantities.js";
import { UNITS } from "./units.js";

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
    // `5/8 long x 20 thou deep`: a fraction is inches, thousandths have none.
    if (giver && !(fig.inches && giver.q.unit === "thou")) takeUnit(fig, giver.q);
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
export function joined(items: readonly Item[]): Part[] {
  const parts: Part[] = [];
  let chain = 0;
  let list: Fig[] = [];
  let linked = false;
  const close = (): void => {
    // `wide 30 mm/ 655 g`: no list.
    const dimensions = new Set(list.flatMap((one) => one.dimension ?? []));
    if (list.length > 1 && list.length <= LONGEST_LIST && dimensions.size <= 1) {
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
        if (down) fig.down = true;
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

/** `22, 36, 180` and `35 mm. 22 mm. 190 mm.`: bare figures between stops are a list too. */
export function listed(parts: readonly Part[]): void {
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
export function renewed(parts: Part[]): Part[] {
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
