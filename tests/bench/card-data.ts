/** An ingot's log as the bench draws it: forty heats, cracks, weighings, a blade. */
import type { Fact } from "../../src/logbook/index.js";

export const CARD_HEATS = 40;

export const cardFacts: readonly Fact[] = [
  { kind: "ingot", name: "Alder", diameterMm: 64, heightMm: 30, massG: 450, carbonPct: 1.5 },
  { kind: "goal", edge: "single", lengthMm: 150, widthMm: 28 },
  ...Array.from({ length: CARD_HEATS }, (_, n): Fact[] => [
    { kind: "heat", number: n + 1, temperatureC: 840 + ((n * 37) % 120), durationMin: 8 },
    {
      kind: "size",
      thicknessMm: 24 - n / 4,
      widthMm: 30 - n / 10,
      lengthMm: 75 + n * 4,
      massG: 440 - 3 * n,
    },
  ]).flat(),
  { kind: "crack", place: "spine", depthMm: 2, positionMm: 40 },
  { kind: "removal", method: "grind", massG: 6, place: "spine" },
  { kind: "finish", lengthMm: 152, widthMm: 28, thicknessMm: 3.5, massG: 160 },
];
