/** The hour at which a day's sheet comes by itself: what is said of it, and the button under a sheet. */

import { USUAL_MIN } from "../language/index.js";
import type { Button, SheetHour, Turn } from "../logbook/index.js";
import { sheetHourButton } from "./buttons.js";
import { clockOf, isOfDayBefore } from "./due-sheet.js";
import { RANK, type RankedLine } from "./lines.js";
import type { TurnInput } from "./turn-input.js";

type HourSaid = NonNullable<Turn["sheetHour"]>;

export function sheetHourLines({
  heard,
  incoming,
  timezone,
}: Pick<TurnInput, "heard" | "incoming" | "timezone">): RankedLine[] {
  const { sheetHour } = heard;
  if (sheetHour === undefined) return [];
  if (sheetHour === "off") return [line("Day sheet: only when you ask for it.", true)];
  const told = isOfDayBefore(sheetHour) ? ", of the day before" : "";
  const lines = [line(`Day sheet: every day at ${clockOf(sheetHour)}${told} (${timezone})`, true)];
  if (incoming.edge === "terminal") {
    return [...lines, line("A terminal is not written to by itself. Here, say: day sheet")];
  }
  return [...lines, line("Nothing comes on a day without work.")];
}

const line = (text: string, bold = false): RankedLine => ({
  rank: bold ? RANK.readBack : RANK.aside,
  text,
  ...(bold ? { bold } : {}),
});

/** What stands under a sheet and under the answer to such a wish. */
export function sheetHourRow(said: HourSaid | undefined, now: SheetHour | undefined): Button[] {
  const minute = said === undefined ? now?.minute : said === "off" ? undefined : said;
  return [
    minute === undefined
      ? sheetHourButton(USUAL_MIN, `Every day at ${clockOf(USUAL_MIN)}`)
      : sheetHourButton("off", "Day sheet off"),
  ];
}
