/** A time of the day in words or figures, as it is said at the end of a day's work. */
import { ONES, TEENS, TENS } from "./vocabulary.js";

export interface ClockSaid {
  /** Since midnight, 0 to 1439. */
  readonly minute: number;
  /** The words it was said in. */
  readonly words: string;
  /** It can be nothing but a time: `at 7`, `19:00`, `7 pm`. */
  readonly marked: boolean;
}

const SMALL = new Map<string, number>([
  ...Object.entries(ONES),
  ...Object.entries(TEENS),
  ...Object.entries(TENS).filter(([, value]) => value <= 50),
  ["oh", 0],
  ["zero", 0],
]);
const ONE = [...SMALL.keys()].join("|");
/** `seven`, `twenty one`, `oh five`. */
const WORDS = `(?:${ONE})(?:[ -](?:${ONE}))?`;
const HALF = "(?:am|pm|a\\.?m\\.?|p\\.?m\\.?)";

const AT = "(?:(?<at>at|by|around|about|@) )?";
const CLOCKS: readonly RegExp[] = [
  new RegExp(`${AT}(?<named>noon|midday|midnight)\\b`),
  new RegExp(
    `${AT}(?<step>half|quarter|ten|twenty|five) (?<way>past|to) (?<hour>\\d{1,2}|${WORDS})(?: ?(?<half>${HALF}))?(?=\\s|$)`,
  ),
  new RegExp(
    `${AT}(?<!\\d)(?<hour>\\d{1,2})(?:[:.h](?<min>\\d\\d))?(?!\\d)h?(?: ?(?<half>${HALF})(?=\\s|$)| (?<sure>o'clock|h|hours)\\b)?`,
  ),
  new RegExp(
    `${AT}(?<!\\d)(?<run>\\d{3,4})(?!\\d)(?: ?(?<half>${HALF})(?=\\s|$)| (?<sure>hours|h)\\b)?`,
  ),
  new RegExp(`${AT}(?<hour>${WORDS}) hundred(?: (?<sure>hours))?\\b`),
  new RegExp(
    `${AT}(?<hour>${ONE})(?:[ -](?<min>${WORDS}))?(?: ?(?<half>${HALF})(?=\\s|$)| (?<sure>o'clock)\\b)?(?=\\s|$)`,
  ),
];
const STEPS: Readonly<Record<string, number>> = { half: 30, quarter: 15 };

/** The first time of day in lower-case words. `part`: morning, afternoon, evening or night, where it was said. */
export function clockIn(text: string, part: string | undefined): ClockSaid | undefined {
  for (const clock of CLOCKS) {
    const found = clock.exec(text);
    if (found === null) continue;
    const groups = found.groups ?? {};
    const minute = minuteOf(groups, part);
    if (minute === undefined) continue;
    const { at, half, min, named, step, sure } = groups;
    const marked = [at, half, named, step, sure].some((each) => each !== undefined);
    return { minute, words: found[0], marked: marked || (min !== undefined && /\d/.test(min)) };
  }
  return undefined;
}

type Groups = Readonly<Record<string, string | undefined>>;

function minuteOf(groups: Groups, part: string | undefined): number | undefined {
  const { half, hour, min, named, run, step, way } = groups;
  if (named !== undefined) return named === "midnight" ? 0 : 12 * 60;
  const [saidHour, saidMin] =
    run === undefined ? [hour ?? "", min] : [run.slice(0, -2), run.slice(-2)];
  let at = numberOf(saidHour);
  let minutes = saidMin === undefined ? 0 : numberOf(saidMin);
  if (at === undefined || minutes === undefined || at > 24 || minutes > 59) return undefined;
  if (half !== undefined && (at < 1 || at > 12)) return undefined;
  const exact = /^0\d/.test(saidHour) || run?.length === 4;
  at = wholeHour(at, half?.[0], exact ? "exact" : part);
  if (step !== undefined) {
    const by = STEPS[step] ?? numberOf(step) ?? 0;
    minutes = way === "past" ? by : -by;
  }
  return (at * 60 + minutes + 1440) % 1440;
}

/** An hour that could be either is one of the evening: a day's sheet closes the day. */
function wholeHour(hour: number, half: string | undefined, part: string | undefined): number {
  if (half === "a") return hour % 12;
  if (half === "p") return (hour % 12) + 12;
  if (part === "exact" || hour > 12 || hour === 0) return hour % 24;
  if (part === "morning") return hour % 12;
  if (hour === 12) return part === "night" || part === "evening" ? 0 : 12;
  return part === "night" && hour < 5 ? hour : hour + 12;
}

function numberOf(words: string): number | undefined {
  if (/^\d+$/.test(words)) return Number(words);
  const [first = "", second] = words.split(/[ -]/);
  const a = SMALL.get(first);
  if (a === undefined) return undefined;
  if (second === undefined) return a;
  const b = SMALL.get(second);
  if (b === undefined || b > 9 || (a !== 0 && a < 20)) return undefined;
  return a + b;
}
