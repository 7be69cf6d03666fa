/** The unit that stands behind a figure, with the signs that can mean two things settled by the words around. */
import type { Figure } from "./figures.js";
import type { Token } from "./tokens.js";
import { UNIT_OF_WORD, UNITS, type UnitName } from "./units.js";

/** What reading needs to know to settle contested unit signs. */
export interface UnitHints {
  readonly inchChat: boolean;
  /** The words around speak of holding a heat: `20'` and `20 m` are minutes. */
  readonly holding: boolean;
  /** The words around speak of a press: `bar` is a pressure, `t` a force. */
  readonly press: boolean;
}

export const text = (tokens: readonly Token[], at: number): string => tokens[at]?.text ?? "";
export const isWord = (tokens: readonly Token[], at: number): boolean =>
  tokens[at]?.kind === "word";
/** `20 in the middle` is no length in inches. */
const NOT_INCH_BEFORE = new Set([
  "the",
  "a",
  "two",
  "this",
  "it",
  "one",
  "my",
  "half",
  "all",
  "total",
  "here",
  "there",
  "furnace",
  "with",
  "an",
  "length",
  "depth",
  "height",
  "diameter",
  "width",
  "thickness",
  "breadth",
  "weight",
  "mass",
  "section",
  "from",
]);
const MEASURES = /^(length|depth|height|diameter|width|thickness|breadth)$/;
/** Signs and words in which a full stop belongs to the unit. */
const DOTTED = new Set(["in", "ins", "ft", "oz", "lb", "lbs", "deg"]);

interface Found {
  readonly unit: UnitName | undefined;
  readonly degrees: boolean;
  readonly next: number;
}

export function unitAt(
  tokens: readonly Token[],
  at: number,
  hints: UnitHints,
  figure: Figure | undefined,
): Found | undefined {
  const here = text(tokens, at);
  if (here === "°") {
    const scale = UNIT_OF_WORD.get(text(tokens, at + 1));
    if (scale === "c" || scale === "f" || scale === "k")
      return { unit: scale, degrees: false, next: at + 2 };
    return { unit: undefined, degrees: true, next: at + 1 };
  }
  if (here === '"')
    return {
      unit: hints.holding && !tokens[at]?.glued ? "s" : "inch",
      degrees: false,
      next: at + 1,
    };
  if (here === "'") {
    if (text(tokens, at + 1) === "'") return { unit: "inch", degrees: false, next: at + 2 };
    return { unit: hints.holding ? "min" : "foot", degrees: false, next: at + 1 };
  }
  if (here === "%") return { unit: "percent", degrees: false, next: at + 1 };
  if (!isWord(tokens, at)) return undefined;
  const two = `${here} ${text(tokens, at + 1)}`;
  if (two === "per cent") return { unit: "percent", degrees: false, next: at + 2 };
  if (two === "kilo newton" || two === "kilo newtons")
    return { unit: "kn", degrees: false, next: at + 2 };
  if (two === "metric ton" || two === "metric tons" || two === "metric tonnes")
    return { unit: "tonne", degrees: false, next: at + 2 };
  if (two === "short ton" || two === "short tons" || two === "us tons")
    return { unit: "shortton", degrees: false, next: at + 2 };
  const name = UNIT_OF_WORD.get(here);
  if (name === undefined) return undefined;
  const glued = tokens[at]?.glued ?? false;
  // `T=16`, `W=39`: a letter before `=` is a label.
  if (here.length === 1 && text(tokens, at + 1) === "=") return undefined;
  const pounds = here === "lb" || here === "lbs";
  const dot =
    DOTTED.has(here) &&
    text(tokens, at + 1) === "." &&
    (isWord(tokens, at + 2) || (pounds && tokens[at + 2]?.kind === "number"))
      ? 1
      : 0;
  const found = (unit: UnitName): Found => ({ unit, degrees: false, next: at + 1 + dot });
  switch (name) {
    case "degree": {
      const scale = UNIT_OF_WORD.get(text(tokens, at + 1 + dot));
      if (scale === "c" || scale === "f" || scale === "k")
        return { unit: scale, degrees: false, next: at + 2 + dot };
      return { unit: undefined, degrees: true, next: at + 1 + dot };
    }
    case "ton":
      return found(hints.inchChat ? "shortton" : "tonne");
    case "tonne":
      if (here === "t" && tokens[at + 1]?.kind === "number" && !hints.press) return undefined;
      return found("tonne");
    case "bar":
      return hints.press && (figure?.value ?? 0) >= 20 ? found("bar") : undefined;
    case "inch":
      if (
        here === "in" &&
        !glued &&
        NOT_INCH_BEFORE.has(text(tokens, at + 1)) &&
        ((figure?.value ?? 0) > 12 ||
          // `7 in diameter` of a metric shop.
          (!hints.inchChat && MEASURES.test(text(tokens, at + 1))))
      )
        return undefined;
      if (
        here === "in" &&
        !glued &&
        (text(tokens, at + 1) === "the" || text(tokens, at + 1) === "two")
      )
        return undefined;
      if (here === "in" && text(tokens, at + 1) === "mm") return undefined;
      // No bar is 200 inches long.
      if (here === "in" && !glued && (figure?.value ?? 0) >= 200) return undefined;
      return found("inch");
    case "thou": {
      const of =
        text(tokens, at + 1) === "of" &&
        /^an?$/.test(text(tokens, at + 2)) &&
        text(tokens, at + 3) === "inch";
      return { unit: "thou", degrees: false, next: of ? at + 4 : at + 1 };
    }
    case "h":
      if (here === "h" && !glued && tokens[at + 1]?.kind === "number" && tokens[at + 1]?.glued)
        return undefined;
      return found("h");
    case "s":
      // `ingot 32 second heat`.
      if (here === "second" && (figure?.ordinal || text(tokens, at + 1) === "heat"))
        return undefined;
      return found("s");
    case "c":
      // `71x24 C 1.45 %`: carbon.
      if (!glued && tokens[at + 1]?.kind === "number" && text(tokens, at + 2) === "%")
        return undefined;
      return found(name);
    case "f":
    case "k":
      return found(name);
    default:
      return Object.hasOwn(UNITS, name) ? found(name as UnitName) : undefined;
  }
}

/** Bare `m` after a figure: metres, or minutes where a heat is held. */
export function bareMetre(
  tokens: readonly Token[],
  at: number,
  hints: UnitHints,
  figure: Figure,
): Found | undefined {
  if (text(tokens, at) !== "m" || !isWord(tokens, at)) return undefined;
  const unit = hints.holding || (figure.whole && figure.value > 2) ? "min" : "m";
  return { unit, degrees: false, next: at + 1 };
}
