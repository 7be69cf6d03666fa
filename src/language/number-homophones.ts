/** Words that speech confuses with numbers (`too more heats`, `to mil deep`, `twenty for wide`): the number where nothing else makes sense. */
import { isNumberWord } from "./spoken.js";
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD } from "./units.js";
import { NUMBER_CONFUSIONS, TENS } from "./vocabulary.js";

const NUMBERS = ["", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
/** What follows a unit when the word before it was a number: `to mil deep`, `for grams off`. */
const AFTER_UNIT = /^(deep|long|wide|thick|high|tall|across|off|crack|lost|gone|ago|hole|whole)$/;
const isNumber = (token: Token | undefined): boolean =>
  token?.kind === "number" || isNumberWord(token?.text ?? "");

/** The token as the number that was said, or undefined if the word may stand for itself. */
export function numberMeantAt(tokens: readonly Token[], at: number): Token | undefined {
  const token = tokens[at];
  if (token === undefined || !Object.hasOwn(NUMBER_CONFUSIONS, token.text)) return undefined;
  if (tokens[at - 1]?.kind === "number") return undefined;
  const value = NUMBER_CONFUSIONS[token.text] ?? 0;
  const word = NUMBERS[value];
  const before = tokens[at - 1]?.text ?? "";
  const [next, after] = [tokens[at + 1], tokens[at + 2]];
  // As a figure, so that the next one does not run into it: `melt ate fifty nine across`.
  if (/^(ate|won|fore|tree)$/.test(token.text) && /^(melt|ingot)$/.test(before))
    return { ...token, kind: "number", text: String(value), value, whole: true };
  const meant =
    behind(tokens, at, before) ||
    measured(next, after) ||
    counted(token, next, after, before) ||
    ended(token, next, before) ||
    parted(token, next, after, tokens[at + 3]);
  return word && meant ? { ...token, text: word } : undefined;
}

const isUnit = (token: Token | undefined): boolean =>
  token !== undefined && token.text.length > 1 && UNIT_OF_WORD.has(token.text);

/** `twenty for wide`, `seven hundred and for grams`, `20 by thirty for`: the end of a number. */
function behind(tokens: readonly Token[], at: number, before: string): boolean {
  const next = tokens[at + 1];
  const tens = TENS[before] !== undefined;
  const hundred = before === "and" && /^(hundred|thousand)$/.test(tokens[at - 2]?.text ?? "");
  const closed = next === undefined || CLOSES.test(next.text) || UNIT_OF_WORD.has(next.text);
  if ((tens && closed && next !== undefined) || (hundred && closed)) return true;
  const listed = before === "by" && next === undefined;
  return listed || (tens && next === undefined && tokens.some((one) => one.text === "by"));
}
const CLOSES = /^(deep|wide|high|thick|long|tall|across|off|by|bowl|puck|cone|and|,)$/;

/** `to mil deep`, `for grams off`. */
const measured = (next: Token | undefined, after: Token | undefined): boolean =>
  isUnit(next) && next?.text !== "in" && AFTER_UNIT.test(after?.text ?? "");

/** `too more heats`, `an ate mill hole`, `soaked for for minutes`, `to blades`, `by won eighty`, `melt for cooled`. */
function counted(
  token: Token,
  next: Token | undefined,
  after: Token | undefined,
  before: string,
): boolean {
  const text = next?.text ?? "";
  if (text === "more" && after?.text === "heats") return true;
  if (/^(an?)$/.test(before) && isUnit(next)) return true;
  if (HELD.test(before) && UNIT_OF_WORD.get(text) === "min") return true;
  if (/^(to|too)$/.test(token.text) && /^(blades|knives|daggers)$/.test(text)) return true;
  if (token.text === "won" && before === "by" && isNumber(next)) return true;
  return (
    before === "melt" &&
    token.text !== "to" &&
    /^(cooled|peak|peaked|held|at|charge|was|is)$/.test(text)
  );
}
const HELD = /^(for|about|took|held|soaked|holding|soaking|hold)$/;

/** `ate deep`, `trimmed for off`, `thickness for`, `undo the last to`, `filed off too grams`. */
function ended(token: Token, next: Token | undefined, before: string): boolean {
  const text = next?.text ?? "";
  if (
    /^(ate|won|tree|fore)$/.test(token.text) &&
    /^(off|across|deep|long|wide|thick|high|by|x)$/.test(text)
  )
    return true;
  if (text === "off" && token.text !== "to" && TAKEN_BEFORE.test(before)) return true;
  if (
    /^(to|for|fore)$/.test(token.text) &&
    /^(deep|wide|high|thick)$/.test(text) &&
    !isNumberWord(before)
  )
    return true;
  if (next === undefined) return /^(thickness|width|height|depth|length|last)$/.test(before);
  return (
    /^(off|of|lost|away|about|another)$/.test(before) && UNIT_OF_WORD.has(text) && text.length > 2
  );
}
const TAKEN_BEFORE = /(ed|cut|ground|sawn|took|lost|and)$/;

/** `won and a quarter`. */
const parted = (
  token: Token,
  next: Token | undefined,
  after: Token | undefined,
  third: Token | undefined,
): boolean =>
  !/^(to|too|for)$/.test(token.text) &&
  next?.text === "and" &&
  after?.text === "a" &&
  /^(half|quarter|third)$/.test(third?.text ?? "");
