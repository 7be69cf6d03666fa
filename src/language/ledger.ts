/** What has been understood so far of one message: entries in the making, doubts, leftovers. */
import type { ReadingContext } from "./context.js";
import { asMm, type Fig } from "./parts.js";

/** An entry in the making; checked against the schema at the end. */
export interface Body {
  kind: string;
  [field: string]: unknown;
}
export interface DoubtChoice {
  readonly label: string;
  /** What comes on top of the entries; nothing for `Leave it out`. */
  readonly body: Body | undefined;
}
export interface Doubt {
  readonly about: string;
  readonly choices: readonly DoubtChoice[];
  /** The entry that is recorded without the figure; a choice repeats only what tells which one that is. */
  readonly of: Body | undefined;
  /** The doubted figures as said. */
  readonly figs: readonly Fig[];
}

export interface Ledger {
  readonly bodies: Body[];
  readonly doubts: Doubt[];
  /** Stretches of tokens that were not understood. */
  readonly leftovers: { from: number; to: number }[];
  /** Lines of the trace; those that cost something to word are worded when asked for. */
  readonly trace: (string | (() => string))[];
  /** Rules that guessed something; each lowers the confidence. */
  readonly guesses: Set<string>;
  /** Which figure of the message stands in which field. */
  readonly figures: Map<Body, Map<string, Fig>>;
  /** Fields that were not said but follow from a rule; `units` and `temperatureUnits` where the chat's unit was taken. */
  readonly implied: Map<Body, Set<string>>;
  /** The heats that temperature, operation and duration belong to. */
  heats: Body[];
  heatNamed: boolean;
  operationAfterTemp: boolean;
  size: Body | undefined;
  /** The open frame: crack, removal, ingot, … */
  frame: Body | undefined;
  /** The frame was opened in an earlier clause. */
  soft: boolean;
  /** What the next mass in a melt is. */
  meltMode: string | undefined;
  /** Figures of the pipe are being told. */
  pipeMode: boolean;
  at: string | undefined;
  /** Told before the crack that it belongs to. */
  where: { place?: string; positionMm?: number; depthMm?: number };
  touched: number;
  /** The first of operations told in a row. */
  chain?: Body | undefined;
  /** A note begun in the middle has taken the rest of the message. */
  ended: boolean;
}

export const newLedger = (): Ledger => ({
  bodies: [],
  doubts: [],
  leftovers: [],
  trace: [],
  guesses: new Set(),
  figures: new Map(),
  implied: new Map(),
  heats: [],
  heatNamed: false,
  operationAfterTemp: false,
  size: undefined,
  frame: undefined,
  soft: false,
  meltMode: undefined,
  pipeMode: false,
  at: undefined,
  where: {},
  touched: 0,
  ended: false,
});

export function open(ledger: Ledger, body: Body): Body {
  ledger.bodies.push(body);
  ledger.touched += 1;
  return body;
}

/** Writes a field once. False if another value stands there already. */
export function put(ledger: Ledger, body: Body, field: string, value: unknown, fig?: Fig): boolean {
  if (body[field] !== undefined && body[field] !== value) return false;
  // No size and no weight is nothing or less; a place along the bar may be.
  if (typeof value === "number" && value <= 0 && /(Mm|G)$/.test(field) && field !== "positionMm")
    return false;
  body[field] = value;
  if (fig) {
    fig.used = true;
    if (fig.approx) body.approx = true;
    const figures = ledger.figures.get(body);
    if (figures) figures.set(field, fig);
    else ledger.figures.set(body, new Map([[field, fig]]));
    if (fig.dimension === undefined && field.endsWith("Mm") && !fig.inches)
      imply(ledger, body, "units");
  }
  ledger.touched += 1;
  return true;
}

/** Marks what was not said but follows from a rule. */
export function imply(ledger: Ledger, body: Body, ...fields: readonly string[]): void {
  const known = ledger.implied.get(body);
  if (known) for (const field of fields) known.add(field);
  else ledger.implied.set(body, new Set(fields));
}

export const mm = (fig: Fig, context: ReadingContext): number =>
  asMm(fig, context.units === "inch");
export const isLength = (fig: Fig): boolean =>
  fig.dimension === "length" || fig.dimension === undefined;

/** The size entry of the message: all sizes of the piece are one. */
export function sizeOf(ledger: Ledger): Body {
  ledger.size ??= open(ledger, { kind: "size" });
  return ledger.size;
}

/** The heats that a temperature or an operation belongs to; made if the message has none yet. */
export function heatsOf(ledger: Ledger): Body[] {
  if (ledger.heats.length === 0) ledger.heats = [open(ledger, { kind: "heat" })];
  return ledger.heats;
}

export function newHeat(ledger: Ledger, named: boolean): Body {
  const heat = open(ledger, { kind: "heat" });
  if (named) ledger.chain = undefined;
  ledger.heats = [heat];
  ledger.heatNamed = named;
  ledger.operationAfterTemp = false;
  return heat;
}

export function addOperation(ledger: Ledger, operation: string): void {
  const heats = heatsOf(ledger);
  const first = heats[0];
  if (first?.repeated === true) {
    for (const heat of heats) heat.operation = operation;
    ledger.touched += 1;
    return;
  }
  if (first?.operation !== undefined && first.operation !== operation) {
    const bare = first.temperatureC === undefined;
    ledger.chain = bare ? (ledger.chain ?? first) : undefined;
    newHeat(ledger, false).operation = operation;
    return;
  }
  for (const heat of heats) put(ledger, heat, "operation", operation);
  ledger.operationAfterTemp = first?.temperatureC !== undefined;
}

export function addTemperature(ledger: Ledger, celsius: number, fig: Fig): void {
  const { chain } = ledger;
  // `flattened then squared, 1750 F`: of operations in a row the first has the temperature.
  if (chain && chain.temperatureC === undefined && ledger.heats[0]?.number === undefined) {
    put(ledger, chain, "temperatureC", celsius, fig);
    return;
  }
  const heats = heatsOf(ledger);
  const first = heats[0];
  if (first?.repeated === true) {
    for (const heat of heats) heat.temperatureC = celsius;
    ledger.touched += 1;
    fig.used = true;
    return;
  }
  if (first?.temperatureC !== undefined && first.temperatureC !== celsius) {
    const moved = ledger.operationAfterTemp ? first.operation : undefined;
    if (moved !== undefined) for (const heat of heats) delete heat.operation;
    const heat = newHeat(ledger, false);
    if (moved !== undefined) heat.operation = moved;
    put(ledger, heat, "temperatureC", celsius, fig);
    return;
  }
  for (const heat of heats) put(ledger, heat, "temperatureC", celsius, fig);
}

export function closeFrame(ledger: Ledger): void {
  ledger.frame = undefined;
  ledger.soft = false;
  ledger.meltMode = undefined;
  ledger.pipeMode = false;
}
