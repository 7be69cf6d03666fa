/** The day's sheet as one picture: the fire by the clock, then what was melted, forged, lost and finished. */
import type { ChatUnits } from "../units/index.js";
import { heatMark, markLegend } from "./card-heats.js";
import { clockIn } from "./day-bounds.js";
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
import { type Drawing, INNER_WIDTH, MARGIN, Page, SMALL, TEXT, textItem } from "./drawing.js";
import type { HeatWhere } from "./ingot-card.js";
import { at } from "./svg.js";

/** Rows of one kind beyond this many are counted, not written. */
const MOST_ROWS = 30;

export function dayPicture(sheet: DaySheet, units: ChatUnits): Drawing {
  const page = new Page();
  page.write(dateLabel(sheet.date), { size: 40, bold: true });
  const fire = joined(fireParts(sheet));
  const empty = fire === "" && sheet.melts.length === 0 && sheet.ingots.length === 0;
  page.write(empty ? "Nothing logged on this day." : fire === "" ? "No heats." : fire);
  fireChart(page, sheet);
  const rows: readonly (readonly [string, readonly string[]])[] = [
    ["Melts", sheet.melts.map((melt) => joined(meltParts(melt, units)))],
    ["Ingots", sheet.ingots.map((ingot) => joined(ingotParts(ingot, units)))],
    ["Cracks", sheet.cracks.map((crack) => crackText(crack, units))],
    ["Blades done", sheet.blades.map((blade) => joined(bladeParts(blade, units)))],
    ["Steel lost", [joined(lossParts(sheet, units).slice(1))]],
    ["Next", sheet.ingots.map((ingot) => nextText(ingot, units)?.replace(/^Next, /, "") ?? "")],
    ["To order: used today", [joined(orderParts(sheet, units).slice(1))]],
  ];
  for (const [title, lines] of rows) {
    const there = lines.filter((line) => line !== "");
    if (there.length === 0) continue;
    page.section(title);
    for (const line of there.slice(0, MOST_ROWS)) {
      page.write(line.replace(/^(MELT|INGOT|BLADE of) /, (word) => word.toLowerCase()).trim());
      page.skip(4);
    }
    if (there.length > MOST_ROWS) page.write(`… and ${there.length - MOST_ROWS} more`, SMALL);
  }
  return page.drawing(`Sheet of ${dateLabel(sheet.date)}`);
}

const NAME_WIDTH = 150;
const ROW = 44;
/** Heats outside the window stand over or under the line, so that they show in a crowd. */
const ASIDE = { inside: 0, over: -11, under: 11, "not-said": 0 } as const satisfies Record<
  HeatWhere,
  number
>;
/** Half a mark's width: smaller where many heats share the line. */
const radiusOf = ({ length }: { readonly length: number }): number =>
  Math.max(2, Math.min(7, 200 / length));
const HOUR_MS = 3_600_000;
const MOST_TICKS = 6;

/** One row an ingot, a mark a heat where the clock stood. */
function fireChart(page: Page, { fire, ingots, timezone }: DaySheet): void {
  const rows = ingots.filter(({ marks }) => marks.length > 0).slice(0, MOST_ROWS);
  if (fire === undefined || rows.length === 0) return;
  page.section("At the fire");
  const from = Math.floor(Date.parse(fire.from) / HOUR_MS) * HOUR_MS;
  const to = Math.ceil((Date.parse(fire.to) + 1) / HOUR_MS) * HOUR_MS;
  const left = MARGIN + NAME_WIDTH;
  const width = INNER_WIDTH - NAME_WIDTH - 12;
  const xOf = (ms: number): number => left + ((ms - from) / (to - from)) * width;
  const top = page.y;
  for (const { marks, name } of rows) {
    const middle = page.y + ROW / 2;
    page.add(
      textItem(name, MARGIN, middle + 9, NAME_WIDTH - 14, TEXT),
      {
        item: "path",
        d: `M${at(left)} ${at(middle)}H${at(left + width)}`,
        fill: "none",
        stroke: "grey",
        strokeWidth: 1,
      },
      ...marks.map((mark) =>
        heatMark(mark, xOf(Date.parse(mark.at)), middle + ASIDE[mark.where], radiusOf(marks)),
      ),
    );
    page.skip(ROW);
  }
  const hours = (to - from) / HOUR_MS;
  const every = Math.ceil(hours / MOST_TICKS);
  for (let hour = 0; hour <= hours; hour += every) {
    const x = xOf(from + hour * HOUR_MS);
    const d = `M${at(x)} ${at(top)}V${at(page.y)}`;
    page.add(
      { item: "path", d, fill: "none", stroke: "grey", dashed: true, strokeWidth: 1 },
      textItem(
        clockIn(new Date(from + hour * HOUR_MS).toISOString(), timezone),
        Math.min(x, MARGIN + INNER_WIDTH - 30),
        page.y + SMALL.size,
        80,
        SMALL,
        "middle",
      ),
    );
  }
  page.skip(SMALL.size + 10);
  page.write(markLegend(rows.flatMap(({ marks }) => marks)), SMALL);
}

const joined = (parts: readonly (string | false | undefined)[]): string =>
  parts.filter((part) => typeof part === "string" && part !== "").join(" · ");
