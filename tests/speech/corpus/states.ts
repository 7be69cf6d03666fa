/** Shops in the middle of their work: what the bot knows when a note arrives, and what happens next. */
import type { ReadingContext } from "../../../src/language/index.js";
import { between, type Chance, pick } from "./seeded.js";

/** Density of steel at room temperature for these invented pieces, g/mm³. */
const DENSITY = 0.0078;
export const NOW = "2026-03-05T10:00:00Z";

export interface Shop {
  readonly context: ReadingContext;
  /** What the smith measures after the work of this message. */
  readonly next: Readonly<Record<string, number>>;
}

const whole = (value: number): number => Math.max(1, Math.round(value));
const tenth = (value: number): number => Math.round(value * 10) / 10;
const fives = (value: number): number => Math.round(value / 5) * 5;

/** A bar half drawn out, in millimetres. */
export function barShop(chance: Chance): Shop {
  const massG = fives(between(280, 1150, chance));
  const volume = massG / DENSITY;
  const thickness = between(12, 30, chance);
  const width = thickness * between(1.1, 1.9, chance);
  const piece = {
    shape: "bar",
    thicknessMm: whole(thickness),
    widthMm: whole(width),
    lengthMm: whole(volume / (whole(thickness) * whole(width))),
  };
  const heats = Math.floor(between(1, 24, chance));
  const thinner = whole(piece.thicknessMm * between(0.78, 0.97, chance));
  const wider = whole(piece.widthMm * between(0.92, 1.1, chance));
  const left = volume * between(0.97, 1.0, chance);
  const longer = whole((left / (thinner * wider)) * between(0.98, 1.02, chance));
  const lostG = fives(between(5, 45, chance));
  return {
    context: {
      now: NOW,
      timezone: "UTC",
      units: "mm",
      ingot: {
        name: String(whole(between(2, 60, chance))),
        heats,
        massG,
        carbonPct: tenth(between(1.2, 1.8, chance)),
        piece,
        temperatureC: fives(between(880, 1040, chance)),
      },
    },
    next: {
      heat: heats + 1,
      temp: fives(between(840, 1070, chance)),
      thick: thinner,
      wide: wider,
      long: longer,
      mass: fives(massG * between(0.94, 0.995, chance)),
      lost: lostG,
      depth: pick([1, 2, 3, 4, 5, 6], chance),
      crackLong: whole(between(4, 30, chance)),
      from: whole(piece.lengthMm * between(0.1, 0.9, chance)),
      minutes: pick([5, 8, 10, 12, 15, 20, 25, 30, 40, 45], chance),
      off: whole(between(5, 30, chance)),
      ingot: whole(between(2, 60, chance)),
      soFar: heats,
    },
  };
}

/** No ingot in hand: a new one is told. */
export function bareShop(chance: Chance): Shop {
  const massG = fives(between(260, 1300, chance));
  const across = whole(between(48, 92, chance));
  const fill = between(0.6, 0.85, chance);
  const high = whole(massG / DENSITY / (Math.PI * (across / 2) ** 2 * fill));
  const ingot = whole(between(2, 60, chance));
  return {
    context: { now: NOW, timezone: "UTC", units: "mm" },
    next: {
      ingot,
      mass: massG,
      across,
      high,
      carbon: tenth(between(1.1, 1.9, chance)),
      charge: fives(massG * between(1.03, 1.15, chance)),
      temp: fives(between(1420, 1560, chance)),
      minutes: pick([20, 30, 40, 45, 60, 90], chance),
      iron: fives(massG * between(0.9, 0.98, chance)),
      coal: whole(massG * between(0.012, 0.02, chance)),
      long: fives(between(110, 230, chance)),
      wide: whole(between(20, 42, chance)),
      thick: whole(between(3, 6, chance)),
      tang: fives(between(60, 110, chance)),
      kilos: tenth(massG / 1000),
    },
  };
}

const eighth = (value: number): number => Math.max(1, Math.round(value * 8)) / 8;

/** A bar, in inches. */
export function inchShop(chance: Chance): Shop {
  const base = barShop(chance);
  const known = base.context.ingot;
  const inches = (mm: number | undefined): number => eighth((mm ?? 0) / 25.4);
  return {
    context: { ...base.context, units: "inch", ...(known ? { ingot: known } : {}) },
    next: {
      ...base.next,
      thick: inches(base.next.thick),
      wide: inches(base.next.wide),
      long: inches(base.next.long),
      depth: pick([1 / 8, 1 / 4, 3 / 8], chance),
      crackLong: pick([1 / 2, 3 / 4, 1], chance),
    },
  };
}
