/**
 * Safety lines: the right one at the right moment, at most once a day and chat. Sources and wording
 * stand in docs/safety.md; each defers to the machine's manual, local codes and licensed practice.
 */
import type { IngotState, NewEntry } from "../logbook/index.js";
import type { ChatUnits } from "../units/index.js";

const SAFETY_LINES = {
  "first-heat": "⚠ Glasses with side shields, ears covered. Black steel still burns.",
  "first-crack": "⚠ Cracked steel can throw pieces: eyes covered, stand out of the line.",
  "first-grinding": "⚠ Grinding: eyes, ears, fitted dust mask; rest within {gap} of the wheel.",
  "melt-day": "⚠ Melt: everything dry, air moving, CO alarm on, infrared-rated shade.",
  punching: "⚠ Punching: hands out of the line, cool the punch often, no mushroomed heads.",
  "welded-handle": "⚠ Welding the handle: shade for your process, dry gloves, ventilate.",
  quench: "⚠ Quench: long tongs, face shield, lid at hand. Never water on burning oil.",
} as const;

/** Work rest of a bench grinder to its wheel: 1/8 in by 29 CFR 1910.215(a)(4), said as 3 mm. [S92] */
const REST_GAP = { mm: "3 mm", inch: "1/8 in" } as const;

/** The line as the chat's units show it. */
export const safetyText = (code: SafetyCode, units: ChatUnits): string =>
  SAFETY_LINES[code].replace("{gap}", REST_GAP[units.length]);

export type SafetyCode = keyof typeof SAFETY_LINES;

/** The line this message calls for that the chat has not seen today, if any. */
export function safetyLine(
  fresh: readonly NewEntry[],
  state: IngotState | undefined,
  shownToday: readonly string[],
): SafetyCode | undefined {
  return wanted(fresh, state).find((code) => !shownToday.includes(code));
}

function wanted(fresh: readonly NewEntry[], state: IngotState | undefined): SafetyCode[] {
  return fresh.flatMap((entry): SafetyCode[] => {
    const { fact } = entry;
    switch (fact?.kind) {
      case "melt":
        return ["melt-day"];
      case "crack":
        return ["first-crack"];
      case "removal":
        return fact.method === "punch"
          ? ["punching"]
          : fact.method === "grind"
            ? ["first-grinding"]
            : [];
      case "heat":
        return fact.operation === "punch" || fact.operation === "open"
          ? ["punching", "first-heat"]
          : ["first-heat"];
      case "route":
        return fact.route === "end" ? ["welded-handle"] : fact.route === "ring" ? ["punching"] : [];
      case "note":
        return /quench/i.test(fact.note)
          ? ["quench"]
          : /\bweld/i.test(fact.note)
            ? ["welded-handle"]
            : /\bgrind|\bground\b/i.test(fact.note)
              ? ["first-grinding"]
              : [];
      case "size":
        return state !== undefined && state.heats.length > 0 ? ["first-heat"] : [];
      default:
        return [];
    }
  });
}
