/**
 * Seventh step, for the clauses that tell of steel: marks open frames (heat, crack, removal, ingot, …), figures go to the
 * open frame if it takes them, else to the size, the weight or the heat.
 */

import type { ReadingContext } from "./context.js";
import { doubtAbout } from "./doubts.js";
import { figureLabel } from "./figure-label.js";
import {
  finishFigure,
  goalFigure,
  ingotFigure,
  meltFigure,
  settingOf,
  shopFigure,
} from "./frames.js";
import { TEMP_FROM_C, TEMP_TO_C, TEMP_TO_F } from "./items.js";
import {
  addOperation,
  addTemperature,
  type Body,
  closeFrame,
  heatsOf,
  imply,
  isLength,
  type Ledger,
  mm,
  newHeat,
  open,
  put,
  sizeOf,
} from "./ledger.js";
import { nameAfter } from "./names.js";
import { type Fig, means, type Part } from "./parts.js";
import { fahrenheit } from "./scales.js";
import type { Sentence } from "./sentence.js";

export interface Talk {
  /** The message names a heat. */
  readonly heat: boolean;
  /** It speaks of melting. */
  readonly melt: boolean;
  readonly ingot: boolean;
  /** A force, a pressure or the weight of a hammer is told. */
  readonly shop: boolean;
}

const isTrigger = (part: Part | undefined): string | undefined => {
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
function ahead(
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
const begun = (frame: Body): boolean =>
  Object.keys(frame).length === 2 && frame.method !== undefined;

const LONGEST_CRACK_MM = 80;
/** Two figures beside a crack with one below this are the crack's, not the bar's. */
const THINNEST_BAR_MM = 6;

/** Reads one clause into the ledger. */
export function readFacts(
  parts: readonly Part[],
  ledger: Ledger,
  context: ReadingContext,
  talk: Talk,
  sentence: Sentence,
  all: readonly Part[] = parts,
): void {
  const inch = context.units === "inch";
  let direction: string | undefined;
  let place: string | undefined;
  let severity: string | undefined;
  let justHeat = false;
  const fresh = (body: Body): Body => {
    closeFrame(ledger);
    ledger.frame = open(ledger, body);
    return body;
  };
  const crack = (): Body => {
    const body = fresh({ kind: "crack" });
    if (place !== undefined) body.place = place;
    if (severity !== undefined) body.severity = severity;
    place = undefined;
    severity = undefined;
    return body;
  };
  const removal = (method: string | undefined): Body => {
    const frame = ledger.frame;
    if (
      frame?.kind === "removal" &&
      (method === undefined ||
        frame.method === undefined ||
        frame.method === method ||
        begun(frame))
    ) {
      if (begun(frame) && method !== undefined && frame.method !== undefined) return frame;
      if (method !== undefined) put(ledger, frame, "method", method);
      ledger.touched += 1;
      return frame;
    }
    const body = fresh({ kind: "removal" });
    if (method !== undefined) body.method = method;
    if (place !== undefined) body.place = place;
    place = undefined;
    return body;
  };

  for (let i = 0; i < parts.length; i += 1) {
    const part = parts[i];
    if (!part) continue;
    if (part.type === "time") {
      ledger.at = part.at;
      continue;
    }
    if (part.type === "colour") {
      const next = parts[i + 1];
      const heats = heatsOf(ledger);
      const words = sentence.raw(part.from, part.to);
      for (const heat of heats) put(ledger, heat, "colour", words);
      ledger.trace.push(`colour: ${words}${means(next, "kind") === "heat" ? " heat" : ""}`);
      continue;
    }
    if (part.type === "number of heat") {
      const heats = ledger.heats;
      const first = heats[0];
      if (first && first.number === undefined) put(ledger, first, "number", part.number);
      else {
        const group = [...heats];
        const heat = newHeat(ledger, true);
        heat.number = part.number;
        if (parts[i - 1]?.type === "number of heat") ledger.heats = [...group, heat];
      }
      justHeat = true;
      continue;
    }
    if (part.type === "figure") {
      if (part.used) continue;
      takeFigure(part, i);
      if (part.used) justHeat = false;
      continue;
    }
    if (part.type !== "mark" || understood.has(part)) continue;
    takeMark(part, i);
  }

  function takeMark(part: Extract<Part, { type: "mark" }>, i: number) {
    const kind = means(part, "kind");
    const operation = means(part, "op");
    if (i === 0 && part.words === "done" && parts[1]?.type === "stop" && figureLeft(i)) {
      fresh({ kind: "finish" });
      return;
    }
    const method = means(part, "removal");
    const before = parts[i - 1];
    const frame = ledger.frame;
    if (means(part, "dir") !== undefined) direction = means(part, "dir");
    if (means(part, "route") !== undefined) return routeMark(means(part, "route") ?? "", false);
    if (means(part, "split") !== undefined) return routeMark(undefined, true);
    if (means(part, "gone") !== undefined) {
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
      if (!/crack/.test(part.words)) return;
      const body = fresh({ kind: "removal", gone: true });
      const last = [...(context.last ?? [])].reverse().find((fact) => fact.kind === "crack");
      if (place !== undefined) body.place = place;
      else if (last?.kind === "crack" && last.place !== undefined) body.place = last.place;
      return;
    }
    if (kind === "heat" || means(part, "say") === "next heat") {
      const count =
        before?.type === "figure"
          ? before
          : means(before, "filler") !== undefined || means(before, "say") !== undefined
            ? parts[i - 2]
            : undefined;
      if (
        frame?.kind === "crack" ||
        frame?.kind === "removal" ||
        frame?.kind === "melt" ||
        frame?.kind === "ingot" ||
        frame?.kind === "goal"
      )
        closeFrame(ledger);
      const ordinal = [parts[i - 1], parts[i - 2]].find(
        (one): one is Fig => one?.type === "figure" && one.q.ordinal,
      );
      if (
        count?.type === "figure" &&
        !count.q.ordinal &&
        count.q.whole &&
        count.dimension === undefined &&
        count.value <= 10 &&
        count.value > 0 &&
        count.label === undefined &&
        (part.words === "heats" || part.words === "heat")
      ) {
        const more = before?.type === "mark" && /more|further|another|extra/.test(before.words);
        const another = means(parts[i - 2], "say") === "another";
        if (
          !more &&
          !another &&
          !all.some(
            (one) =>
              one.type === "time" ||
              means(one, "op") !== undefined ||
              (one.type === "figure" && one !== count && !one.used),
          ) &&
          !/\b(did|done)\b/.test(sentence.raw(parts[0]?.from ?? 0, part.from).toLowerCase())
        ) {
          ledger.leftovers.push({ from: count.from, to: part.to });
          count.used = true;
          return;
        }
        count.used = true;
        ledger.heats = Array.from({ length: count.value }, () => open(ledger, { kind: "heat" }));
        ledger.heatNamed = true;
        return;
      }
      if (part.words === "h" && parts[i + 1]?.type !== "number of heat") return;
      if (part.words === "heat" && colourBefore(i) && !ordinal) {
        heatsOf(ledger);
        ledger.heatNamed = true;
        return;
      }
      if (ledger.heats.length === 0 || ledger.heatNamed) newHeat(ledger, true);
      else ledger.touched += 1;
      ledger.heatNamed = kind === "heat";
      if (ordinal) {
        ordinal.used = true;
        const heat = ledger.heats[0];
        if (heat) put(ledger, heat, "number", ordinal.value);
      }
      justHeat = true;
      return;
    }
    if (kind === "crack" || (/^hairlines?\b/.test(part.words) && frame?.kind !== "removal")) {
      const sev = means(part, "severity");
      if (
        frame?.kind === "removal" &&
        !ledger.soft &&
        kind === "crack" &&
        !/^(there|crack (opened|opening|showing|showed)|found|got|spotted)/.test(part.words) &&
        nearRemoval(i)
      )
        return;
      const reuse = frame?.kind === "crack" && frame.justOpened === true;
      const body = reuse && frame ? frame : crack();
      delete body.justOpened;
      if (sev !== undefined) body.severity = sev;
      if (reuse) {
        if (place !== undefined && body.place === undefined) body.place = place;
        place = undefined;
      }
      if (sev !== undefined && kind !== "crack" && means(parts[i + 1], "kind") === "crack")
        body.justOpened = true;
      return;
    }
    if (operation === "punch" && !talk.heat) {
      removal("punch");
      return;
    }
    if (operation !== undefined) {
      if ((frame?.kind === "goal" || frame?.kind === "ingot") && operation === "taper") return;
      if (operation === "open" && frame?.kind === "crack" && !/ring/.test(part.words)) return;
      closeFrame(ledger);
      addOperation(ledger, operation);
      if (operation === "punch") ledger.frame = { kind: "removal", method: "punch", waiting: true };
      direction = undefined;
      if (operation === "draw" && /\bout\b|stretch|lengthen/.test(part.words)) direction = "out";
      if (operation === "draw" && /\bdown\b/.test(part.words)) direction = "down";
      return;
    }
    if (method !== undefined) {
      if (/^after\b/.test(wordsAt(i - 1)) && figureBefore(i)) return;
      if (method !== "any") {
        if (frame?.kind === "goal") return;
        if (part.words === "cut" && frame?.kind === "goal") return;
        removal(method);
        return;
      }
      if (
        part.words === "took" ||
        part.words === "off the" ||
        /^(came|come|taken|took) off$|^(remove|removing|removed|knocked off|flaked off)$/.test(
          part.words,
        )
      ) {
        if (part.words !== "off the" && part.words !== "took" && figureLeft(i)) removal(undefined);
        return;
      }
      if (figureLeft(i) || ledger.frame?.kind === "removal") removal(undefined);
      return;
    }
    if (kind === "melt") {
      if (frame?.kind === "ingot" && part.words === "melt") return;
      const melt =
        frame?.kind === "melt"
          ? frame
          : (ledger.bodies.find((body) => body.kind === "melt") ?? fresh({ kind: "melt" }));
      ledger.frame = melt;
      ledger.soft = false;
      if (/charge/.test(part.words)) ledger.meltMode = "charge";
      const next = parts[i + 1];
      if (
        part.words === "melt" &&
        next?.type === "figure" &&
        next.dimension === undefined &&
        next.q.whole &&
        next.label === undefined &&
        next.chain === undefined
      )
        put(ledger, melt, "number", next.value, next);
      return;
    }
    if (kind === "ingot") return ingotMark(i);
    if (kind === "goal") {
      if (frame?.kind !== "goal") fresh({ kind: "goal" });
      ledger.touched += 1;
      return;
    }
    if (kind === "finish") {
      if (frame?.kind === "finish") return;
      const titled = parts[i + 1]?.type === "stop" && figureLeft(i);
      if (
        (part.words === "final" && !titled) ||
        (part.words === "finish" && parts.length > 1 && !figureLeft(i))
      )
        return;
      fresh({ kind: "finish" });
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
      if (frame?.kind === "goal") put(ledger, frame, "edge", means(part, "edge"));
      return;
    }
    const shape = means(part, "ingotshape");
    if (shape !== undefined && frame?.kind === "ingot") {
      put(ledger, frame, "shape", shape);
      return;
    }
    if (
      means(part, "shape") !== undefined &&
      frame?.kind !== "ingot" &&
      frame?.kind !== "goal" &&
      frame?.kind !== "melt" &&
      frame?.kind !== "removal"
    ) {
      const value = means(part, "shape");
      if (value !== "bar" && (figureLeft(i) || figureBefore(i) || /\bdis[ck]\b/.test(part.words)))
        put(ledger, sizeOf(ledger), "shape", value);
      return;
    }
    if (means(part, "noun") === "pipe" && figureLeft(i) && frame?.kind !== "removal") {
      if (frame?.kind !== "ingot") fresh({ kind: "ingot" });
      ledger.pipeMode = true;
      return;
    }
    if (means(part, "noun") === "peak" || means(part, "noun") === "ingotG") {
      const noun = means(part, "noun") ?? "";
      if (noun === "ingotG" && !talk.melt && !/ingot/.test(part.words)) return;
      if (!figureLeft(i) && noun === "peak") return;
      if (frame?.kind !== "melt")
        ledger.frame =
          ledger.bodies.find((body) => body.kind === "melt") ?? fresh({ kind: "melt" });
      ledger.soft = false;
      ledger.meltMode = noun;
      ledger.touched += 1;
      return;
    }
    if (means(part, "cooling") !== undefined && (frame?.kind === "melt" || talk.melt)) {
      const melt = ledger.bodies.find((body) => body.kind === "melt") ?? fresh({ kind: "melt" });
      cooling(i, melt);
      return;
    }
    const where = means(part, "place");
    if (where !== undefined) return placeMark(where, i, part.words);
    const size = means(part, "severity");
    if (size !== undefined) {
      if (
        frame?.kind === "crack" &&
        frame.severity === undefined &&
        ahead(parts, i)?.kind !== "crack"
      )
        put(ledger, frame, "severity", size);
      else severity = size;
    }
  }

  function colourBefore(i: number): boolean {
    return (
      parts[i - 1]?.type === "colour" ||
      (parts[i - 1]?.type === "mark" && parts[i - 2]?.type === "colour")
    );
  }
  /** `ground out the crack`: the crack is what went away. */
  function nearRemoval(i: number): boolean {
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
  function figureLeft(i: number): boolean {
    return parts.some(
      (one, k) => k !== i && one.type === "figure" && !one.used && one.q.ordinal === false,
    );
  }
  function figureBefore(i: number): boolean {
    return parts.slice(0, i).some((one) => one.type === "figure");
  }
  function routeMark(route: string | undefined, split: boolean): void {
    const body =
      ledger.bodies.find((one) => one.kind === "route") ?? open(ledger, { kind: "route" });
    if (route !== undefined) put(ledger, body, "route", route);
    if (split) put(ledger, body, "split", true);
    ledger.touched += 1;
    for (const one of parts)
      if (split && one.type === "figure" && one.dimension === undefined && one.value === 2)
        one.used = true;
  }

  function placeMark(where: string, i: number, words: string) {
    const frame = ledger.frame;
    const routed = where === "spine" || where === "face" || where === "end";
    if (routed && parts.some((one) => means(one, "kind") === "route"))
      return routeMark(where, false);
    if (frame?.kind === "goal" || frame?.kind === "finish") return;
    if (
      where === "tang" &&
      parts[i + 1]?.type === "figure" &&
      frame?.kind !== "crack" &&
      frame?.kind !== "removal"
    )
      return;
    const coming = ahead(parts, i);
    if (frame?.kind === "removal" || frame?.kind === "crack") {
      if (frame.waiting === true) return;
      if (frame.place === undefined) {
        if (coming?.kind === "crack" && coming.gap <= 2 && frame.kind === "crack") place = where;
        else put(ledger, frame, "place", where);
        return;
      }
      if (frame.place === where) return;
      const lead = parts[i - 1];
      const second =
        parts
          .slice(Math.max(0, i - 4), i)
          .some(
            (one) =>
              one.type === "mark" &&
              /^(and|one|the one|and the|and a|also|plus|also a|and one)$/.test(one.words),
          ) ||
        parts
          .slice(Math.max(0, i - 4), i)
          .some((one) => one.type === "figure" && one.q.spoken && one.value === 1);
      if (
        frame.kind === "crack" &&
        second &&
        !(lead?.type === "mark" && /near|towards/.test(lead.words))
      ) {
        for (const one of parts.slice(Math.max(0, i - 4), i))
          if (one.type === "figure" && one.value === 1 && one.label === undefined) one.used = true;
        const next = crack();
        next.place = where;
        if (frame.severity !== undefined && severity !== undefined) next.severity = severity;
        return;
      }
      ledger.leftovers.push({
        from: i > 0 ? (parts[i]?.from ?? 0) : (parts[i]?.from ?? 0),
        to: parts[i]?.to ?? 0,
      });
      return;
    }
    if (frame?.kind === "ingot" && /top|bottom/.test(words)) return;
    place = where;
  }

  function cooling(i: number, melt: Body): void {
    const from = parts[i]?.to ?? 0;
    let to = from;
    for (let k = i + 1; k < parts.length; k += 1) {
      const part = parts[k];
      if (
        !part ||
        part.type === "stop" ||
        part.type === "figure" ||
        means(part, "noun") === "ingotG" ||
        means(part, "kind") === "ingot"
      )
        break;
      if (part.type === "mark" && /^(and|then)$/.test(part.words)) break;
      to = part.to;
      if (part.type === "unknown" || part.type === "mark") understood.add(part);
    }
    const words = sentence.raw(from, to);
    if (words !== "") put(ledger, melt, "cooling", words);
    else {
      const before = parts[i - 1];
      if (
        before &&
        (before.type === "unknown" || before.type === "mark") &&
        means(before, "kind") === undefined
      ) {
        put(ledger, melt, "cooling", sentence.raw(before.from, before.to));
        understood.add(before);
      }
    }
  }

  function ingotMark(i: number): void {
    const frame = ledger.frame;
    const name = nameAfter(parts, i, sentence);
    const isNew =
      /\b(new|fresh)\b/.test(sentence.lower(parts[0]?.from ?? 0, parts[i]?.from ?? 0)) ||
      parts.slice(0, i).some((one) => means(one, "ingotshape") !== undefined);
    if (
      frame?.kind === "melt" &&
      /ingot out|result/.test(sentence.lower(parts[i]?.from ?? 0, (parts[i]?.to ?? 0) + 1))
    )
      return;
    const body = frame?.kind === "ingot" ? frame : fresh({ kind: "ingot" });
    if (isNew) body.isNew = true;
    for (const one of parts.slice(0, i))
      if (means(one, "ingotshape") !== undefined) body.shape = means(one, "ingotshape");
    if (name) {
      body.name = name.name;
      for (const one of name.parts) {
        understood.add(one);
        if (one.type === "figure") one.used = true;
      }
    }
    ledger.touched += 1;
  }

  function takeFigure(fig: Fig, i: number) {
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
      return takeTemperature(fig);
    if (fig.dimension === "duration") {
      const target =
        frame?.kind === "melt" || talk.melt
          ? [ledger.bodies.find((body) => body.kind === "melt") ?? fresh({ kind: "melt" })]
          : heatsOf(ledger);
      for (const body of target) put(ledger, body, "durationMin", fig.value, fig);
      return;
    }
    if (
      (fig.dimension === "force" ||
        fig.dimension === "pressure" ||
        frame?.kind === "setting" ||
        (fig.dimension === "mass" && coming?.kind === "hammer")) &&
      shopFigure(fig, coming?.kind === "hammer" ? "hammer" : String(frame?.about), ledger, context)
    )
      return;
    if (frame?.kind === "melt" && meltFigure(fig, parts, i, frame, ledger, sentence, understood))
      return;
    const chained = fig.chain !== undefined;
    const bareTemp =
      fig.dimension === undefined &&
      !chained &&
      fig.label === undefined &&
      !fig.inches &&
      !(direction !== undefined && nearDirection(i) && wordsAt(i - 1) !== "at");
    if (bareTemp && !frame?.kind.match(/^(goal|finish|ingot|melt)$/)) {
      const beside = ledger.heats.length > 0;
      const after = parts[i - 1];
      const at =
        after?.type === "mark" &&
        /^(at|around|about|roughly|to|in at|approx|circa|~|somewhere around|reheated to|back up to|brought up to)$/.test(
          after.words,
        );
      if (
        beside &&
        fig.value >= TEMP_FROM_C &&
        fig.value <= (inch ? TEMP_TO_F : TEMP_TO_C) &&
        ledger.heats[0]?.temperatureC === undefined
      )
        return takeTemperature(fig);
      const free = !frame || (wordsAt(i - 1) === "at" && /^(removal|crack)$/.test(frame.kind));
      if (!beside && free && fig.value >= TEMP_FROM_C && fig.value <= TEMP_TO_C) {
        // `960 this time, heat 5`; `pulled it at 955`.
        const told = all.some((one) => one.type === "figure" && one.dimension === "temperature");
        const strange = parts.some((one) => one.type === "unknown");
        if (
          !told &&
          (talk.heat ? i === 0 : /^(at|back up to|up to)$/.test(wordsAt(i - 1)) && !strange)
        )
          return takeTemperature(fig);
      }
      if (beside && at && justHeat && ledger.heats[0]?.temperatureC === undefined)
        return takeTemperature(fig);
    }
    if (fig.label === "positionMm" && frame?.kind === "removal") {
      fig.label = undefined;
      put(ledger, frame, "place", "tang");
    }
    if (frame?.kind === "ingot" && ingotFigure(fig, parts, frame, ledger, context)) return;
    if (frame?.kind === "goal" && goalFigure(fig, parts, i, frame, ledger, context)) return;
    if (frame?.kind === "finish" && finishFigure(fig, parts, i, frame, ledger, context)) return;
    if (fig.dimension === "mass") {
      if (frame?.kind === "removal" && removalMass(fig, frame)) return;
      if (
        frame?.kind !== "removal" &&
        coming?.kind === "removal" &&
        (fig.label === undefined || frame?.kind !== "crack")
      ) {
        put(ledger, removal(undefined), "massG", fig.value, fig);
        return;
      }
      if (offAfter(i)) {
        put(ledger, removal(undefined), "massG", fig.value, fig);
        return;
      }
      if (put(ledger, sizeOf(ledger), "massG", fig.value, fig)) return;
      return;
    }
    if (fig.label === "massG" && fig.dimension === undefined) {
      const grams = inch ? undefined : fig.value;
      if (grams !== undefined) put(ledger, sizeOf(ledger), "massG", grams, fig);
      return;
    }
    if (!isLength(fig)) return;
    if (fig.label === undefined && !chained && elsewhere(fig, i)) return;
    if (counts(fig, i, coming)) {
      fig.used = true;
      return;
    }
    if (
      direction !== undefined &&
      nearDirection(i) &&
      fig.label === undefined &&
      !chained &&
      !offAfter(i) &&
      frame?.kind !== "crack" &&
      (frame?.kind !== "removal" || fig.target)
    ) {
      put(
        ledger,
        sizeOf(ledger),
        direction === "out" ? "lengthMm" : "thicknessMm",
        mm(fig, context),
        fig,
      );
      direction = undefined;
      return;
    }
    if (frame?.kind === "crack" && crackFigure(fig, frame, coming)) return;
    if (frame?.kind === "removal" && removalFigure(fig, frame, i)) return;
    if (
      coming?.kind === "crack" &&
      !chained &&
      fig.label !== "thicknessMm" &&
      fig.label !== "widthMm" &&
      coming.gap <= 5 &&
      (fig.label !== "lengthMm" || mm(fig, context) <= LONGEST_CRACK_MM) &&
      (fig.label !== undefined || coming.gap <= 3)
    ) {
      const body = crack();
      body.justOpened = true;
      put(
        ledger,
        body,
        fig.label === "depthMm"
          ? "depthMm"
          : fig.label === "positionMm"
            ? "positionMm"
            : "lengthMm",
        mm(fig, context),
        fig,
      );
      return;
    }
    if (offAfter(i) && fig.label === undefined && !chained) {
      const body = removal(undefined);
      body.pendingFigure = fig;
      const method =
        body.method ??
        parts
          .slice(i)
          .map((one) => means(one, "removal"))
          .find((one) => one !== undefined && one !== "any");
      put(ledger, body, method === "cut" ? "lengthMm" : "depthMm", mm(fig, context), fig);
      return;
    }
    sizeFigure(fig);
  }

  function takeTemperature(fig: Fig): void {
    const celsius = fahrenheit(fig, context);
    const told = (body: Body): void => {
      if (fig.q.unit !== undefined) return;
      imply(ledger, body, "temperatureUnits");
      if (fig.dimension === undefined) imply(ledger, body, "temperatureC");
      if (celsius !== fig.value && context.temperatureUnits !== "f")
        imply(ledger, body, "fahrenheit");
    };
    if (ledger.frame?.kind === "melt" || (talk.melt && celsius > TEMP_TO_C)) {
      const melt = ledger.bodies.find((body) => body.kind === "melt") ?? fresh({ kind: "melt" });
      put(ledger, melt, "temperatureC", celsius, fig);
      told(melt);
      return;
    }
    addTemperature(ledger, celsius, fig);
    for (const heat of ledger.heats) told(heat);
  }

  function wordsAt(i: number): string {
    const part = parts[i];
    return part?.type === "mark" ? part.words : "";
  }
  /** `18 mm from the tip`, `three times`: nothing that a field holds. */
  function elsewhere(fig: Fig, i: number): boolean {
    const next = parts[i + 1];
    const times =
      wordsAt(i + 1) === "times" ||
      wordsAt(i + 1) === "cycles" ||
      wordsAt(i + 1) === "passes" ||
      wordsAt(i + 1) === "blows";
    const from =
      means(next, "noun") === "from" &&
      [parts[i + 2], parts[i + 3]].some((one) => means(one, "place") !== undefined);
    if (!times && !from) return false;
    let to = parts[i + 1]?.to ?? fig.to;
    if (from)
      for (const one of [parts[i + 2], parts[i + 3]])
        if (one?.type === "mark") {
          understood.add(one);
          to = one.to;
          if (means(one, "place") !== undefined) break;
        }
    ledger.leftovers.push({ from: fig.from, to });
    fig.used = true;
    return true;
  }
  /** `2 cracks, one on the rim`: no size. */
  function counts(fig: Fig, i: number, coming: { kind: string } | undefined): boolean {
    if (fig.dimension !== undefined || !fig.q.whole || fig.label !== undefined) return false;
    if (fig.chain !== undefined || fig.value > 20) return false;
    const plural = parts
      .slice(i + 1, i + 4)
      .some((one) => isTrigger(one) === "crack" && one.type === "mark" && one.words.endsWith("s"));
    if (coming?.kind === "crack" && plural) return true;
    const next = parts[i + 1];
    return (
      fig.q.spoken &&
      fig.value === 1 &&
      ledger.frame?.kind === "crack" &&
      next !== undefined &&
      means(next, "filler") !== undefined
    );
  }
  /** The figure stands right after `out`, `down` or `to`. */
  function nearDirection(i: number): boolean {
    const before = [parts[i - 1], parts[i - 2]];
    if (means(parts[i - 1], "noun") === "from") before.push(parts[i - 3]);
    return (
      before.some((one) => means(one, "dir") !== undefined || means(one, "op") === "draw") ||
      /(^| )(to|at|is|now)$/.test(wordsAt(i - 1))
    );
  }

  function offAfter(i: number): boolean {
    const next = parts[i + 1];
    return (
      next?.type === "mark" &&
      /^(off|off the|of the|off it|out of the|away|off of|off that|of|came off|off in scale)$/.test(
        next.words,
      ) &&
      (next.words.startsWith("off") ||
        ledger.frame?.kind === "removal" ||
        next.words === "came off")
    );
  }

  function removalMass(fig: Fig, frame: Body): boolean {
    if (frame.massG !== undefined) return false;
    if (fig.label === "massG") return false;
    const last = context.ingot?.massG;
    const cut = frame.method === "cut" || frame.method === "punch" || frame.method === undefined;
    const lead = parts.some((one) => means(one, "removal") !== undefined);
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

  function removalFigure(fig: Fig, frame: Body, i: number): boolean {
    if (fig.chain !== undefined) return false;
    const value = mm(fig, context);
    const method = frame.method;
    let field: string | undefined;
    if (fig.label === "depthMm") field = "depthMm";
    else if (fig.label === "diameterMm") field = "diameterMm";
    else if (fig.label === "lengthMm")
      field =
        fig.target || ledger.soft || (method !== "cut" && value > 60) ? undefined : "lengthMm";
    else if (fig.label === undefined && !fig.target) {
      if (method === "punch") field = "diameterMm";
      else if (method === "cut") field = "lengthMm";
      else if (fig.dimension === "length" || fig.inches || offAfter(i)) field = "depthMm";
      else if (!ledger.soft && placeFollows(i)) field = "depthMm";
    }
    if (field === undefined || frame[field] !== undefined) return false;
    if (frame.waiting === true) ledger.bodies.push(frame);
    delete frame.waiting;
    return put(ledger, frame, field, value, fig);
  }

  function placeFollows(i: number): boolean {
    return parts.slice(i + 1, i + 4).some((one) => one.type === "mark" && /off/.test(one.words));
  }

  function crackFigure(
    fig: Fig,
    frame: Body,
    coming: { kind: string; gap: number } | undefined,
  ): boolean {
    if (fig.chain !== undefined) return false;
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
    if (label === "lengthMm" && ledger.soft && value > LONGEST_CRACK_MM) return false;
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

  function sizeFigure(fig: Fig) {
    const label = fig.label;
    if (fig.chain !== undefined) return sizeChain(fig);
    const value = mm(fig, context);
    const disc =
      ledger.size?.shape === "disc" || parts.some((one) => means(one, "shape") === "disc");
    if (label === "square") {
      const size = sizeOf(ledger);
      if (put(ledger, size, "thicknessMm", value, fig)) put(ledger, size, "widthMm", value, fig);
      return;
    }
    if (
      label === undefined ||
      label === "depthMm" ||
      label === "positionMm" ||
      label === "bottomDiameterMm" ||
      label === "carbonPct" ||
      label === "bore" ||
      label === "bite" ||
      label === "tangLengthMm"
    )
      return;
    const field = disc && label === "thicknessMm" ? "heightMm" : label;
    put(ledger, sizeOf(ledger), field, value, fig);
  }

  function sizeChain(fig: Fig): void {
    const list = all.filter((one): one is Fig => one.type === "figure" && one.chain === fig.chain);
    if (list.some((one) => !isLength(one))) return;
    const thinnest = Math.min(...list.map((one) => mm(one, context)));
    if (
      ledger.frame?.kind === "crack" &&
      !ledger.soft &&
      list.length === 2 &&
      thinnest < THINNEST_BAR_MM
    )
      return;
    const size = sizeOf(ledger);
    const free = list.filter((one) => one.label === undefined);
    for (const one of list)
      if (one.label !== undefined) {
        const disc = size.shape === "disc";
        if (one.label === "square") {
          put(ledger, size, "thicknessMm", mm(one, context), one);
          put(ledger, size, "widthMm", mm(one, context), one);
        } else
          put(
            ledger,
            size,
            disc && one.label === "thicknessMm" ? "heightMm" : one.label,
            mm(one, context),
            one,
          );
      }
    const values = free.map((one) => mm(one, context)).sort((a, b) => a - b);
    const shape =
      size.shape ??
      parts.map((one) => means(one, "shape")).find((one) => one !== undefined && one !== "bar");
    const round =
      shape === "disc" ||
      shape === "ring" ||
      (context.ingot?.piece?.shape === "disc" &&
        shape === undefined &&
        values.length === 2 &&
        list.length === 2 &&
        false);
    const names =
      shape === "disc" || (round && values.length === 2)
        ? ["heightMm", "diameterMm"].filter((name) => list.every((one) => one.label !== name))
        : ["thicknessMm", "widthMm", "lengthMm"].filter((name) =>
            list.every((one) => one.label !== name),
          );
    if (values.length > names.length) return;
    const before = names.filter(
      (name) => size[name] === undefined || names.length === values.length,
    );
    const sorted = [...free].sort((a, b) => mm(a, context) - mm(b, context));
    for (let k = 0; k < values.length; k += 1) {
      const field = before[k] ?? "";
      if (size[field] !== undefined && size[field] !== values[k]) return;
    }
    sorted.forEach((one, k) => {
      put(ledger, size, before[k] ?? "", mm(one, context), one);
    });
    imply(ledger, size, ...before.slice(0, sorted.length));
  }
}

/** Parts that were understood although they are unknown words (names, coolings, what was charged). */
export const understood = new WeakSet<Part>();
