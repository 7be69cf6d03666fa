/** The ingot cut open with its pipe zone, and every stage to one scale, planned beside measured, cracks where they came. */
import { type ChatUnits, formatLength } from "../units/index.js";
import type { CardPipe, CardStage } from "./card-stages.js";
import {
  extentOf,
  INNER_WIDTH,
  MARGIN,
  PAGE_WIDTH,
  type Page,
  SMALL,
  STRONG,
  TEXT,
  textItem,
} from "./drawing.js";
import type { CardCrack, IngotCard } from "./ingot-card.js";
import { asMeasured, type CardSize, routeLabel, sizeLabel } from "./labels.js";
import { at } from "./svg.js";

const SECTION_HEIGHT = 170;
const SECTION_WIDTH = 300;

/** Outline of the ingot from the side, the pipe zone hatched where it was measured or planned. */
export function ingotSection(page: Page, card: IngotCard, units: ChatUnits): void {
  const { ingot, pipeTakenAs, planned } = card;
  const { diameterMm, heightMm, shape = "bowl" } = ingot;
  if (diameterMm === undefined || heightMm === undefined) return;
  page.section("The ingot cut open");
  const scale = Math.min(SECTION_WIDTH / diameterMm, SECTION_HEIGHT / heightMm);
  const [w, h] = [diameterMm * scale, heightMm * scale];
  const [x, y] = [MARGIN, page.y + 4];
  const foot = (ingot.bottomDiameterMm ?? (shape === "puck" ? diameterMm : 0)) * scale;
  const inset = (w - foot) / 2;
  const d =
    shape === "bowl" && ingot.bottomDiameterMm === undefined
      ? bowl(x, y, w, h)
      : `M${at(x)} ${at(y)}H${at(x + w)}L${at(x + w - inset)} ${at(y + h)}H${at(x + inset)}Z`;
  page.add({ item: "path", d, fill: "light", stroke: "ink", strokeWidth: 3 });
  const depthMm = ingot.pipeDepthMm ?? pipeTakenAs?.depthMm;
  const acrossMm =
    ingot.pipeDiameterMm ??
    pipeTakenAs?.diameterMm ??
    (depthMm === undefined ? undefined : depthMm * 0.7);
  const measured = ingot.pipeDepthMm !== undefined;
  if (depthMm !== undefined && acrossMm !== undefined) {
    const [pw, ph] = [Math.min(acrossMm * scale, w), Math.min(depthMm * scale, h)];
    const px = x + (w - pw) / 2;
    const pipe = `M${at(px)} ${at(y)}H${at(px + pw)}L${at(px + pw / 2)} ${at(y + ph)}Z`;
    page.add({
      item: "path",
      d: pipe,
      fill: "cross",
      stroke: "ink",
      strokeWidth: 2,
      ...(measured ? {} : { dashed: true }),
    });
  }
  const textX = MARGIN + SECTION_WIDTH + 20;
  const width = MARGIN + INNER_WIDTH - textX;
  const lines = [
    sizeLabel({ shape: "disc", diameterMm, heightMm }, units),
    measured ? undefined : "pipe not measured",
    depthMm === undefined
      ? undefined
      : `${measured ? "pipe" : "taken as"} ${formatLength(depthMm, units)} deep`,
    depthMm === undefined || (measured && ingot.pipeDiameterMm === undefined)
      ? undefined
      : `${formatLength(acrossMm ?? 0, units)} across, hatched`,
    planned === undefined ? undefined : routeLabel(planned),
  ].filter((line) => line !== undefined);
  for (const [index, line] of lines.entries()) {
    page.add(textItem(line, textX, y + 26 + index * 36, width, TEXT));
  }
  page.skip(Math.max(h, lines.length * 36) + 12);
}

/** Up to a half ball a cap, above that a half ball with a straight part. */
function bowl(x: number, y: number, w: number, h: number): string {
  const round = Math.min(h, w / 2);
  const straight = h - round;
  const radius = ((w / 2) ** 2 + round ** 2) / (2 * round);
  const r = at(radius);
  return `M${at(x)} ${at(y)}H${at(x + w)}V${at(y + straight)}A${r} ${r} 0 0 1 ${at(x)} ${at(y + straight)}Z`;
}

const MOST_ROWS = 8;
const LABEL_ROOM = 32;

/** One row a stage: measured drawn full, planned as a dashed outline, both from the tang end. */
export function stageRows(page: Page, card: IngotCard, units: ChatUnits): void {
  const { stages } = card;
  if (stages.length === 0) return;
  const shown =
    stages.length > MOST_ROWS
      ? [...stages.slice(0, 2), ...stages.slice(2 - MOST_ROWS)]
      : [...stages];
  page.section("Stages, to one scale");
  page.write("full: measured · dashed: planned · hatched: pipe zone as planned", SMALL);
  const longest = Math.max(...shown.flatMap(sizesOf).map((size) => across(size).long), 1);
  const scale = INNER_WIDTH / longest;
  let from = 0;
  const last = shown.findLastIndex(({ measured }) => measured !== undefined);
  for (const [index, stage] of shown.entries()) {
    if (index === 2 && shown.length < stages.length) {
      page.write(`… ${stages.length - shown.length} more sizes not drawn`, SMALL);
      from = (stages[stages.length - MOST_ROWS + 1]?.measured?.afterHeats ?? from) || from;
    }
    from = stageRow({ page, card, units, scale }, stage, from, index === last);
  }
}

const sizesOf = ({ measured, planned }: CardStage): readonly CardSize[] =>
  [measured?.size, planned].filter((size) => size !== undefined);

/** Seen from the broad side: length by width; round pieces by their diameter, seen from the rim. */
function across(size: CardSize): { readonly long: number; readonly high: number } {
  if (size.diameterMm !== undefined || size.shape === "disc" || size.shape === "ring") {
    return { long: size.diameterMm ?? 0, high: size.heightMm ?? 0 };
  }
  return { long: size.lengthMm ?? 0, high: size.widthMm ?? size.thicknessMm ?? 0 };
}

interface RowContext {
  readonly page: Page;
  readonly card: IngotCard;
  readonly units: ChatUnits;
  /** Picture units a mm. */
  readonly scale: number;
}

/** Draws a stage; gives the heats done by its end, so that the next one shows the cracks after them. */
function stageRow(
  { card, page, scale, units }: RowContext,
  stage: CardStage,
  from: number,
  lastMeasured: boolean,
): number {
  const { measured, name, planned } = stage;
  const label = [
    name ?? measured?.size.shape ?? "",
    measured === undefined ? "planned only" : sizeLabel(measured.size, asMeasured(units)),
    measured !== undefined && measured.size.shape !== "blade" && measured.afterHeats > 0
      ? `heat ${measured.afterHeats}`
      : "",
  ]
    .filter((part) => part !== "")
    .join(" · ");
  page.skip(LABEL_ROOM);
  page.add(textItem(label, MARGIN, page.y, INNER_WIDTH, measured === undefined ? TEXT : STRONG));
  if (planned !== undefined) {
    page.skip(28);
    page.add(textItem(`planned ${sizeLabel(planned, units)}`, MARGIN, page.y, INNER_WIDTH, SMALL));
  }
  page.skip(10);
  const heights = sizesOf(stage).map((size) => across(size).high * scale);
  const height = Math.max(...heights, 4);
  const top = page.y;
  const double = card.goal?.edge === "double";
  if (measured !== undefined) piece(page, measured.size, top, scale, double, false);
  if (planned !== undefined) piece(page, planned, top, scale, double, true);
  // Once the pipe was taken out it is shown on the plan alone.
  const out = measured !== undefined && measured.afterHeats > (card.pipeOutAfterHeats ?? Infinity);
  const drawn = out ? planned : (measured?.size ?? planned);
  if (stage.pipeLies !== undefined && drawn !== undefined) {
    zone(page, stage.pipeLies, drawn, planned ?? drawn, top, scale);
  }
  const until = measured?.afterHeats ?? from;
  if (measured !== undefined) {
    const marks: Spot[] = [];
    for (const [index, crack] of card.cracks.entries()) {
      const here = crack.afterHeats > from || (from === 0 && crack.afterHeats === 0);
      if (here && (crack.afterHeats <= until || lastMeasured)) {
        const spot = freeSpot(crackSpot(crack, measured.size, top, scale), marks);
        marks.push(spot);
        crackMark(page, spot, index + 1);
      }
    }
  }
  page.skip(height + 10);
  return until;
}

function piece(
  page: Page,
  size: CardSize,
  top: number,
  scale: number,
  doubleEdge: boolean,
  planned: boolean,
): void {
  const { high, long } = across(size);
  if (long === 0) return;
  const [w, h] = [long * scale, Math.max(high * scale, 3)];
  const x = MARGIN;
  // A blade is drawn with its point at the right.
  const point = size.shape === "blade" ? Math.min(w * 0.25, h * 2) : 0;
  const d =
    point > 0 && doubleEdge
      ? `M${at(x)} ${at(top)}H${at(x + w - point)}L${at(x + w)} ${at(top + h / 2)}L${at(x + w - point)} ${at(top + h)}H${at(x)}Z`
      : point > 0
        ? `M${at(x)} ${at(top)}H${at(x + w)}L${at(x + w - point)} ${at(top + h)}H${at(x)}Z`
        : `M${at(x)} ${at(top)}H${at(x + w)}V${at(top + h)}H${at(x)}Z`;
  page.add(
    planned
      ? { item: "path", d, fill: "none", stroke: "ink", dashed: true, strokeWidth: 2 }
      : { item: "path", d, fill: "light", stroke: "ink", strokeWidth: 2 },
  );
}

/** The pipe zone in the same proportion of the piece as on the planned one. */
function zone(
  page: Page,
  pipe: CardPipe,
  drawn: CardSize,
  planned: CardSize,
  top: number,
  scale: number,
): void {
  if (pipe.place === "out") return;
  const { high, long } = across(drawn);
  const plannedLong = across(planned).long;
  if (long === 0 || plannedLong === 0) return;
  const share = (mm: number): number => Math.min(Math.max(mm / plannedLong, 0), 1);
  const x = MARGIN + share(pipe.fromMm) * long * scale;
  const width = (share(pipe.toMm) - share(pipe.fromMm)) * long * scale;
  const height = high * scale;
  const plannedHigh = across(planned).high || high;
  const deep = pipe.place === "end" ? height : Math.min(1, pipe.depthMm / plannedHigh) * height;
  // On a face the zone lies in the middle of what is seen; else it opens on the upper side.
  const y = pipe.place === "face" ? top + (height - height / 3) / 2 : top;
  if (width <= 0) return;
  page.add({
    item: "rect",
    x,
    y,
    width,
    height: pipe.place === "face" ? height / 3 : Math.max(deep, 3),
    fill: "cross",
    stroke: "grey",
  });
}

const MARK = 9;
const NUMBER_WIDTH = 28;
/** Room of a mark with its number. */
const SPOT_WIDTH = 2 * MARK + NUMBER_WIDTH + 6;
const SPOT_HEIGHT = 24;

interface Spot {
  readonly x: number;
  readonly y: number;
}

/** Where a crack is drawn: spine and top above, edge and bottom below, the ends at the ends. */
function crackSpot({ value }: CardCrack, size: CardSize, top: number, scale: number): Spot {
  const { high, long } = across(size);
  const [w, h] = [long * scale, high * scale];
  const ends = { tang: 0, end: 1, tip: 1, rim: 1 } as const;
  const place = value.place ?? "face";
  const along =
    value.positionMm !== undefined && long > 0
      ? Math.min(value.positionMm / long, 1)
      : place in ends
        ? ends[place as keyof typeof ends]
        : 0.5;
  const down =
    place === "spine" || place === "top" ? 0 : place === "edge" || place === "bottom" ? 1 : 0.5;
  const last = PAGE_WIDTH - MARGIN - SPOT_WIDTH + MARK;
  return {
    x: Math.min(MARGIN + Math.min(Math.max(along * w, MARK), Math.max(w - MARK, MARK)), last),
    y: top + Math.min(Math.max(down * h, MARK), Math.max(h - MARK, MARK)),
  };
}

/** The nearest spot beside the wanted one where no other mark stands; the wanted one when there is no room. */
function freeSpot(wanted: Spot, marks: readonly Spot[]): Spot {
  const free = ({ x, y }: Spot): boolean =>
    marks.every(
      (mark) => Math.abs(mark.x - x) >= SPOT_WIDTH || Math.abs(mark.y - y) >= SPOT_HEIGHT,
    );
  for (let step = 0; step < 2 * MOST_MARKS; step++) {
    const aside = Math.ceil(step / 2) * SPOT_WIDTH * (step % 2 === 0 ? 1 : -1);
    const spot = { x: wanted.x + aside, y: wanted.y };
    const inside = spot.x >= MARGIN + MARK && spot.x <= PAGE_WIDTH - MARGIN - SPOT_WIDTH + MARK;
    if (inside && free(spot)) return spot;
  }
  return wanted;
}

/** More marks than this do not fit side by side. */
const MOST_MARKS = Math.floor(INNER_WIDTH / SPOT_WIDTH);

/** A cross and its number in the list of cracks. */
function crackMark(page: Page, { x, y }: Spot, number: number): void {
  const d = `M${at(x - MARK)} ${at(y - MARK)}L${at(x + MARK)} ${at(y + MARK)}M${at(x + MARK)} ${at(y - MARK)}L${at(x - MARK)} ${at(y + MARK)}`;
  const style = { size: 20, bold: true };
  const label = textItem(String(number), x + MARK + 5, y + 7, NUMBER_WIDTH, style);
  const { left, right } = extentOf(label);
  page.add(
    { item: "path", d, fill: "none", stroke: "ink", strokeWidth: 4 },
    {
      item: "rect",
      x: left - 2,
      y: y - SPOT_HEIGHT / 2 + 1,
      width: right - left + 4,
      height: SPOT_HEIGHT - 2,
      fill: "white",
    },
    label,
  );
}
