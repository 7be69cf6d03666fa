/** The ingot's card as one picture, phone wide. */
import {
  type ChatUnits,
  formatLength,
  formatMass,
  formatPercent,
  formatTemperature,
} from "../units/index.js";
import { heatChart } from "./card-heats.js";
import { ingotSection, stageRows } from "./card-shapes.js";
import { crackWords, openWords } from "./card-words.js";
import { type Drawing, INNER_WIDTH, Page, SMALL, STRONG } from "./drawing.js";
import type { IngotCard } from "./ingot-card.js";
import { asMeasured, bladeSize, carbonLabel, routeLabel, sizeLabel } from "./labels.js";
import { massPicture } from "./mass-picture.js";
import { type TextStyle, textWidth } from "./text-width.js";

/** Notes and cracks beyond this many are counted, not drawn. */
const MOST_LISTED = 12;

export function cardPicture(card: IngotCard, units: ChatUnits): Drawing {
  const page = new Page();
  heading(page, card, units);
  ingotSection(page, card, units);
  stageRows(page, card, units);
  heatSection(page, card, units);
  if (card.cracks.length > 0) {
    page.section("Cracks");
    const lines = card.cracks.map((crack, index) => `${index + 1}. ${crackWords(crack, units)}`);
    listed(page, lines, "cracks");
  }
  if (card.mass !== undefined) massPicture(page, card, units);
  endSection(page, card, units);
  return page.drawing(`Card of ingot ${card.name}`);
}

function listed(page: Page, lines: readonly string[], what: string): void {
  for (const line of lines.slice(0, MOST_LISTED)) page.write(line);
  const more = lines.length - MOST_LISTED;
  if (more > 0) page.write(`… and ${more} more ${what}`, SMALL);
}

const HEAD = { size: 40, bold: true } as const;
/** A name of one long word is written smaller rather than cut. */
const headStyle = (name: string): TextStyle =>
  name.split(" ").some((word) => textWidth(word, HEAD) > INNER_WIDTH)
    ? { ...HEAD, size: 26 }
    : HEAD;

function heading(page: Page, card: IngotCard, units: ChatUnits): void {
  const { blades, goal, ingot } = card;
  page.write(`Ingot ${card.name}`, headStyle(card.name));
  const state =
    blades.length === 0
      ? openWords(card)
      : blades.length === 1
        ? "blade done"
        : `${blades.length} blades`;
  const route = card.route === undefined ? undefined : routeLabel(card.route);
  page.write(
    joined([
      state,
      blades.length > 0 && card.givenUpAt !== undefined ? "given up after that" : undefined,
      ingot.massG === undefined ? undefined : formatMass(ingot.massG, units),
      carbonLabel(card),
      ingot.melt === undefined ? undefined : `melt ${ingot.melt}`,
      card.voidPct !== undefined && card.voidPct >= 1
        ? `${formatPercent(card.voidPct)} void`
        : undefined,
    ]),
  );
  if (goal !== undefined) {
    const size = sizeLabel(bladeSize(goal), units);
    page.write(
      `Goal: ${joined([
        goal.edge === undefined ? undefined : `${goal.edge} edge`,
        size === "" ? undefined : size,
        goal.tangLengthMm === undefined
          ? undefined
          : `tang ${formatLength(goal.tangLengthMm, units)}`,
        goal.count === undefined || goal.count === 1 ? undefined : `${goal.count} blades`,
      ])}`,
    );
  }
  if (route !== undefined) page.write(`Route: ${route}`);
}

function heatSection(page: Page, card: IngotCard, units: ChatUnits): void {
  const { count, list, saidMin, told, window } = card.heats;
  if (count === 0) return;
  const planned = card.planned?.heats;
  page.section(`Heats: ${count}`);
  page.write(
    joined([
      `window ${formatTemperature(window.floorC, units)} to ${formatTemperature(window.ceilingC, units)}`,
      planned === undefined
        ? undefined
        : `planned ${Math.round(planned.low)} to ${Math.round(planned.high)}`,
      told < count ? `${told} told of` : undefined,
      saidMin === undefined ? undefined : `${Math.round(saidMin)} min said`,
    ]),
    SMALL,
  );
  if (list.length > 0) heatChart(page, card.heats, units);
}

function endSection(page: Page, card: IngotCard, units: ChatUnits): void {
  const pattern = card.planned?.pattern;
  if (card.blades.length > 0) {
    page.section(card.blades.length === 1 ? "Blade" : "Blades");
    for (const blade of card.blades) {
      page.write(
        joined([
          sizeLabel(bladeSize(blade), asMeasured(units)),
          blade.tangLengthMm === undefined
            ? undefined
            : `tang ${formatLength(blade.tangLengthMm, units)}`,
          blade.massG === undefined ? undefined : formatMass(blade.massG, units),
        ]) || "done, not measured",
        STRONG,
      );
    }
  }
  if (pattern !== undefined) {
    page.section("Pattern, as planned");
    page.write(
      `${Math.round(pattern.cellsThickness)} growth cells through the blade, bands ${Math.round(pattern.bandThicknessUm)} µm`,
    );
  }
  if (card.notes.length > 0) {
    page.section("Notes");
    listed(page, card.notes, "notes");
  }
}

const joined = (parts: readonly (string | undefined)[]): string =>
  parts.filter((part) => part !== undefined && part !== "").join(" · ");
