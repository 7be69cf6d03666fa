/** The number that tells which heat: `heat 4`, `heat no 6`, `heat for nine forty`, `heats 4 and 5`. */
import { quantityAt, type UnitHints } from "./quantities.js";
import { isNumberWord, spokenAt } from "./spoken.js";
import type { Token } from "./tokens.js";
import { NUMBER_CONFUSIONS, ONES } from "./vocabulary.js";

/** A bare figure in this range beside a heat is a temperature, °C (contract). */
export const TEMP_FROM_C = 500;
export const TEMP_TO_C = 1300;
/** In an inch chat up to this it is °F. */
export const TEMP_TO_F = 2400;
const MOST_HEAT_NUMBER = 60;

const plausible = (value: number, inchChat: boolean): boolean =>
  (value >= TEMP_FROM_C && value <= TEMP_TO_C) ||
  (value > TEMP_TO_C && value <= (inchChat ? TEMP_TO_F : 1900));

const AFTER_CONFUSION =
  /^(at|um|uh|er|,|dull|bright|orange|red|drew|flattened|squared|straightened|edged|drawing|was|done)$/;

/** The number that follows `heat`: `4`, `no 6`, `#6`, `four`, and what a recogniser makes of it. */
export function heatNumberAt(
  tokens: readonly Token[],
  at: number,
  hints: UnitHints,
): { number: number; next: number } | undefined {
  let start = at;
  while (/^(no|number|nr|#|num)$/.test(tokens[start]?.text ?? "")) start += 1;
  if (start > at && tokens[start]?.text === ".") start += 1;
  const token = tokens[start];
  if (!token) return undefined;
  if (token.kind === "number") {
    if (!token.whole || token.thousands || token.value === 0) return undefined;
    const said = quantityAt(tokens, start, hints);
    if (!said) return undefined;
    // `heat 3 5/8 x 1 3/8 x 4 1/8`: three sizes follow, the first a bare fraction.
    const fraction = said.fraction && said.said > 1 && listsThree(tokens, start + 1, hints);
    if (fraction) return { number: token.value, next: start + 1 };
    if (said.dimension !== undefined || said.fraction) return undefined;
    const follows = tokens[said.to]?.text ?? "";
    if (/^(x|by|\*|thick|wide|long|deep|high|more|times)$/.test(follows)) return undefined;
    if (token.value >= TEMP_FROM_C) return undefined;
    return { number: token.value, next: said.to };
  }
  if (Object.hasOwn(NUMBER_CONFUSIONS, token.text)) {
    const follows = tokens[start + 1];
    const number = NUMBER_CONFUSIONS[token.text] ?? 0;
    if (!follows || AFTER_CONFUSION.test(follows.text)) return { number, next: start + 1 };
    const figure = quantityAt(tokens, start + 1, hints);
    const temperature =
      figure &&
      (figure.dimension === "temperature" ||
        (figure.dimension === undefined && plausible(figure.value, true)));
    return temperature && token.text !== "to" ? { number, next: start + 1 } : undefined;
  }
  if (token.kind !== "word" || !isNumberWord(token.text)) return undefined;
  const alone = spokenAt(tokens, start, false);
  if (!alone?.whole) return undefined;
  const splits = [alone];
  if (alone.next === start + 2 && alone.value > 20 && alone.value < 100)
    splits.push({ ...alone, value: Math.floor(alone.value / 10) * 10, next: start + 1 });
  for (const split of splits) {
    if (split.value > MOST_HEAT_NUMBER) continue;
    const rest = spokenAt(tokens, split.next, true);
    if (rest && plausible(rest.value, true)) return { number: split.value, next: split.next };
  }
  const together = quantityAt(tokens, start, hints);
  if (together && (together.dimension !== undefined || plausible(together.value, true)))
    return undefined;
  if (together?.fraction) return undefined;
  const follows = tokens[alone.next]?.text ?? "";
  if (/^(x|by|thick|wide|long|deep|high|more)$/.test(follows)) return undefined;
  return alone.value <= MOST_HEAT_NUMBER ? { number: alone.value, next: alone.next } : undefined;
}

/** A list of three begins at the token, with a fraction. */
function listsThree(tokens: readonly Token[], at: number, hints: UnitHints): boolean {
  let next = at;
  for (let k = 0; k < 3; k += 1) {
    const one = quantityAt(tokens, next, hints);
    if (!one || (k === 0 && !(one.fraction && one.said < 1))) return false;
    if (k < 2 && !/^(x|by|\*)$/.test(tokens[one.to]?.text ?? "")) return false;
    next = one.to + 1;
  }
  return true;
}

const LINK = /^(and|&|\+|,)$/;
/** `heat 6 7 and 8`, `h4+h5`, `heat 4 and heat 5`: the numbers that go on counting, the last one joined by `and`. */
export function nextHeats(
  tokens: readonly Token[],
  at: number,
  number: number,
): { number: number; from: number; to: number }[] | undefined {
  const row: { number: number; from: number; to: number }[] = [];
  let next = at;
  let joined = false;
  for (let wanted = number + 1; row.length < 8; wanted += 1) {
    let to = next;
    const link = LINK.test(tokens[to]?.text ?? "");
    if (link) to += 1;
    if (link && /^(h|heat)$/.test(tokens[to]?.text ?? "")) to += 1;
    const token = tokens[to];
    const says = token?.kind === "number" ? token.value : ONES[token?.text ?? ""];
    if (says !== wanted || token === undefined || (token.kind === "number" && !token.whole)) break;
    joined = link && tokens[next]?.text !== ",";
    row.push({ number: wanted, from: next, to: to + 1 });
    next = to + 1;
    if (joined) break;
  }
  const after = tokens[next];
  const sized = /^(x|by|\*|\/|mm|thick|wide|long|deep|g|%|min)$/.test(after?.text ?? "");
  return joined && !sized ? row : undefined;
}
