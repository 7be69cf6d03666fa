/** A clock time in the words: `10:40`, `at 2 pm`, `half past nine`, `nine o'clock`. */
import { quantityAt } from "./quantities.js";
import { isNumberWord } from "./spoken.js";
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD } from "./units.js";

/** Clocks and times gone by hold no size, press or soak. */
export const TIME_HINTS = { inchChat: false, holding: false, press: false } as const;

/** A temperature comes later, so the figure before it is the clock. */
const hotLater = (tokens: readonly Token[], at: number): boolean =>
  tokens.slice(at, at + 6).some((token) => token.kind === "number" && token.value >= 500);
const HEAT_NEXT = /^(h|ht|heat)$/;
const DAY_NEXT = /^(this|yesterday|last)$/;
/** `11h20` at the beginning of a message is the clock from this hour on, before it a time held. Common practice, no source; 5 to 8. */
const FIRST_HOUR = 6;
/** A time of day; `sure`: no doubt of morning or afternoon is left. */
export interface Clock {
  readonly minutes: number;
  readonly sure: boolean;
  readonly next: number;
}

/** The word of a token, empty past the ends. */
export const word = (tokens: readonly Token[], at: number): string => tokens[at]?.text ?? "";
const isNumber = (tokens: readonly Token[], at: number): boolean => tokens[at]?.kind === "number";

function half(
  tokens: readonly Token[],
  at: number,
): { sure: boolean; pm: boolean; next: number } | undefined {
  const text = word(tokens, at);
  if (text === "am" || text === "pm") return { sure: true, pm: text === "pm", next: at + 1 };
  if (
    (text === "a" || text === "p") &&
    word(tokens, at + 1) === "." &&
    word(tokens, at + 2) === "m"
  )
    return { sure: true, pm: text === "p", next: word(tokens, at + 3) === "." ? at + 4 : at + 3 };
  return undefined;
}

function clock(
  hours: number,
  minutes: number,
  tokens: readonly Token[],
  next: number,
): Clock | undefined {
  if (hours > 24 || minutes > 59) return undefined;
  const part = half(tokens, next);
  if (part) {
    if (hours > 12 || hours === 0) return undefined;
    return {
      minutes: ((hours % 12) + (part.pm ? 12 : 0)) * 60 + minutes,
      sure: true,
      next: part.next,
    };
  }
  return { minutes: hours * 60 + minutes, sure: hours > 12 || hours === 0, next };
}

/** A small number of hours or minutes, written or said. */
function count(tokens: readonly Token[], at: number): { value: number; next: number } | undefined {
  const found = quantityAt(tokens, at, TIME_HINTS, false);
  return found && found.dimension === undefined && found.whole && !found.ordinal && found.value < 60
    ? { value: found.value, next: found.to }
    : undefined;
}

/** The clock time that begins at `at`. `afterDay`: a day stands beside it, so that a bare hour counts. */
export function clockAt(
  tokens: readonly Token[],
  at: number,
  afterDay: boolean,
): Clock | undefined {
  let start = at;
  // `weighed it at 2, 1 lb 5 oz`: the weight comes after, so this is the clock.
  const weighed = /^(weighed|weighed it|scaled)$/.test(
    word(tokens, at - 1) === "it" ? `${word(tokens, at - 2)} it` : word(tokens, at - 1),
  );
  const said =
    word(tokens, at) === "at" || word(tokens, at) === "around" || word(tokens, at) === "since";
  if (said) start += 1;
  const first = word(tokens, start);
  if (first === "noon" || first === "midday") return { minutes: 720, sure: true, next: start + 1 };
  const lead =
    first === "half"
      ? 30
      : first === "quarter"
        ? 15
        : first === "a" && word(tokens, start + 1) === "quarter"
          ? 15
          : undefined;
  const leadNext = first === "a" ? start + 2 : start + 1;
  const spoken = lead === undefined ? count(tokens, start) : { value: lead, next: leadNext };
  const turn = spoken ? word(tokens, spoken.next) : "";
  const opens = at === 0 && spoken !== undefined && spoken.value % 5 === 0 && spoken.value < 30;
  if (spoken && (turn === "past" || (turn === "to" && (lead === 15 || said || opens)))) {
    const hour = count(tokens, spoken.next + 1);
    if (
      hour &&
      hour.value >= 1 &&
      hour.value <= 12 &&
      (lead !== undefined || spoken.value % 5 === 0) &&
      // `twenty to two, straightened it`: a clock only if nothing else is said with it.
      (lead === 15 ||
        said ||
        turn === "past" ||
        /^[,.;]$/.test(word(tokens, hour.next)) ||
        HEAT_NEXT.test(word(tokens, hour.next)))
    ) {
      const minutes =
        turn === "past" ? hour.value * 60 + spoken.value : hour.value * 60 - spoken.value;
      const part = half(tokens, hour.next);
      const shifted = part?.pm && hour.value < 12 ? minutes + 720 : minutes;
      return { minutes: shifted, sure: part !== undefined, next: part?.next ?? hour.next };
    }
  }
  // `half ten this morning`: half past.
  const halfHour = first === "half" ? count(tokens, start + 1) : undefined;
  if (
    halfHour &&
    halfHour.value >= 1 &&
    halfHour.value <= 12 &&
    (said || DAY_NEXT.test(word(tokens, halfHour.next)))
  )
    return { minutes: halfHour.value * 60 + 30, sure: false, next: halfHour.next };
  if (isNumber(tokens, start) && tokens[start]?.whole) {
    const hours = tokens[start]?.value ?? 99;
    const mark = word(tokens, start + 1);
    const minute = tokens[start + 2];
    const tight = tokens[start + 1]?.glued === true && minute?.glued === true;
    if (
      (mark === ":" || (mark === "h" && (said || (at === 0 && hours >= FIRST_HOUR)))) &&
      tight &&
      minute?.whole &&
      minute.text.length === 2 &&
      word(tokens, start + 3) !== ":"
    )
      return clock(hours, minute.value, tokens, start + 3);
    if (half(tokens, start + 1)) return clock(hours, 0, tokens, start + 1);
    if (mark === "o'clock" || mark === "oclock") return clock(hours, 0, tokens, start + 2);
    // `at 0915 h1`.
    const digits = tokens[start]?.text ?? "";
    const four =
      /^([01]\d|2[0-3])[0-5]\d$/.test(digits) &&
      (digits.startsWith("0") || (at === 0 && HEAT_NEXT.test(mark) && hotLater(tokens, start + 1)));
    if (said && four) return clock(Math.floor(hours / 100), hours % 100, tokens, start + 1);
    // `at 2 it was 17x32x200`.
    const follows = mark === "it" || HEAT_NEXT.test(mark);
    const opening = at === 0 && said && hours >= 1 && hours <= 12 && follows;
    if (opening) return clock(hours, 0, tokens, start + 1);
    const apart = weighed && mark === "," && minute?.kind === "number";
    if ((afterDay || apart) && said && hours <= 24) return clock(hours, 0, tokens, start + 1);
  }
  const point = tokens[start];
  // `13.45 h12 905c`: a heat follows at once.
  const opened = at === 0 && HEAT_NEXT.test(word(tokens, start + 1));
  if (
    point?.kind === "number" &&
    (said || (opened && point.value >= FIRST_HOUR)) &&
    /^\d{1,2}\.[0-5]\d$/.test(point.text) &&
    (opened || !UNIT_OF_WORD.has(word(tokens, start + 1))) &&
    // `came in at 7.25 x 1.06`.
    !/^(x|by|\*|×)$/.test(word(tokens, start + 1)) &&
    !/^(%|"|°|thick|wide|long|deep|high|carbon)$/.test(word(tokens, start + 1))
  )
    return clock(Math.floor(point.value), Math.round((point.value % 1) * 100), tokens, start + 1);
  if (spoken && lead === undefined && spoken.value <= 12) {
    const after = word(tokens, spoken.next);
    if (after === "o'clock" || after === "oclock")
      return clock(spoken.value, 0, tokens, spoken.next + 1);
    if (half(tokens, spoken.next)) return clock(spoken.value, 0, tokens, spoken.next);
    // `this morning at nine forty degrees`: the heat, not the hour.
    if (afterDay && said && !isNumberWord(after))
      return clock(spoken.value, 0, tokens, spoken.next);
  }
  return undefined;
}
