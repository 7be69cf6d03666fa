/** The ingot's card as plain text, in short lines. */
import {
  type ChatUnits,
  formatLength,
  formatMass,
  formatPercent,
  formatTemperature,
  G_PER_OUNCE,
} from "../units/index.js";
import type { CardStage } from "./card-stages.js";
import type { CardCrack, CardHeat, IngotCard } from "./ingot-card.js";
import {
  asMeasured,
  bladeSize,
  carbonLabel,
  METHOD_LABELS,
  routeLabel,
  sizeLabel,
} from "./labels.js";
import { dotted, wrapped } from "./lines.js";
import { type MassBar, type PartKind, roundedParts } from "./mass-bar.js";

/** More sizes than this are too many for a phone: the first and the last ones stay. */
const MOST_STAGES = 8;
/** A void of less than this is within what a ruler and a scale can tell, %. Judgement, 1 to 3. */
const VOID_SHOWN_PCT = 1;

export function cardWords(card: IngotCard, units: ChatUnits): string {
  const blocks = [
    heading(card, units),
    stageLines(card, units),
    heatLines(card, units),
    crackLines(card, units),
    massLines(card, units),
    bladeLines(card, units),
    card.notes.flatMap((note) => wrapped(`Note: ${note}`, "  ")),
  ];
  return blocks
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n");
}

/** How an ingot without a blade stands. */
export const openWords = ({ givenUpAt }: IngotCard): string =>
  givenUpAt === undefined ? "in hand" : "given up, no blade";

function heading(card: IngotCard, units: ChatUnits): string[] {
  const { goal, ingot } = card;
  const size = sizeLabel(
    {
      shape: "disc",
      ...(ingot.diameterMm === undefined ? {} : { diameterMm: ingot.diameterMm }),
      ...(ingot.heightMm === undefined ? {} : { heightMm: ingot.heightMm }),
    },
    units,
  );
  const done =
    card.blades.length === 0
      ? openWords(card)
      : card.blades.length === 1
        ? "blade done"
        : `${card.blades.length} blades done`;
  const goalSize = goal === undefined ? "" : sizeLabel(bladeSize(goal), units);
  return [
    ...wrapped(`INGOT ${card.name} · ${done}`, "  "),
    ...(card.blades.length > 0 && card.givenUpAt !== undefined ? ["Given up after that."] : []),
    ...dotted([
      [ingot.shape, size].filter((part) => part !== undefined && part !== "").join(" "),
      ingot.massG !== undefined && formatMass(ingot.massG, units),
      carbonLabel(card),
      ingot.melt !== undefined && `melt ${ingot.melt}`,
    ]),
    ...voidLine(card),
    ...dotted([
      ingot.pipeDepthMm !== undefined && `Pipe ${formatLength(ingot.pipeDepthMm, units)} deep`,
      ingot.pipeDiameterMm !== undefined &&
        `${ingot.pipeDepthMm === undefined ? "Pipe " : ""}${formatLength(ingot.pipeDiameterMm, units)} wide`,
    ]),
    ...routeLines(card),
    ...(goal === undefined
      ? []
      : dotted(
          [
            ["Goal:", goal.edge === undefined ? "" : `${goal.edge} edge`, goalSize]
              .filter((part) => part !== "")
              .join(" "),
            goal.count !== undefined && goal.count > 1 && `${goal.count} blades`,
            goal.tangLengthMm !== undefined && `tang ${formatLength(goal.tangLengthMm, units)}`,
          ],
          "  ",
        )),
  ];
}

function voidLine({ voidPct }: IngotCard): string[] {
  if (voidPct === undefined || Math.abs(voidPct) < VOID_SHOWN_PCT) return [];
  const share = formatPercent(Math.abs(voidPct));
  return wrapped(
    voidPct > 0 ? `${share} lighter than its sizes: voids` : `${share} heavier than its sizes`,
    "  ",
  );
}

function routeLines({ planned, route }: IngotCard): string[] {
  const said = route === undefined ? undefined : routeLabel(route);
  if (said !== undefined) return wrapped(`Route: ${said}`, "  ");
  return planned === undefined
    ? []
    : wrapped(`Route not said; planned: ${routeLabel(planned)}`, "  ");
}

function stageLines({ stages }: IngotCard, units: ChatUnits): string[] {
  if (stages.length === 0) return [];
  const many = stages.length > MOST_STAGES;
  const shown = many ? [...stages.slice(0, 2), ...stages.slice(2 - MOST_STAGES)] : stages;
  const skipped = stages.length - shown.length;
  const lines = shown.map((stage) => stageLine(stage, units));
  if (many) lines.splice(2, 0, [`  … ${skipped} more`]);
  return ["STAGES", ...lines.flat()];
}

function stageLine({ measured, name, planned }: CardStage, units: ChatUnits): string[] {
  const label = name ?? measured?.size.shape ?? "";
  const plan = planned === undefined ? undefined : sizeLabel(planned, units);
  if (measured === undefined) return dotted([`${label}: planned ${plan}`], "  ");
  const size = [
    `${label}: ${sizeLabel(measured.size, asMeasured(units))}`,
    measured.size.shape !== "blade" && measured.afterHeats > 0 && `heat ${measured.afterHeats}`,
    measured.massG !== undefined && formatMass(measured.massG, units),
  ];
  return [...dotted(size, "  "), ...(plan === undefined ? [] : [`  planned ${plan}`])];
}

function heatLines(card: IngotCard, units: ChatUnits): string[] {
  const { count, list, saidMin, told, window } = card.heats;
  if (count === 0) return [];
  const within = `${Math.round(window.floorC)}`;
  const inside = list.filter(({ where }) => where === "inside").length;
  const off = list.filter(({ where }) => where === "over" || where === "under");
  const notSaid = list.filter(({ where }) => where === "not-said").length;
  const planned = card.planned?.heats;
  return [
    ...dotted([
      `HEATS ${count}`,
      planned !== undefined && `planned ${Math.round(planned.low)} to ${Math.round(planned.high)}`,
      told < count && `${told} told of`,
      saidMin !== undefined && `${Math.round(saidMin)} min said`,
    ]),
    ...(inside + off.length === 0
      ? []
      : wrapped(
          `${inside} inside ${units.temperature === "c" ? within : Math.round(window.floorC * 1.8 + 32)} to ${formatTemperature(window.ceilingC, units)}`,
        )),
    ...off.slice(0, MOST_OFF).flatMap((heat) => wrapped(`  ${offWords(heat, units)}`, "  ")),
    ...(off.length > MOST_OFF ? [`  … ${off.length - MOST_OFF} more outside`] : []),
    ...(notSaid === 0 ? [] : [`${notSaid} without a temperature`]),
  ];
}

/** Heats outside the window that are told one by one. */
const MOST_OFF = 5;

const offWords = (heat: CardHeat, units: ChatUnits): string =>
  `heat ${heat.number}: ${formatTemperature(heat.tempC ?? 0, units)}, ${
    heat.where === "over" ? "too hot" : "too cold"
  }`;

function crackLines({ cracks }: IngotCard, units: ChatUnits): string[] {
  if (cracks.length === 0) return ["No crack told of."];
  return ["CRACKS", ...cracks.flatMap((crack) => wrapped(crackWords(crack, units), "  "))];
}

export function crackWords({ afterHeats, takenOut, value }: CardCrack, units: ChatUnits): string {
  const parts = [
    value.place ?? "somewhere",
    value.severity,
    value.depthMm === undefined ? undefined : `${formatLength(value.depthMm, units)} deep`,
    value.lengthMm === undefined ? undefined : `${formatLength(value.lengthMm, units)} long`,
    value.positionMm === undefined
      ? undefined
      : `${formatLength(value.positionMm, units)} from the tang`,
    afterHeats === 0 ? "before heat 1" : `heat ${afterHeats}`,
  ].filter((part) => part !== undefined);
  return `${parts.join(", ")}: ${takenOut === undefined ? "open" : takenOutWords(takenOut, units)}`;
}

function takenOutWords(removal: NonNullable<CardCrack["takenOut"]>, units: ChatUnits): string {
  const how = removal.method === undefined ? "taken out" : METHOD_LABELS[removal.method];
  const mass = removal.massG === undefined ? "" : `, ${formatMass(removal.massG, units)}`;
  return `${how}${mass}`;
}

export const PART_LABELS: Readonly<Record<PartKind, string>> = {
  pipe: "pipe",
  ground: "ground off",
  filed: "filed off",
  chiselled: "chiselled off",
  cut: "cut off",
  punched: "punched out",
  taken: "taken off",
  scale: "scale",
  unweighed: "shaping and scale together",
  blade: "blade",
  left: "on the piece",
  surplus: "weighings differ",
};

/** Smallest step in which the card shows masses, g. */
export const massStepG = (units: ChatUnits): number =>
  units.length === "mm" ? 1 : G_PER_OUNCE / 10;

/** What a part is called: without a weighing the rest of a finished ingot is blade and losses together. */
export const partLabel = (kind: PartKind, finished: boolean): string =>
  kind === "left" && finished ? "blade, losses not weighed" : PART_LABELS[kind];

const BASIS: Readonly<Record<MassBar["basis"], string>> = {
  weighed: "together",
  first: "first weighing and before",
  sizes: "by its sizes, not weighed",
};

function massLines(card: IngotCard, units: ChatUnits): string[] {
  const { loss, mass } = card;
  if (mass === undefined) return [];
  const { partsG, totalG } = roundedParts(mass, massStepG(units));
  const share = (massG: number): string => `${Math.round((massG / totalG) * 100)} %`;
  const rows = mass.parts.map(({ approx, kind }, index) => {
    const massG = partsG[index] ?? 0;
    const label = `${partLabel(kind, card.finishedAt !== undefined)}${approx ? ", about" : ""}`;
    return `  ${formatMass(massG, units)} · ${share(massG)} · ${label}`;
  });
  return [
    "WHERE THE STEEL WENT",
    ...rows,
    `  ${formatMass(totalG, units)} ${BASIS[mass.basis]}`,
    ...(loss === undefined
      ? []
      : dotted([
          `Loss ${formatPercent(loss.fraction * 100)} a heat`,
          `${formatMass(loss.lostG / loss.heats, units)} a heat, from ${loss.heats} ${loss.heats === 1 ? "heat" : "heats"}`,
        ])),
  ];
}

function bladeLines({ blades }: IngotCard, units: ChatUnits): string[] {
  return blades.flatMap((blade) =>
    dotted(
      [
        `BLADE ${sizeLabel(bladeSize(blade), asMeasured(units))}`.trim(),
        blade.tangLengthMm !== undefined && `tang ${formatLength(blade.tangLengthMm, units)}`,
        blade.massG !== undefined && formatMass(blade.massG, units),
      ],
      "  ",
    ),
  );
}
