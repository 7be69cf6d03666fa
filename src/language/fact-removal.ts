/** Steel taken away: the method, and its figures. */
import {
  beginRemoval,
  type FactReader,
  figureBefore,
  figureLeft,
  offAfter,
  placeFollows,
  wordsAt,
} from "./fact-reader.js";
import { type Body, mm, put } from "./ledger.js";
import { type Fig, type Mark, means } from "./parts.js";

/** `broke a piece off, 40 g`: the next thing said is a weight. */
function weightFollows(r: FactReader, part: Mark): boolean {
  if (
    !/piece|broke|came off|flaked|slug|knocked|shaved|skimmed|scraped|whittled|dressed/.test(
      part.words,
    )
  )
    return false;
  const next = r.all.slice(r.all.indexOf(part) + 1).find((one) => one.type !== "stop");
  return next?.type === "figure" && next.dimension === "mass" && next.label === undefined;
}

export function methodMark(r: FactReader, part: Mark, i: number): void {
  const { ledger } = r;
  const method = means(part, "removal");
  const frame = ledger.frame;
  if (/^after\b/.test(wordsAt(r, i - 1)) && figureBefore(r, i)) return;
  if (method !== "any") {
    if (frame?.kind === "goal") return;
    if (part.words === "cut" && frame?.kind === "goal") return;
    beginRemoval(r, method);
    return;
  }
  if (
    part.words === "took" ||
    part.words === "off the" ||
    /^(came|come|taken|took) off$|^(remove|removing|removed|knocked off|flaked off)$/.test(
      part.words,
    )
  ) {
    if (part.words !== "off the" && part.words !== "took" && figureLeft(r, i))
      beginRemoval(r, undefined);
    return;
  }
  if (figureLeft(r, i) || ledger.frame?.kind === "removal" || weightFollows(r, part))
    beginRemoval(r, undefined);
  return;
}

export function removalMass(r: FactReader, fig: Fig, frame: Body): boolean {
  const { ledger, parts, context, sentence } = r;
  if (frame.massG !== undefined) return false;
  if (fig.label === "massG") return false;
  const last = context.ingot?.massG;
  const cut = frame.method === "cut" || frame.method === "punch" || frame.method === undefined;
  const lead = parts.some((one) => means(one, "removal") !== undefined);
  // `ground the spine, it's 731 g now`.
  if (/^(it's|its|it is|she's|he's|is|is now|now|weighs)$/.test(wordsAt(r, parts.indexOf(fig) - 1)))
    return false;
  const now = sentence.lower(parts[0]?.from ?? 0, fig.from).startsWith("now");
  if (
    !lead &&
    (now || fig.value > (cut ? 300 : 100) || (last !== undefined && fig.value > last * 0.6))
  )
    return false;
  if (frame.waiting === true) ledger.bodies.push(frame);
  delete frame.waiting;
  return put(ledger, frame, "massG", fig.value, fig);
}

const figured = (frame: Body): boolean =>
  ["massG", "lengthMm", "depthMm"].some((one) => frame[one] !== undefined);

export function removalFigure(r: FactReader, fig: Fig, frame: Body, i: number): boolean {
  const { ledger, context } = r;
  if (fig.chain !== undefined) return false;
  const value = mm(fig, context);
  const method = frame.method;
  let field: string | undefined;
  if (fig.label === "depthMm") field = "depthMm";
  else if (fig.label === "diameterMm") field = "diameterMm";
  else if (fig.label === "lengthMm") {
    // `chiselled, 3 deep 20 long`: the groove; else a length told later is the bar's.
    const groove = method !== "cut" && frame.depthMm !== undefined && value <= 60;
    const bars =
      fig.target ||
      (fig.labelTo === undefined && figured(frame)) ||
      (ledger.soft && !groove) ||
      (method !== "cut" && value > 60);
    field = bars ? undefined : "lengthMm";
  } else if (fig.label === undefined && !fig.target) {
    const hole = r.sentence.lower(fig.to, r.parts[i + 1]?.to ?? fig.to);
    if (method === "punch" || /^holes?\b/.test(hole)) field = "diameterMm";
    else if (method === "cut") field = "lengthMm";
    else if (fig.dimension === "length" || fig.inches || offAfter(r, i)) field = "depthMm";
    else if (!ledger.soft && placeFollows(r, i)) field = "depthMm";
  }
  if (field === undefined || frame[field] !== undefined) return false;
  if (frame.waiting === true) ledger.bodies.push(frame);
  delete frame.waiting;
  return put(ledger, frame, field, value, fig);
}
