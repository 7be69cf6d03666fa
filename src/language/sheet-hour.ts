/**
 * A whole message that says when the day's sheet is to come by itself: `day sheet at 19:00`, `sheet every day at six
 * pm`, `day sheet off`. It records nothing: no entry has a field for it.
 */
import { clockIn } from "./clock-words.js";

const SHEET = /\b(?:the |a |my |our |any |more )*(?:daily |day'?s? ?)?sheets?\b/g;
const ABOUT = /\b(?:day'?s? ?|daily )sheets?\b/;
const OFTEN =
  /\b(?:(?:every|each) (?:single )?(?:day|evening|night|morning|afternoon)|daily|nightly|every time|always|from now on|by itself|automatically)\b/g;
const PART = /\b(?:every|each|in the|at|this) (?:single )?(morning|evening|night|afternoon)\b/;
const OFF =
  /\b(?:off|stop|no more|no|never|don't|do not|cancel|any more|anymore|no longer|disable|without|end)\b/;
/** What may stand around it. */
const TALK =
  /\b(?:please|can|could|will|would|you|i|i'd|want|like|to|have|get|let|give|send|sending|sent|sends|show|post|print|bring|set|turn|switch|me|us|it|in|the|on|a|at|of|by|with|thanks|thank|off|stop|no|more|never|don't|do|not|cancel|any|anymore|longer|disable|without|end|need|come|comes|morning|evening|night|afternoon|day)\b/g;

/** A wish of this kind is short; anything longer is something else. */
const LONGEST = 150;

/** The minute of the day, 0 to 1439, `off`, or undefined for a message about anything else. */
export function sheetHourIn(message: string): number | "off" | undefined {
  if (message.length > LONGEST) return undefined;
  const words = message
    .toLowerCase()
    .replace(/[’‘]/g, "'")
    .replace(/^\s*\//, "")
    .replace(/[\s,]+/g, " ")
    .replace(/[.!?]+\s*$/, "")
    .trim();
  const label = /^every day at (\d{1,2}):(\d\d)$/.exec(words);
  if (label === null && !SHEET.test(words)) return undefined;
  SHEET.lastIndex = 0;
  const often = words.search(OFTEN) >= 0;
  const part = PART.exec(words)?.[1];
  const bare = words.replace(SHEET, " ").replace(OFTEN, " ").replace(/\s+/g, " ").trim();
  const clock = clockIn(bare, part);
  if (clock !== undefined) {
    const marked = often || clock.marked || label !== null;
    return marked && isTalk(bare.replace(clock.words, " ")) && !OFF.test(bare)
      ? clock.minute
      : undefined;
  }
  if (!isTalk(bare)) return undefined;
  if (OFF.test(bare) && (ABOUT.test(words) || often)) return "off";
  return often || / on$/.test(words) ? USUAL_MIN : undefined;
}

/** Where only `every evening` was said. Common practice, no source; 17 to 21 h. */
export const USUAL_MIN = 19 * 60;

const isTalk = (words: string): boolean => words.replace(TALK, " ").trim() === "";
