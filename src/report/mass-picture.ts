/** Where each gram went, as one bar and a list with the same fillings. */
import { type ChatUnits, formatMass } from "../units/index.js";
import { massStepG, partLabel } from "./card-words.js";
import { type Fill, INNER_WIDTH, MARGIN, type Page, TEXT, textItem } from "./drawing.js";
import type { IngotCard } from "./ingot-card.js";
import { type PartKind, roundedParts } from "./mass-bar.js";

const PART_FILLS: Readonly<Record<PartKind, Fill>> = {
  blade: "ink",
  left: "dark",
  pipe: "cross",
  cut: "upright",
  punched: "dots",
  chiselled: "rising",
  ground: "falling",
  filed: "falling",
  taken: "level",
  scale: "grey",
  unweighed: "light",
  surplus: "none",
};
const BAR_HEIGHT = 52;
const SWATCH = 30;
const ROW = 40;

export function massPicture(page: Page, card: IngotCard, units: ChatUnits): void {
  const { mass } = card;
  if (mass === undefined) return;
  page.section("Where the steel went");
  page.skip(6);
  bar(page, mass.parts, mass.totalG);
  const { partsG, totalG } = roundedParts(mass, massStepG(units));
  for (const [index, { approx, kind }] of mass.parts.entries()) {
    const massG = partsG[index] ?? 0;
    const y = page.y + 6;
    page.add({
      item: "rect",
      x: MARGIN,
      y,
      width: SWATCH,
      height: SWATCH,
      fill: PART_FILLS[kind],
      stroke: "ink",
      dashed: kind === "surplus",
    });
    const label = `${partLabel(kind, card.finishedAt !== undefined)}${approx ? ", about" : ""}`;
    const baseline = y + SWATCH - 6;
    row(page, baseline, label, formatMass(massG, units), `${Math.round((100 * massG) / totalG)} %`);
    page.skip(ROW);
  }
  const basis = {
    weighed: "ingot, weighed",
    first: "at the first weighing and before",
    sizes: "by its sizes",
  };
  row(page, page.y + SWATCH, basis[mass.basis], formatMass(totalG, units), "");
  page.skip(ROW);
  if (card.loss !== undefined) {
    const { fraction, heats, lostG } = card.loss;
    const share = Math.round(fraction * 1000) / 10;
    page.write(
      `Loss ${share} % a heat · ${formatMass(lostG / heats, units)} a heat, from ${heats} ${heats === 1 ? "heat" : "heats"}`,
    );
  }
}

const SHARE_WIDTH = 80;
const MASS_WIDTH = 170;

function row(page: Page, y: number, label: string, mass: string, share: string): void {
  const left = MARGIN + SWATCH + 14;
  const right = MARGIN + INNER_WIDTH;
  const labelWidth = right - SHARE_WIDTH - MASS_WIDTH - left;
  page.add(
    textItem(label, left, y, labelWidth, TEXT),
    textItem(mass, right - SHARE_WIDTH, y, MASS_WIDTH - 10, TEXT, "end"),
    textItem(share, right, y, SHARE_WIDTH - 10, TEXT, "end"),
  );
}

/** Parts side by side in their proportion; what is below zero is drawn back over the end. */
function bar(
  page: Page,
  parts: readonly { readonly kind: PartKind; readonly massG: number }[],
  totalG: number,
): void {
  const allG = Math.max(
    totalG,
    parts.reduce((sum, { massG }) => sum + Math.max(0, massG), 0),
  );
  let x = MARGIN;
  for (const { kind, massG } of parts) {
    const width = (Math.abs(massG) / allG) * INNER_WIDTH;
    const back = massG < 0;
    page.add({
      item: "rect",
      x: back ? x - width : x,
      y: page.y,
      width,
      height: BAR_HEIGHT,
      fill: PART_FILLS[kind],
      stroke: "ink",
      dashed: back,
    });
    if (!back) x += width;
  }
  page.skip(BAR_HEIGHT + 8);
}
