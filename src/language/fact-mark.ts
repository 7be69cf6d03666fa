/** What a known word does: it opens a frame, completes one, or waits for the next. */
import { crackMark, goneMark } from "./fact-crack.js";
import { heatMark } from "./fact-heat.js";
import { cooling, ingotMark, meltMark } from "./fact-melt.js";
import { placeMark, routeMark } from "./fact-place.js";
import {
  ahead,
  beginCrack,
  beginRemoval,
  type FactReader,
  figureBefore,
  figureLeft,
  fresh,
  isTrigger,
  wordsAt,
} from "./fact-reader.js";
import { methodMark } from "./fact-removal.js";
import { settingOf } from "./frame-shop.js";
import { addOperation, type Body, closeFrame, put, sizeOf } from "./ledger.js";
import { type Mark, means, onlyFiller, type Part } from "./parts.js";

/** `crack on edge`, `filed 3 off on edge`: where, not how it was worked. */
function isPlaceHere(r: FactReader, i: number): boolean {
  const frame = r.ledger.frame;
  if ((frame?.kind !== "crack" && frame?.kind !== "removal") || frame.place !== undefined)
    return false;
  if (frame.waiting === true || r.ledger.soft) return false;
  return r.parts.slice(0, i).some((one) => /^(crack|removal)$/.test(isTrigger(one) ?? ""));
}

/** `block, 41 square and 84 long`: the next thing said is a size. */
function sizeFollows(r: FactReader, part: Mark): boolean {
  const next = r.all
    .slice(r.all.indexOf(part) + 1)
    .find((one) => one.type !== "stop" && !onlyFiller(one));
  return next?.type === "figure" && next.dimension !== "mass" && next.dimension !== "temperature";
}

/** `22 thick, 80 dia, disc`: what was told as thickness is its height. */
function discFrom(size: Body): void {
  if (size.thicknessMm === undefined || size.widthMm !== undefined || size.heightMm !== undefined)
    return;
  size.heightMm = size.thicknessMm;
  delete size.thicknessMm;
}

const RING_LABELS = /^(diameterMm|heightMm|thicknessMm)$/;
const sizedAsRing = (r: FactReader, i: number): boolean => {
  const at = r.all.indexOf(r.parts[i] as Part);
  return r.all
    .slice(at + 1)
    .some((one) => one.type === "figure" && RING_LABELS.test(one.label ?? ""));
};

/** Words that turn to what the piece is now: `30 thou off the back and it's 14 oz`. */
const STATE =
  /^(its|it's|it is|it's now|it is now|is now|now it's|bar is|blade is|piece is|now|she's|that leaves|leaves|leaving|leaves me|leaving me|which leaves)$/;
const figured = (frame: Body): boolean =>
  ["massG", "lengthMm", "depthMm", "diameterMm"].some((field) => frame[field] !== undefined);

/** A temperature or a heat colour is told. */
const isHot = (r: FactReader): boolean =>
  r.all.some(
    (one) => one.type === "colour" || (one.type === "figure" && one.dimension === "temperature"),
  );

export function takeMark(r: FactReader, part: Mark, i: number) {
  const { ledger, parts, talk } = r;
  const kind = means(part, "kind");
  const operation = means(part, "op");
  if (i === 0 && part.words === "done" && parts[1]?.type === "stop" && figureLeft(r, i)) {
    fresh(r, { kind: "finish" });
    return;
  }
  const method = means(part, "removal");
  const _before = parts[i - 1];
  const frame = ledger.frame;
  if (means(part, "dir") !== undefined) r.direction = means(part, "dir");
  if (means(part, "route") !== undefined) return routeMark(r, means(part, "route") ?? "", false);
  if (means(part, "split") !== undefined) return routeMark(r, undefined, true);
  if (means(part, "gone") !== undefined) return goneMark(r, part, i);
  if (kind === "heat" || means(part, "say") === "next heat") return heatMark(r, part, i);
  // `route spine split`: how the bar is to be cut.
  if (
    part.words === "split" &&
    parts.some((one) => means(one, "route") !== undefined || means(one, "kind") === "route")
  )
    return routeMark(r, undefined, true);
  if (
    kind === "crack" ||
    (/^hairlines?\b/.test(part.words) && (frame?.kind !== "removal" || ledger.soft))
  )
    return crackMark(r, part, i);
  if (operation === "punch" && !talk.heat && !isHot(r)) {
    beginRemoval(r, "punch");
    return;
  }
  if (operation !== undefined) {
    if ((frame?.kind === "goal" || frame?.kind === "ingot") && operation === "taper") return;
    if (operation === "open" && frame?.kind === "crack" && !/ring/.test(part.words)) return;
    if (operation === "edge" && part.words === "on edge" && isPlaceHere(r, i))
      return placeMark(r, "edge", i, "edge");
    closeFrame(ledger);
    addOperation(ledger, operation);
    // The ring that was opened is what the sizes after it measure.
    if (operation === "open" && /\bring\b/.test(part.words) && sizedAsRing(r, i))
      put(ledger, sizeOf(ledger), "shape", "ring");
    if (operation === "punch") ledger.frame = { kind: "removal", method: "punch", waiting: true };
    r.direction = undefined;
    if (operation === "draw" && /\bout\b|stretch|lengthen/.test(part.words)) r.direction = "out";
    if (/\bdown\b/.test(part.words)) r.direction = "down";
    return;
  }
  if (method !== undefined) return methodMark(r, part, i);
  if (kind === "melt") return meltMark(r, part, i);
  if (kind === "ingot") return ingotMark(r, i);
  if (kind === "goal") {
    if (frame?.kind !== "goal") fresh(r, { kind: "goal" });
    ledger.touched += 1;
    return;
  }
  if (kind === "finish") {
    if (frame?.kind === "finish" || parts[i - 1]?.type === "number of heat") return;
    const titled = parts[i + 1]?.type === "stop" && figureLeft(r, i);
    if (
      (part.words === "final" && !titled) ||
      (part.words === "finish" && parts.length > 1 && !figureLeft(r, i))
    )
      return;
    fresh(r, { kind: "finish" });
    return;
  }
  if (kind === "press" || kind === "hammer") {
    if (!talk.shop) return;
    closeFrame(ledger);
    ledger.frame = settingOf(ledger);
    ledger.frame.about = kind;
    ledger.touched += 1;
    return;
  }
  if (
    means(part, "edge") !== undefined &&
    (frame?.kind === "goal" || /edge|dagger|double|single/.test(part.words))
  ) {
    const wanted = r.all.some((one) => means(one, "kind") === "goal");
    const made =
      part.words.includes("edge") &&
      /\bmake it\b|\bmake that\b/.test(r.sentence.lower(0, part.from));
    const goal =
      frame?.kind === "goal" ? frame : wanted || made ? fresh(r, { kind: "goal" }) : undefined;
    if (goal) put(ledger, goal, "edge", means(part, "edge"));
    return;
  }
  const shape = means(part, "ingotshape");
  if (shape !== undefined && frame?.kind === "ingot") {
    put(ledger, frame, "shape", shape);
    return;
  }
  if (means(part, "shape") === "ring" && parts.some((one) => means(one, "kind") === "route"))
    return routeMark(r, "ring", false);
  if (
    means(part, "shape") !== undefined &&
    (frame?.kind === "removal" || frame?.kind === "crack") &&
    /(^| )(in|of|from|off|on)( the| this| that)?$/.test(`${wordsAt(r, i - 2)} ${wordsAt(r, i - 1)}`)
  )
    return;
  if (means(part, "shape") !== undefined && frame?.kind === "removal" && figured(frame))
    closeFrame(ledger);
  // `pipe is 13 deep, disc 79 x 18 now`: the piece, no longer the ingot.
  const pipe = frame?.kind === "ingot" && ledger.pipeMode && frame.isNew !== true;
  if (means(part, "shape") === "disc" && pipe) closeFrame(ledger);
  if (
    means(part, "shape") !== undefined &&
    ledger.frame?.kind !== "ingot" &&
    frame?.kind !== "goal" &&
    frame?.kind !== "melt" &&
    (frame?.kind !== "removal" || ledger.frame === undefined)
  ) {
    const value = means(part, "shape");
    // `opened up the ring on h9`: what was worked.
    const opened = [parts[i - 1], parts[i - 2]].some((one) => means(one, "op") === "open");
    if (opened && !sizedAsRing(r, i)) return;
    if (
      value !== "bar" &&
      (figureLeft(r, i) ||
        figureBefore(r, i) ||
        /\bdis[ck]\b/.test(part.words) ||
        (parts.every((one) => one === part || one.type === "stop" || means(one, "filler")) &&
          sizeFollows(r, part)))
    ) {
      put(ledger, sizeOf(ledger), "shape", value);
      if (value === "disc") discFrom(sizeOf(ledger));
    }
    return;
  }
  if (means(part, "noun") === "pipe" && figureLeft(r, i) && frame?.kind !== "removal") {
    if (frame?.kind !== "ingot") fresh(r, { kind: "ingot" });
    ledger.pipeMode = true;
    return;
  }
  if (means(part, "noun") === "peak" || means(part, "noun") === "ingotG") {
    const noun = means(part, "noun") ?? "";
    if (noun === "ingotG" && !talk.melt && !/ingot/.test(part.words)) return;
    if (!figureLeft(r, i) && noun === "peak") return;
    if (frame?.kind !== "melt")
      ledger.frame =
        ledger.bodies.find((body) => body.kind === "melt") ?? fresh(r, { kind: "melt" });
    ledger.soft = false;
    ledger.meltMode = noun;
    ledger.touched += 1;
    return;
  }
  if (means(part, "cooling") !== undefined && (frame?.kind === "melt" || talk.melt)) {
    const melt = ledger.bodies.find((body) => body.kind === "melt") ?? fresh(r, { kind: "melt" });
    cooling(r, i, melt);
    return;
  }
  if (frame?.kind === "removal" && STATE.test(part.words) && figured(frame)) {
    closeFrame(ledger);
    return;
  }
  if (
    frame?.kind === "crack" &&
    (frame.depthMm ?? frame.lengthMm) !== undefined &&
    /^(bar is|blade is|piece is|block is|bar|the bar)$/.test(part.words)
  ) {
    closeFrame(ledger);
    return;
  }
  const where = means(part, "place");
  if (where !== undefined) return placeMark(r, where, i, part.words);
  // `2 deep on the spine and one 1 deep on the tip`.
  if (
    part.words === "one" &&
    frame?.kind === "crack" &&
    frame.depthMm !== undefined &&
    parts[i - 1]?.type === "mark" &&
    /^(and|also|plus)$/.test(wordsAt(r, i - 1)) &&
    parts[i + 1]?.type === "figure"
  ) {
    beginCrack(r);
    return;
  }
  const size = means(part, "severity");
  // `a fine one on the face`: another crack.
  if (
    size !== undefined &&
    (frame?.kind === "crack"
      ? frame.place !== undefined
      : !frame && ledger.bodies.some((body) => body.kind === "crack")) &&
    wordsAt(r, i + 1) === "one" &&
    // `…, a big one`: with nothing of its own it says how bad the crack is.
    (parts.length > i + 2 || frame?.severity !== undefined) &&
    ![wordsAt(r, i - 1), wordsAt(r, i - 2)].some((word) =>
      /^(its|it's|it is|that's|and it's)$/.test(word),
    )
  ) {
    beginCrack(r).severity = size;
    return;
  }
  if (size !== undefined) {
    if (
      frame?.kind === "crack" &&
      frame.severity === undefined &&
      ahead(parts, i)?.kind !== "crack"
    )
      put(ledger, frame, "severity", size);
    else r.severity = size;
  }
}
