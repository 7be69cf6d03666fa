/** The day's sheet in parts of sentences; words and picture put them together, each to its own width. */
import {
  type ChatUnits,
  formatDuration,
  formatLength,
  formatMass,
  formatTemperature,
} from "../units/index.js";
import { clockIn } from "./day-bounds.js";
import type { DayIngot, DayMelt, DaySheet } from "./day-sheet.js";
import { asMeasured, bladeSize, routeLabel, sizeLabel } from "./labels.js";

type Parts = readonly (string | false | undefined)[];

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

export function fireParts({ fire, heats, timezone }: DaySheet): Parts {
  if (heats === 0 || fire === undefined) return [];
  const span =
    heats === 1
      ? `at ${clockIn(fire.from, timezone)}`
      : `${clockIn(fire.from, timezone)} to ${clockIn(fire.to, timezone)}`;
  return [
    counted(heats, "heat"),
    span,
    fire.minutes !== undefined && `about ${formatDuration(fire.minutes * 60)} at the fire`,
  ];
}

export function meltParts({ chargeG, facts, number }: DayMelt, units: ChatUnits): Parts {
  const { cooling, durationMin, ingotG, temperatureC } = facts;
  return [
    `MELT${number === undefined ? "" : ` ${number}`}`,
    chargeG !== undefined && `charge ${formatMass(chargeG, units)}`,
    temperatureC !== undefined && `peak ${formatTemperature(temperatureC, units)}`,
    durationMin !== undefined && `held ${Math.round(durationMin)} min`,
    cooling !== undefined && `cooled ${cooling}`,
    ingotG !== undefined && `ingot ${formatMass(ingotG, units)}`,
  ];
}

export function ingotParts(ingot: DayIngot, units: ChatUnits): Parts {
  const { finished, givenUp, heats, heatsToday, massG, openCracks, over, size, under } = ingot;
  return [
    `INGOT ${ingot.name}`,
    ingot.opened && "new",
    finished && "blade done",
    givenUp && "given up",
    heatsToday > 0 && heatsToday === heats && counted(heats, "heat"),
    heatsToday > 0 && heatsToday < heats && `${heatsToday} of ${heats} heats today`,
    heatsToday === 0 && heats > 0 && `${counted(heats, "heat")} before`,
    over > 0 && `${over} too hot`,
    under > 0 && `${under} too cold`,
    !finished && size !== undefined && sizeLabel(size, asMeasured(units)),
    !finished && massG !== undefined && formatMass(massG, units),
    ingot.route === undefined ? undefined : routeLabel(ingot.route),
    openCracks > 0 && counted(openCracks, "open crack"),
  ];
}

export function crackText(
  { ingot, takenOut, value }: DaySheet["cracks"][number],
  units: ChatUnits,
): string {
  const parts = [
    value.place ?? "somewhere",
    value.severity,
    value.depthMm === undefined ? undefined : `${formatLength(value.depthMm, units)} deep`,
    takenOut ? "taken out" : "open",
  ];
  return `Crack in ${ingot}: ${parts.filter((part) => part !== undefined).join(", ")}`;
}

export function bladeParts({ ingot, value }: DaySheet["blades"][number], units: ChatUnits): Parts {
  return [
    `BLADE of ${ingot}`,
    sizeLabel(bladeSize(value), asMeasured(units)),
    value.massG !== undefined && formatMass(value.massG, units),
  ];
}

export function lossParts({ losses }: DaySheet, units: ChatUnits): Parts {
  const { scaleG, takenOffG, unweighed } = losses;
  if (scaleG === 0 && takenOffG === 0 && unweighed === 0) return [];
  return [
    "LOST",
    scaleG > 0 && `scale ${formatMass(scaleG, units)}`,
    takenOffG > 0 && `taken off ${formatMass(takenOffG, units)}`,
    unweighed > 0 && `${unweighed} more not weighed`,
  ];
}

/** What the melts used up: to be ordered again. */
export function orderParts({ used }: DaySheet, units: ChatUnits): Parts {
  if (used.length === 0) return [];
  return [
    "TO ORDER",
    ...used.map(({ massG, unweighed, what }) =>
      [
        what,
        massG > 0 && formatMass(massG, units),
        unweighed > 0 && `${massG > 0 ? "and " : ""}some not weighed`,
      ]
        .filter((part) => part !== false)
        .join(" "),
    ),
  ];
}

/** Undefined when the ingot has ended or nothing is known of what is wanted. */
export function nextText(
  { finished, givenUp, goal, name, next }: DayIngot,
  units: ChatUnits,
): string | undefined {
  if (finished || givenUp) return undefined;
  if (next !== undefined) {
    return `Next, ${name}: ${next.stage} to ${sizeLabel(next.size, units)}`;
  }
  if (goal?.lengthMm === undefined) return undefined;
  return `Next, ${name}: on to a blade of ${formatLength(goal.lengthMm, units)}`;
}

const counted = (count: number, thing: string): string =>
  `${count} ${thing}${count === 1 ? "" : "s"}`;
