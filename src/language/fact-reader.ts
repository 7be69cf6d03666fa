/** What the rules for one clause share: the state of the clause, opened frames, and looks to either side. */
import type { ReadingContext } from "./context.js";
import { type Body, closeFrame, type Ledger, open, put } from "./ledger.js";
import { means, type Part } from "./parts.js";
import type { Sentence } from "./sentence.js";

export interface Talk {
  /** The message names a heat. */
  readonly heat: boolean;
  /** It names a working operation. */
  readonly worked: boolean;
  /** It speaks of melting. */
  readonly melt: boolean;
  readonly ingot: boolean;
  /** A force, a pressure or the weight of a hammer is told. */
  readonly shop: boolean;
}

/** One clause being read: what it has said so far that the next word may lean on. */
export interface FactReader {
  readonly parts: readonly Part[];
  /** Parts of the whole message. */
  readonly all: readonly Part[];
  readonly ledger: Ledger;
  readonly context: ReadingContext;
  readonly talk: Talk;
  readonly sentence: Sentence;
  /** A disc is named in the clause. */
  readonly disc: boolean;
  direction: string | undefined;
  /** A place or a severity that waits for what it belongs to. */
  place: string | undefined;
  severity: string | undefined;
  /** The crack that took a place said before it. */
  lent?: Body | undefined;
  justHeat: boolean;
}

/** Parts that were understood although they are unknown words (names, coolings, what was charged). */
export const understood = new WeakSet<Part>();

export const isTrigger = (part: Part | undefined): string | undefined => {
  if (part?.type !== "mark") return undefined;
  if (means(part, "kind") === "crack" || /^hairlines?\b/.test(part.words)) return "crack";
  if (means(part, "removal") !== undefined && part.words !== "took" && part.words !== "off the")
    return "removal";
  const kind = means(part, "kind");
  if (kind !== undefined) return kind;
  if (means(part, "op") !== undefined) return "op";
  return undefined;
};

/** The next mark in the clause that begins something. */
export function ahead(
  parts: readonly Part[],
  at: number,
): { kind: string; gap: number; off: boolean } | undefined {
  let off = false;
  for (let i = at + 1; i < parts.length; i += 1) {
    const part = parts[i];
    if (!part || part.type === "stop") return undefined;
    if (
      part.type === "mark" &&
      (part.words === "off" || part.words === "off the" || part.words === "away")
    )
      off = true;
    if (part.type === "mark" && /^after\b/.test(part.words)) return undefined;
    const kind = isTrigger(part);
    if (kind !== undefined) return { kind, gap: i - at, off };
    if (part.type === "figure") return undefined;
  }
  return undefined;
}

/** A removal of which only the method is known. */
export const begun = (frame: Body): boolean =>
  Object.keys(frame).length === 2 && frame.method !== undefined;

export const LONGEST_CRACK_MM = 80;
/** Two figures beside a crack with one below this are the crack's, not the bar's. */
export const THINNEST_BAR_MM = 6;

export function fresh(r: FactReader, body: Body): Body {
  const { ledger } = r;
  closeFrame(ledger);
  ledger.frame = open(ledger, body);
  return body;
}

export function beginCrack(r: FactReader): Body {
  const body = fresh(r, { kind: "crack" });
  const { where } = r.ledger;
  r.ledger.where = {};
  const place = r.place ?? where.place;
  if (place !== undefined) body.place = place;
  if (r.place !== undefined) r.lent = body;
  if (where.positionMm !== undefined) body.positionMm = where.positionMm;
  if (where.depthMm !== undefined) body.depthMm = where.depthMm;
  if (r.severity !== undefined) body.severity = r.severity;
  r.place = undefined;
  r.severity = undefined;
  return body;
}

export function beginRemoval(r: FactReader, method: string | undefined): Body {
  const { ledger } = r;
  const frame = ledger.frame;
  const where = r.parts.map((one) => means(one, "place")).find((one) => one !== undefined);
  const another =
    ledger.soft &&
    method !== undefined &&
    frame?.kind === "removal" &&
    frame.place !== undefined &&
    where !== undefined &&
    where !== frame.place;
  if (
    frame?.kind === "removal" &&
    !another &&
    (method === undefined || frame.method === undefined || frame.method === method || begun(frame))
  ) {
    if (begun(frame) && method !== undefined && frame.method !== undefined) return frame;
    if (method !== undefined) put(ledger, frame, "method", method);
    ledger.touched += 1;
    return frame;
  }
  const worked = ledger.heats.some((heat) => heat.operation === "punch") ? "punch" : undefined;
  const hole = ledger.bodies.find((body) => body.kind === "removal" && body.method === "punch");
  // `punched a nine mil hole, heat three, lost fifteen grams`: of the same hole.
  if (worked !== undefined && method === undefined && hole && hole.massG === undefined) {
    closeFrame(ledger);
    ledger.frame = hole;
    ledger.touched += 1;
    return hole;
  }
  const body = fresh(r, { kind: "removal" });
  // `punched h4, lost 11 g`: by the punch.
  const by = method ?? worked;
  if (by !== undefined) body.method = by;
  const place = r.place ?? ledger.where.place;
  ledger.where = {};
  if (place !== undefined) body.place = place;
  r.place = undefined;
  return body;
}

export function wordsAt(r: FactReader, i: number): string {
  const { parts } = r;
  const part = parts[i];
  return part?.type === "mark" ? part.words : "";
}

export function figureLeft(r: FactReader, i: number): boolean {
  const { parts } = r;
  return parts.some(
    (one, k) => k !== i && one.type === "figure" && !one.used && one.q.ordinal === false,
  );
}

/** A figure stands within the next few words, before a stop: what went away is told after the verb. */
export function figureAfter(r: FactReader, i: number): boolean {
  for (let k = i + 1; k < r.parts.length && k < i + 4; k += 1) {
    const one = r.parts[k];
    if (one?.type === "stop") return false;
    if (one?.type === "figure") return one.label === undefined && one.chain === undefined;
  }
  return false;
}

export function figureBefore(r: FactReader, i: number): boolean {
  const { parts } = r;
  return parts.slice(0, i).some((one) => one.type === "figure");
}

export function colourBefore(r: FactReader, i: number): boolean {
  const { parts } = r;
  return (
    parts[i - 1]?.type === "colour" ||
    (parts[i - 1]?.type === "mark" && parts[i - 2]?.type === "colour")
  );
}

/** `ground out the crack`: the crack is what went away. */
export function nearRemoval(r: FactReader, i: number): boolean {
  const { parts } = r;
  for (let k = i - 1; k >= 0 && k > i - 8; k -= 1) {
    const part = parts[k];
    if (
      part?.type === "figure" &&
      (part.dimension !== undefined || !part.q.whole || part.value > 10)
    )
      return false;
    if (means(part, "removal") !== undefined || means(part, "op") === "punch") return true;
  }
  return false;
}

/** The figure stands right after `out`, `down` or `to`. */
export function nearDirection(r: FactReader, i: number): boolean {
  const { parts } = r;
  const rough = means(parts[i - 1], "approx") === undefined ? 0 : 1;
  const before = [parts[i - 1 - rough], parts[i - 2 - rough]];
  if (means(parts[i - 1], "noun") === "from") before.push(parts[i - 3]);
  // `drew at 950 C to 172`.
  const hot = parts[i - 2];
  if (wordsAt(r, i - 1) === "to" && hot?.type === "figure" && hot.dimension === "temperature")
    return true;
  return (
    before.some((one) => means(one, "dir") !== undefined || means(one, "op") === "draw") ||
    /(^| )(to|at|is|now)$/.test(wordsAt(r, i - 1))
  );
}

export function offAfter(r: FactReader, i: number): boolean {
  const { ledger, parts } = r;
  const next = parts[i + 1];
  return (
    next?.type === "mark" &&
    /^(off|off the|of the|off it|out of the|away|off of|off that|of|came off|off in scale|came out|out)$/.test(
      next.words,
    ) &&
    (next.words.startsWith("off") || ledger.frame?.kind === "removal" || next.words === "came off")
  );
}

export function placeFollows(r: FactReader, i: number): boolean {
  const { parts } = r;
  return parts.slice(i + 1, i + 4).some((one) => one.type === "mark" && /off/.test(one.words));
}
