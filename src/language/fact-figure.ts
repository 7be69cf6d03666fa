/** Where a figure goes: to the open frame if that takes it, else to the size, the weight or the heat. */
import { doubtAbout } from "./doubts.js";
import { crackFigure } from "./fact-crack.js";
import { takeTemperature } from "./fact-heat.js";
import { takeMass } from "./fact-mass.js";
import { counts, elsewhere } from "./fact-no-size.js";
import {
  ahead,
  beginCrack,
  beginRemoval,
  type FactReader,
  figureAfter,
  fresh,
  isTrigger,
  LONGEST_CRACK_MM,
  nearDirection,
  offAfter,
  understood,
  wordsAt,
} from "./fact-reader.js";
import { removalFigure } from "./fact-removal.js";
import { sizeFigure } from "./fact-size.js";
import { isBareTemperature } from "./fact-temperature.js";
import { figureLabel } from "./figure-label.js";
import { finishFigure, goalFigure } from "./frame-blade.js";
import { ingotFigure } from "./frame-ingot.js";
import { isCarbon, meltFigure } from "./frame-melt.js";
import { shopFigure } from "./frame-shop.js";
import { closeFrame, heatsOf, isLength, mm, put, sizeOf } from "./ledger.js";
import { type Fig, means, type Part } from "./parts.js";

/** `40 from the tang 2 deep crack`: only labelled figures stand before the crack. */
function crackAfterFigures(parts: readonly Part[], at: number): boolean {
  for (let i = at + 1; i < parts.length; i += 1) {
    const part = parts[i];
    if (part?.type === "figure" && !/^(depthMm|lengthMm|positionMm)$/.test(part.label ?? ""))
      return false;
    const kind = isTrigger(part);
    if (kind !== undefined) return kind === "crack";
    if (part?.type === "stop") return false;
  }
  return false;
}

const HOLE = /^(the |a )?holes?$/;
const textOf = (r: FactReader, part: Part): string => r.sentence.lower(part.from, part.to);
export function takeFigure(r: FactReader, fig: Fig, i: number) {
  const { ledger, parts, context, talk, sentence } = r;
  const frame = ledger.frame;
  const coming = ahead(parts, i);
  if (fig.or !== undefined) {
    const value = mm(fig, context);
    const other = mm({ ...fig, value: fig.or }, context);
    const label = fig.label ?? "thicknessMm";
    doubtAbout(ledger, {
      about: "which-figure",
      choices: [other, value].map((one) => ({
        label: figureLabel(label, one, context),
        body: { kind: "size", [label]: one },
      })),
      of: undefined,
      figs: [fig],
    });
    fig.used = true;
    ledger.touched += 1;
    return;
  }
  if (fig.dimension === "temperature" && !(fig.q.unit === "c" && fig.value < 7))
    return takeTemperature(r, fig);
  if (fig.dimension === "duration") {
    const target =
      frame?.kind === "melt" || talk.melt
        ? [ledger.bodies.find((body) => body.kind === "melt") ?? fresh(r, { kind: "melt" })]
        : heatsOf(ledger);
    for (const body of target) put(ledger, body, "durationMin", fig.value, fig);
    return;
  }
  if (
    (fig.dimension === "force" ||
      fig.dimension === "pressure" ||
      (fig.label === "bore" && isLength(fig)) ||
      frame?.kind === "setting" ||
      (fig.dimension === "mass" && coming?.kind === "hammer")) &&
    shopFigure(fig, coming?.kind === "hammer" ? "hammer" : String(frame?.about), ledger, context)
  )
    return;
  // `melt 16 slow cooled, ingot came out 64 by 36`: its sizes.
  const out = frame?.kind === "melt" && ledger.meltMode === "ingotG";
  const sized = fig.chain !== undefined || /^(diameter|height|width)Mm$/.test(fig.label ?? "");
  if (out && sized && isLength(fig)) {
    const ingot = fresh(r, { kind: "ingot" });
    if (ingotFigure(fig, parts, ingot, ledger, context)) return;
  }
  if (frame?.kind === "melt" && meltFigure(fig, parts, i, frame, ledger, sentence, understood))
    return;
  if (!frame && talk.melt && isCarbon(fig)) {
    const melt = ledger.bodies.find((body) => body.kind === "melt") ?? fresh(r, { kind: "melt" });
    put(ledger, melt, "carbonPct", fig.value, fig);
    return;
  }
  if (isBareTemperature(r, fig, i)) return takeTemperature(r, fig);
  const chained = fig.chain !== undefined;
  if (fig.label === "positionMm" && frame?.kind === "removal") {
    fig.label = undefined;
    put(ledger, frame, "place", "tang");
  }
  if (frame?.kind === "ingot" && ingotFigure(fig, parts, frame, ledger, context)) return;
  if (frame?.kind === "goal" && goalFigure(fig, parts, i, frame, ledger, context)) return;
  if (frame?.kind === "finish" && finishFigure(fig, parts, i, frame, ledger, context)) return;
  if (fig.dimension === "mass" || (fig.label === "massG" && fig.dimension === undefined))
    return takeMass(r, fig, i, coming);
  if (!isLength(fig)) return;
  // `down to seventeen thick from twenty`: what it was.
  if (
    fig.label === undefined &&
    wordsAt(r, i - 1) === "from" &&
    ledger.size?.thicknessMm !== undefined &&
    !frame &&
    r.direction === "down"
  ) {
    fig.used = true;
    return;
  }
  if (fig.label === undefined && !chained && elsewhere(r, fig, i)) return;
  // `8 mm hole punched in the tang`.
  const next = parts[i + 1];
  const punched =
    next !== undefined && HOLE.test(textOf(r, next)) && means(parts[i + 2], "op") === "punch";
  if (punched && fig.label === undefined && !chained) {
    put(ledger, beginRemoval(r, "punch"), "diameterMm", mm(fig, context), fig);
    return;
  }
  if (counts(r, fig, i, coming)) {
    fig.used = true;
    return;
  }
  if (
    r.direction !== undefined &&
    nearDirection(r, i) &&
    fig.label === undefined &&
    !fig.q.ordinal &&
    !chained &&
    !offAfter(r, i) &&
    frame?.kind !== "crack" &&
    (frame?.kind !== "removal" || fig.target)
  ) {
    put(
      ledger,
      sizeOf(ledger),
      r.direction === "out" ? "lengthMm" : "thicknessMm",
      mm(fig, context),
      fig,
    );
    r.direction = undefined;
    return;
  }
  if (frame?.kind === "crack" && crackFigure(r, fig, frame, coming, i)) return;
  // `cut 3/4 off the butt and 30 thou off the spine`: another place, another removal.
  if (
    frame?.kind === "removal" &&
    (frame.lengthMm ?? frame.depthMm ?? frame.place) !== undefined &&
    (/^(and|plus|then|also)$/.test(wordsAt(r, i - 1)) ||
      (ledger.soft && i === 0 && (frame.lengthMm ?? frame.depthMm) !== undefined)) &&
    offAfter(r, i) &&
    fig.label === undefined
  ) {
    const thin = fig.q.unit === "thou";
    const method = frame.method === "cut" && thin ? undefined : frame.method;
    closeFrame(ledger);
    const body = beginRemoval(r, typeof method === "string" ? method : undefined);
    put(ledger, body, method === "cut" ? "lengthMm" : "depthMm", mm(fig, context), fig);
    return;
  }
  if (frame?.kind === "removal" && removalFigure(r, fig, frame, i)) return;
  if (
    (fig.label === "positionMm" || fig.label === "depthMm") &&
    !frame &&
    crackAfterFigures(parts, i)
  ) {
    const body = beginCrack(r);
    body.justOpened = true;
    put(ledger, body, fig.label, mm(fig, context), fig);
    return;
  }
  if (
    coming?.kind === "crack" &&
    !chained &&
    !/^(thickness|width|diameter|height)Mm$/.test(fig.label ?? "") &&
    coming.gap <= 5 &&
    (fig.label !== "lengthMm" || mm(fig, context) <= LONGEST_CRACK_MM) &&
    (fig.label !== undefined || coming.gap <= 3)
  ) {
    const body = beginCrack(r);
    body.justOpened = true;
    put(
      ledger,
      body,
      fig.label === "depthMm" ? "depthMm" : fig.label === "positionMm" ? "positionMm" : "lengthMm",
      mm(fig, context),
      fig,
    );
    return;
  }
  // `12 cut off the tang`, `3 ground away`.
  if (
    coming?.kind === "removal" &&
    coming.gap === 1 &&
    fig.label === undefined &&
    !chained &&
    !fig.target &&
    (/\b(off|away|out)$/.test(wordsAt(r, i + 1)) ||
      /^(off|away|of the|off the|out of)\b/.test(wordsAt(r, i + 2))) &&
    !figureAfter(r, i + 1)
  ) {
    const method = means(parts[i + 1], "removal");
    const known = method === "any" ? undefined : method;
    const body = beginRemoval(r, known);
    put(ledger, body, known === "cut" ? "lengthMm" : "depthMm", mm(fig, context), fig);
    return;
  }
  if (offAfter(r, i) && fig.label === undefined && !chained) {
    const body = beginRemoval(r, undefined);
    body.pendingFigure = fig;
    const method =
      body.method ??
      parts
        .slice(i)
        .map((one) => means(one, "removal"))
        .find((one) => one !== undefined && one !== "any");
    const end = parts
      .slice(i + 1)
      .map((one) => means(one, "place"))
      .find((one) => one !== undefined);
    const cut = method === "cut" || (method === undefined && /^(end|tip|tang)$/.test(end ?? ""));
    put(ledger, body, cut ? "lengthMm" : "depthMm", mm(fig, context), fig);
    return;
  }
  // `a crack showed up on the rim during the third heat, 4 deep`.
  const [crack, ...others] = ledger.bodies.filter((body) => body.kind === "crack");
  if (fig.label === "depthMm" && crack && others.length === 0 && !frame && !chained)
    if (put(ledger, crack, "depthMm", mm(fig, context), fig)) return;
  // `punched on h6 950, hole 10.5 dia`: what was punched out.
  const hole = parts.slice(Math.max(0, i - 2), i + 4).some((one) => HOLE.test(textOf(r, one)));
  if (fig.label === "diameterMm" && hole && ledger.heats.some((one) => one.operation === "punch")) {
    put(ledger, beginRemoval(r, "punch"), "diameterMm", mm(fig, context), fig);
    return;
  }
  // `15 down to 13`: thickness.
  if (fig.down === true && fig.label === undefined && !chained && !frame) {
    put(ledger, sizeOf(ledger), "thicknessMm", mm(fig, context), fig);
    return;
  }
  sizeFigure(r, fig);
}
