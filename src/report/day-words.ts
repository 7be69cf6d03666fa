/** The day's sheet as plain text, in short lines. */
import {
  type ChatUnits,
  formatDuration,
  formatLength,
  formatMass,
  formatTemperature,
} from "../units/index.js";
import { clockIn } from "./day-bounds.js";
import type { DayIngot, DayMelt, DaySheet } from "./day-sheet.js";
import { routeLabel, sizeLabel } from "./labels.js";
import { dotted, wrapped } from "./lines.js";

export function dayWords(sheet: DaySheet, units: ChatUnits): string {
  const blocks = [
    [`DAY ${dateLabel(sheet.date)}`, ...fireLines(sheet)],
    sheet.melts.flatMap((melt) => meltLines(melt, units)),
    sheet.ingots.flatMap((ingot) => ingotLines(ingot, units)),
    crackLines(sheet, units),
    sheet.blades.flatMap(({ ingot, value }) =>
      dotted(
        [
          `BLADE of ${ingot}`,
          sizeLabel(
            {
              shape: "blade",
              ...(value.thicknessMm === undefined ? {} : { thicknessMm: value.thicknessMm }),
              ...(value.widthMm === undefined ? {} : { widthMm: value.widthMm }),
              ...(value.lengthMm === undefined ? {} : { lengthMm: value.lengthMm }),
            },
            units,
          ),
          value.massG !== undefined && formatMass(value.massG, units),
        ],
        "  ",
      ),
    ),
    lossLines(sheet, units),
    nextLines(sheet, units),
  ];
  const filled = blocks.filter((lines) => lines.length > 0);
  if (filled.length === 1 && sheet.heats === 0) {
    return [...(filled[0] ?? []), "Nothing logged on this day."].join("\n");
  }
  return filled.map((lines) => lines.join("\n")).join("\n\n");
}

/** "Tue 12 May 2026": the words of a date, the same in every time zone. */
export function dateLabel(date: string): string {
  const parts = new Intl.DateTimeFormat("en-GB", {
    timeZone: "UTC",
    weekday: "short",
    day: "numeric",
    month: "short",
    year: "numeric",
  }).formatToParts(new Date(`${date}T12:00:00Z`));
  const part = (type: string): string => parts.find((each) => each.type === type)?.value ?? "";
  return `${part("weekday")} ${part("day")} ${part("month")} ${part("year")}`;
}

function fireLines({ fire, heats, timezone }: DaySheet): string[] {
  if (heats === 0 || fire === undefined) return [];
  const span =
    heats === 1
      ? `at ${clockIn(fire.from, timezone)}`
      : `${clockIn(fire.from, timezone)} to ${clockIn(fire.to, timezone)}`;
  return dotted([
    heats === 1 ? "1 heat" : `${heats} heats`,
    span,
    fire.minutes !== undefined && `about ${formatDuration(fire.minutes * 60)} at the fire`,
  ]);
}

function meltLines({ chargeG, facts, number }: DayMelt, units: ChatUnits): string[] {
  const { cooling, durationMin, ingotG, temperatureC } = facts;
  return dotted(
    [
      `MELT${number === undefined ? "" : ` ${number}`}`,
      chargeG !== undefined && `charge ${formatMass(chargeG, units)}`,
      temperatureC !== undefined && `peak ${formatTemperature(temperatureC, units)}`,
      durationMin !== undefined && `held ${Math.round(durationMin)} min`,
      cooling !== undefined && `cooled ${cooling}`,
      ingotG !== undefined && `ingot ${formatMass(ingotG, units)}`,
    ],
    "  ",
  );
}

function ingotLines(ingot: DayIngot, units: ChatUnits): string[] {
  const { finished, heats, heatsToday, massG, openCracks, over, size, under } = ingot;
  const route = ingot.route === undefined ? undefined : routeLabel(ingot.route);
  return dotted(
    [
      `INGOT ${ingot.name}`,
      ingot.opened && "new",
      finished && "blade done",
      heatsToday > 0
        ? `${heatsToday === heats ? "" : `${heatsToday} of `}${heats} ${heats === 1 ? "heat" : "heats"}${heatsToday === heats ? "" : " today"}`
        : heats > 0 && `${heats} heats before`,
      over > 0 && `${over} too hot`,
      under > 0 && `${under} too cold`,
      !finished && size !== undefined && sizeLabel(size, units),
      !finished && massG !== undefined && formatMass(massG, units),
      route,
      openCracks > 0 && (openCracks === 1 ? "1 open crack" : `${openCracks} open cracks`),
    ],
    "  ",
  );
}

function crackLines({ cracks }: DaySheet, units: ChatUnits): string[] {
  return cracks.flatMap(({ ingot, takenOut, value }) =>
    wrapped(
      [
        `Crack in ${ingot}:`,
        [
          value.place ?? "somewhere",
          value.severity,
          value.depthMm !== undefined && `${formatLength(value.depthMm, units)} deep`,
          takenOut ? "taken out" : "open",
        ]
          .filter((part) => typeof part === "string")
          .join(", "),
      ].join(" "),
      "  ",
    ),
  );
}

function lossLines({ losses }: DaySheet, units: ChatUnits): string[] {
  const { scaleG, takenOffG, unweighed } = losses;
  if (scaleG === 0 && takenOffG === 0 && unweighed === 0) return [];
  return dotted(
    [
      "LOST",
      scaleG > 0 && `scale ${formatMass(scaleG, units)}`,
      takenOffG > 0 && `taken off ${formatMass(takenOffG, units)}`,
      unweighed > 0 && `${unweighed} more not weighed`,
    ],
    "  ",
  );
}

function nextLines({ ingots }: DaySheet, units: ChatUnits): string[] {
  return ingots.flatMap(({ finished, goal, name, next }) => {
    if (finished) return [];
    if (next !== undefined) {
      return wrapped(`Next, ${name}: ${next.stage} to ${sizeLabel(next.size, units)}`, "  ");
    }
    return goal?.lengthMm === undefined
      ? []
      : wrapped(`Next, ${name}: on to a blade of ${formatLength(goal.lengthMm, units)}`, "  ");
  });
}
