/** The day's sheet as plain text, in short lines. */
import type { ChatUnits } from "../units/index.js";
import type { DaySheet } from "./day-sheet.js";
import {
  bladeParts,
  crackText,
  dateLabel,
  fireParts,
  ingotParts,
  lossParts,
  meltParts,
  nextText,
  orderParts,
} from "./day-text.js";
import { dotted, wrapped } from "./lines.js";

export function dayWords(sheet: DaySheet, units: ChatUnits): string {
  const blocks = [
    [`DAY ${dateLabel(sheet.date)}`, ...dotted(fireParts(sheet))],
    sheet.melts.flatMap((melt) => dotted(meltParts(melt, units), "  ")),
    sheet.ingots.flatMap((ingot) => dotted(ingotParts(ingot, units), "  ")),
    sheet.cracks.flatMap((crack) => wrapped(crackText(crack, units), "  ")),
    sheet.blades.flatMap((blade) => dotted(bladeParts(blade, units), "  ")),
    dotted(lossParts(sheet, units), "  "),
    sheet.ingots.flatMap((ingot) => wrapped(nextText(ingot, units) ?? "", "  ")),
    dotted(orderParts(sheet, units), "  "),
  ];
  const filled = blocks.filter((lines) => lines.length > 0);
  if (filled.length === 1 && sheet.heats === 0) {
    return [...(filled[0] ?? []), "Nothing logged on this day."].join("\n");
  }
  return filled.map((lines) => lines.join("\n")).join("\n\n");
}
