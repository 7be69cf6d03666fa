/** Cracks: the words that tell of one, of its end, and its figures. */
import { doubtAbout } from "./doubts.js";
import {
  beginCrack,
  beginRemoval,
  type FactReader,
  fresh,
  LONGEST_CRACK_MM,
  nearRemoval,
  wordsAt,
} from "./fact-reader.js";
import { figureLabel } from "./figure-label.js";
import { type Body, mm, put } from "./ledger.js";
import { type Fig, type Mark, means } from "./parts.js";

export function goneMark(r: FactReader, part: Mark, _i: number): void {
  const { ledger, context } = r;
  const frame = ledger.frame;
  if (
    frame?.kind === "crack" &&
    frame.depthMm === undefined &&
    frame.lengthMm === undefined &&
    !/crack/.test(part.words)
  ) {
    frame.kind = "removal";
    frame.gone = true;
    return;
  }
  if (!/crack|hairline|seam|tear|split/.test(part.words)) return;
  const body = fresh(r, { kind: "removal", gone: true });
  const last = [...(context.last ?? [])].reverse().find((fact) => fact.kind === "crack");
  if (r.place !== undefined) body.place = r.place;
  else if (last?.kind === "crack" && last.place !== undefined) body.place = last.place;
  return;
}

/** Parts after the crack that are looked at. */
const GONE_WITHIN = 8;
const GONE_WITH =
  /^(?:cold shuts?|\S+)(?: (?:on|in|at|along) (?:the )?\S+)?( is| was| got| now| all)* (ground|chisel\w*|filed|sanded|dug|cut|scraped|cleaned) (out|away|off)\b|^\S+(?: (?:on|in|at|along) (?:the )?\S+)? (right |all )?(out|away) (with|w\/|w|using|by)\b/m;

export function crackMark(r: FactReader, part: Mark, i: number): void {
  const { ledger, parts } = r;
  const kind = means(part, "kind");
  const frame = ledger.frame;
  const sev = means(part, "severity");
  if (
    frame?.kind === "removal" &&
    !ledger.soft &&
    kind === "crack" &&
    !/^(there|crack (opened|opening|showing|showed)|found|got|spotted)/.test(part.words) &&
    nearRemoval(r, i) &&
    // `chiselled five grams off the spine and crack on the face`: another thing.
    !(wordsAt(r, i - 1) === "and" && (frame.massG ?? frame.depthMm ?? frame.lengthMm) !== undefined)
  )
    return;
  // `two cracks, hairline on the rim and …`: the count opens none, the details do.
  const counted = parts[i - 1];
  if (
    part.words === "cracks" &&
    i === parts.length - 1 &&
    counted?.type === "figure" &&
    counted.used &&
    r.all.slice(r.all.indexOf(part) + 1).some((one) => means(one, "place") !== undefined)
  ) {
    const body = fresh(r, { kind: "crack" });
    body.justOpened = true;
    return;
  }
  // `crack: tip, hairline, 3/16 long`: nothing but how bad it is.
  if (
    frame?.kind === "crack" &&
    kind !== "crack" &&
    sev !== undefined &&
    frame.severity === undefined &&
    ledger.soft &&
    i === 0 &&
    !parts.some((one) => means(one, "place") !== undefined)
  ) {
    put(ledger, frame, "severity", sev);
    return;
  }
  // `crack bottom hairline`: the same crack, unless `and` or a comma begins another.
  if (
    frame?.kind === "crack" &&
    kind !== "crack" &&
    sev !== undefined &&
    frame.severity === undefined &&
    !ledger.soft &&
    i === parts.length - 1 &&
    wordsAt(r, i - 1) !== "and"
  ) {
    put(ledger, frame, "severity", sev);
    if (r.place !== undefined && frame.place === undefined) frame.place = r.place;
    r.place = undefined;
    return;
  }
  // `crack chiselled away`, `chased the crack out with the chisel`: only what was taken away.
  const end = parts[Math.min(parts.length - 1, i + GONE_WITHIN)]?.to ?? part.to;
  const after = `${r.sentence.lower(part.from, end)}\n${r.sentence.understood(part.from, end)}`;
  if (kind === "crack" && GONE_WITH.test(after)) {
    beginRemoval(r, undefined);
    return;
  }
  // `the top cracked, crack is 6 deep`: of the same one.
  const copula = /^(is|was|about|some)$/.test(wordsAt(r, i + 1)) && parts[i + 2]?.type === "figure";
  if (
    kind === "crack" &&
    sev === undefined &&
    copula &&
    frame?.kind === "crack" &&
    frame.depthMm === undefined &&
    frame.lengthMm === undefined
  ) {
    ledger.soft = false;
    ledger.touched += 1;
    return;
  }
  const reuse = frame?.kind === "crack" && frame.justOpened === true;
  const body = reuse && frame ? frame : beginCrack(r);
  delete body.justOpened;
  if (sev !== undefined) body.severity = sev;
  if (reuse) {
    if (r.severity !== undefined && body.severity === undefined) body.severity = r.severity;
    r.severity = undefined;
    if (r.place !== undefined && body.place === undefined) body.place = r.place;
    r.place = undefined;
  }
  if (sev !== undefined && kind !== "crack" && means(parts[i + 1], "kind") === "crack")
    body.justOpened = true;
  return;
}

export function crackFigure(
  r: FactReader,
  fig: Fig,
  frame: Body,
  coming: { kind: string; gap: number } | undefined,
  i: number,
): boolean {
  const { ledger, context } = r;
  // `5/8 long x 20 thou deep`: a list, but each with a label of a crack.
  const told = /^(depthMm|lengthMm|positionMm)$/;
  if (fig.chain !== undefined && !(fig.list ?? []).every((one) => told.test(one.label ?? "")))
    return false;
  const value = mm(fig, context);
  const label = fig.label;
  if (
    label === "thicknessMm" ||
    label === "widthMm" ||
    label === "heightMm" ||
    label === "square" ||
    label === "massG"
  )
    return false;
  if (label === undefined && coming?.kind === "crack" && coming.gap <= 3) return false;
  // `hairline on the rim and 3 deep underneath`: another place, another crack.
  const opens = i === 0 && ledger.soft && label !== undefined && frame[label] !== undefined;
  if (
    frame.place !== undefined &&
    (opens || (r.parts[i - 1]?.type === "mark" && wordsAt(r, i - 1) === "and")) &&
    [r.parts[i + 1], r.parts[i + 2], r.parts[i + 3]].some(
      (one) => means(one, "place") !== undefined && means(one, "place") !== frame.place,
    )
  ) {
    const other = beginCrack(r);
    return put(ledger, other, label ?? "depthMm", value, fig);
  }
  const piece = ledger.soft || /^(it's|its|it is|she's|and it's|now)$/.test(wordsAt(r, i - 1));
  if (label === "lengthMm" && piece && value > LONGEST_CRACK_MM) return false;
  if (label === "diameterMm") return false;
  if (label === undefined) {
    if (frame.justOpened === true) return false;
    ledger.guesses.add("crack figure");
    if (frame.depthMm !== undefined && frame.lengthMm === undefined)
      return put(ledger, frame, "lengthMm", value, fig);
    if (fig.dimension !== undefined || fig.inches) {
      fig.used = true;
      doubtAbout(ledger, {
        about: "crack-figure",
        choices: ["depthMm", "lengthMm"].map((field) => ({
          label: figureLabel(field, value, context),
          body: { kind: "crack", [field]: value },
        })),
        of: frame,
        figs: [fig],
      });
      ledger.touched += 1;
      return true;
    }
    return false;
  }
  return put(ledger, frame, label, value, fig);
}
