/** Every button of the bot: what it says and the code it carries. */
import type { Button, StoredAsk } from "../logbook/index.js";

/** Codes that begin so only ask: pressing them again answers again. */
export const ASKING_PREFIX = "q:";

const BUTTONS = {
  next: { label: "Next size", code: "q:next" },
  heat: { label: "Heat done", code: "heat" },
  crack: { label: "Crack", code: "crack" },
  undo: { label: "Undo", code: "undo" },
  plan: { label: "Full plan", code: "q:plan" },
  summary: { label: "Summary", code: "q:summary" },
  day: { label: "Day sheet", code: "q:day" },
  setup: { label: "Set up", code: "q:setup" },
} as const satisfies Record<string, Button>;

export type ButtonName = keyof typeof BUTTONS;
export const button = (name: ButtonName): Button => BUTTONS[name];

/** What stands under most replies while an ingot is in hand: two rows for a thumb. */
export const AT_THE_FIRE: readonly (readonly Button[])[] = [
  [BUTTONS.next, BUTTONS.heat],
  [BUTTONS.crack, BUTTONS.undo],
];

const ROW = 3;

/** A button a choice, three to a row. */
export function askButtons(ask: StoredAsk): Button[][] {
  const rows: Button[][] = [];
  for (const [index, choice] of ask.choices.entries()) {
    if (index % ROW === 0) rows.push([]);
    rows.at(-1)?.push({ label: choice.label, code: askCode(ask.id, index) });
  }
  return rows;
}

export const askCode = (askId: string, index: number): string => `a:${askId}:${index}`;

const MOST_MINUTE = 24 * 60 - 1;
/** When the day's sheet is to come by itself: minute of the day, or off. */
export const sheetHourButton = (minute: number | "off", label: string): Button => ({
  label,
  code: `sheet:${minute}`,
});
/** The sheet of that day, as the clock asks for it. */
export const sheetCode = (date: string): string => `${ASKING_PREFIX}sheet:${date}`;

export type Press =
  | { readonly press: "ask"; readonly askId: string; readonly index: number }
  | { readonly press: "sheet"; readonly date: string }
  | { readonly press: "sheet-hour"; readonly minute: number | "off" }
  | { readonly press: ButtonName };

/** What a code means, or undefined for one that is not ours. */
export function readCode(code: string): Press | undefined {
  const ask = /^a:([0-9a-zA-Z]{1,24}):(\d{1,2})$/.exec(code);
  if (ask?.[1] !== undefined) return { press: "ask", askId: ask[1], index: Number(ask[2]) };
  const date = /^q:sheet:(\d{4}-\d\d-\d\d)$/.exec(code)?.[1];
  if (date !== undefined) return { press: "sheet", date };
  const hour = /^sheet:(off|\d{1,4})$/.exec(code)?.[1];
  if (hour === "off") return { press: "sheet-hour", minute: "off" };
  if (hour !== undefined && Number(hour) <= MOST_MINUTE) {
    return { press: "sheet-hour", minute: Number(hour) };
  }
  const name = (Object.keys(BUTTONS) as ButtonName[]).find((key) => BUTTONS[key].code === code);
  return name === undefined ? undefined : { press: name };
}
