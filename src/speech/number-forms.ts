/** The ways a figure is said, each with its share (common practice, no source), made of reading's number words. */
import { vocabulary } from "../language/index.js";

const { ONES, TEENS, TENS, ZEROS } = vocabulary;

const SMALL = new Map<number, string>();
for (const [word, value] of Object.entries({ ...TENS, ...TEENS, ...ONES })) {
  if (!SMALL.has(value)) SMALL.set(value, word);
}

export interface Form {
  readonly words: string;
  readonly share: number;
}

function below100(value: number): string {
  const known = SMALL.get(value);
  if (known !== undefined) return known;
  return `${SMALL.get(value - (value % 10))} ${SMALL.get(value % 10)}`;
}

const mixed = (rows: readonly (readonly [string, number])[]): Form[] =>
  rows.map(([words, share]) => ({ words, share }));

function wholeForms(value: number): Form[] {
  if (value === 0) return mixed([["zero", 1]]);
  if (value < 100) return mixed([[below100(value), 1]]);
  const hundreds = Math.floor(value / 100);
  const rest = value % 100;
  if (value >= 1000 && value < 1100) return thousandForms(rest);
  const lead = below100(hundreds);
  if (rest === 0) {
    if (hundreds === 1)
      return mixed([
        ["one hundred", 0.6],
        ["a hundred", 0.4],
      ]);
    return mixed([[`${lead} hundred`, 1]]);
  }
  const tail = below100(rest);
  const article = hundreds === 1 ? 0.1 : 0;
  const spelled = rest < 10 ? `${lead} oh ${tail}` : `${lead} ${tail}`;
  const forms: [string, number][] = [
    [spelled, 0.5],
    [`${lead} hundred and ${tail}`, 0.25 - article / 2],
    [`${lead} hundred ${tail}`, 0.25 - article / 2],
  ];
  if (article > 0) forms.push([`a hundred and ${tail}`, article]);
  return mixed(forms);
}

function thousandForms(rest: number): Form[] {
  if (rest === 0)
    return mixed([
      ["one thousand", 0.5],
      ["a thousand", 0.5],
    ]);
  const tail = below100(rest);
  // Reading takes `ten fifteen` for two figures.
  const compact: [string, number][] =
    rest > 9 && rest < 20 ? [] : [[rest < 10 ? `ten oh ${tail}` : `ten ${tail}`, 0.25]];
  return mixed([
    ...compact,
    [`one thousand and ${tail}`, 0.3],
    [`a thousand and ${tail}`, 0.3],
    [`one thousand ${tail}`, 0.1],
    [`a thousand ${tail}`, 0.05],
  ]);
}

const EIGHTHS: Readonly<Record<number, readonly string[]>> = {
  1: ["an eighth", "one eighth"],
  2: ["a quarter", "one quarter"],
  3: ["three eighths"],
  4: ["a half", "half"],
  5: ["five eighths"],
  6: ["three quarters"],
  7: ["seven eighths"],
};

/** Spelled so, never said so. */
const LETTER_O = "o";
/** The two usual ways to say nought. */
const NOUGHTS = ZEROS.split(", ")
  .filter((word) => word !== LETTER_O)
  .slice(0, 2);
/** Share of figures of three digits that are said digit by digit. Common practice, no source; 0.02 to 0.5. */
const SPELLED = 0.25;

/** The same few thousand figures come with every note. */
const kept = new Map<number, readonly Form[]>();

/** `value` whole, with one decimal, or (inches) with an eighth or a sixteenth. */
export function formsOf(value: number): readonly Form[] {
  const known = kept.get(value);
  if (known !== undefined) return known;
  const forms = made(value);
  kept.set(value, forms);
  return forms;
}

function made(value: number): Form[] {
  const whole = Math.floor(value + 1e-9);
  const part = value - whole;
  if (part < 1e-6) return wholeForms(whole);
  const eighth = EIGHTHS[part * 8];
  const sixteenths = part * 16;
  const forms: Form[] = [];
  const parts =
    eighth ??
    (Number.isInteger(sixteenths)
      ? [`${SMALL.get(sixteenths)} sixteenths`.replace("one sixteenths", "one sixteenth")]
      : []);
  const lead = whole === 0 ? "" : `${wholeForms(whole)[0]?.words} and `;
  for (const words of parts) forms.push({ words: lead + words, share: 0.8 / parts.length });
  const tenth = Math.round(part * 10);
  if (Math.abs(part * 10 - tenth) < 1e-6) {
    const digit = SMALL.get(tenth) ?? "zero";
    const point = whole === 0 ? ["zero point", "point"] : [`${wholeForms(whole)[0]?.words} point`];
    for (const words of point)
      forms.push({
        words: `${words} ${digit}`,
        share: (parts.length > 0 ? 0.6 : 1) / point.length,
      });
  }
  return forms;
}

/** As `formsOf`, and figures of three digits digit by digit too: how a figure alone is said, to be sure. */
export function formsAlone(value: number): readonly Form[] {
  const forms = formsOf(value);
  if (!Number.isInteger(value) || value < 100 || value > 999) return forms;
  const digits = [...String(value)].map((digit) =>
    digit === "0" ? NOUGHTS : [SMALL.get(Number(digit)) ?? ""],
  );
  const rows = digits.reduce<string[]>(
    (found, ways) => found.flatMap((row) => ways.map((way) => `${row} ${way}`.trim())),
    [""],
  );
  const known = new Set(forms.map(({ words }) => words));
  const spelled = rows.filter((words) => !known.has(words));
  return [
    ...forms.map(({ words, share }) => ({ words, share: share * (1 - SPELLED) })),
    ...spelled.map((words) => ({ words, share: SPELLED / spelled.length })),
  ];
}
