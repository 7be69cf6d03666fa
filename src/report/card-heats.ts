/** Heats in their order with their temperatures, inside or outside the window by place and by the shape of the mark. */
import { type ChatUnits, formatTemperature } from "../units/index.js";
import { INNER_WIDTH, MARGIN, type Page, type PathItem, SMALL, textItem } from "./drawing.js";
import type { CardHeat, CardHeats } from "./ingot-card.js";
import { at } from "./svg.js";

const CHART_HEIGHT = 190;
const AXIS_WIDTH = 108;
const NOT_SAID_ROW = 26;
/** Temperatures further from the window than this are drawn at the edge of the chart, K. */
const MOST_OFF_K = 150;
const PADDING_K = 30;
/** A night between two heats, h. */
const NIGHT_H = 6;

export function heatChart(page: Page, heats: CardHeats, units: ChatUnits): void {
  const { list, window } = heats;
  const temps = list.flatMap(({ tempC }) => tempC ?? []);
  const low = Math.max(Math.min(window.floorC, ...temps), window.floorC - MOST_OFF_K) - PADDING_K;
  const high =
    Math.min(Math.max(window.ceilingC, ...temps), window.ceilingC + MOST_OFF_K) + PADDING_K;
  const top = page.y + 8;
  const left = MARGIN + AXIS_WIDTH;
  const width = INNER_WIDTH - AXIS_WIDTH;
  const yOf = (tempC: number): number =>
    top + ((high - Math.min(Math.max(tempC, low), high)) / (high - low)) * CHART_HEIGHT;
  const step = width / Math.max(list.length, 1);
  const xOf = (index: number): number => left + (index + 0.5) * step;
  const radius = Math.max(2, Math.min(9, step * 0.4));
  const [ceilingY, floorY] = [yOf(window.ceilingC), yOf(window.floorC)];
  page.add(
    {
      item: "rect",
      x: left,
      y: ceilingY,
      width,
      height: floorY - ceilingY,
      fill: "light",
      stroke: "grey",
    },
    textItem(
      formatTemperature(window.ceilingC, units),
      left - 8,
      ceilingY + 8,
      AXIS_WIDTH - 8,
      SMALL,
      "end",
    ),
    textItem(
      formatTemperature(window.floorC, units),
      left - 8,
      floorY + 8,
      AXIS_WIDTH - 8,
      SMALL,
      "end",
    ),
  );
  const rowHeight = temps.length < list.length ? NOT_SAID_ROW : 0;
  const noneY = top + CHART_HEIGHT + rowHeight / 2;
  for (const [index, heat] of list.entries()) {
    const before = list[index - 1];
    if (before !== undefined && hoursBetween(before, heat) >= NIGHT_H) {
      const x = at(left + index * step);
      const d = `M${x} ${at(top)}L${x} ${at(top + CHART_HEIGHT + rowHeight)}`;
      page.add({ item: "path", d, fill: "none", stroke: "grey", dashed: true, strokeWidth: 2 });
    }
    const y = heat.tempC === undefined ? noneY : yOf(heat.tempC);
    page.add(heatMark(heat, xOf(index), y, radius));
  }
  page.skip(CHART_HEIGHT + rowHeight + 8);
  const baseline = page.y + SMALL.size;
  const [first, last] = [list[0], list.at(-1)];
  const half = width / 2;
  if (first !== undefined) {
    page.add(textItem(`heat ${first.number}`, left, baseline, half, SMALL));
  }
  if (last !== undefined && list.length > 1) {
    page.add(textItem(`heat ${last.number}`, left + width, baseline, half, SMALL, "end"));
  }
  page.skip(SMALL.size + 8);
  page.write(markLegend(list), SMALL);
}

const hoursBetween = (a: CardHeat, b: CardHeat): number =>
  (Date.parse(b.at) - Date.parse(a.at)) / 3_600_000;

/** Dot inside, triangle up too hot, triangle down too cold, ring without a temperature. */
export function heatMark(
  { where }: Pick<CardHeat, "where">,
  x: number,
  y: number,
  radius: number,
): PathItem {
  const r = where === "over" || where === "under" ? radius * 1.4 : radius;
  const tip = where === "over" ? -r : r;
  if (where === "over" || where === "under") {
    const d = `M${at(x)} ${at(y + tip)}L${at(x - r)} ${at(y - tip)}L${at(x + r)} ${at(y - tip)}Z`;
    return { item: "path", d, fill: "ink", stroke: "ink", strokeWidth: 1 };
  }
  const d = `M${at(x - r)} ${at(y)}A${at(r)} ${at(r)} 0 1 1 ${at(x + r)} ${at(y)}A${at(r)} ${at(r)} 0 1 1 ${at(x - r)} ${at(y)}Z`;
  return {
    item: "path",
    d,
    fill: where === "inside" ? "ink" : "none",
    stroke: "ink",
    strokeWidth: 2,
  };
}

/** What the marks mean, with how many there are of each. */
export function markLegend(list: readonly Pick<CardHeat, "where">[]): string {
  const count = (where: CardHeat["where"]): number =>
    list.filter((heat) => heat.where === where).length;
  const parts = [
    `dot: ${count("inside")} inside`,
    count("over") > 0 ? `point up: ${count("over")} too hot` : undefined,
    count("under") > 0 ? `point down: ${count("under")} too cold` : undefined,
    count("not-said") > 0 ? `ring: ${count("not-said")} not said` : undefined,
  ];
  return parts.filter((part) => part !== undefined).join(" · ");
}
