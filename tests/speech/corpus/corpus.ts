/** The utterances: wordings filled with figures that fit a shop's state. Deterministic. */
import type { ReadingContext } from "../../../src/language/index.js";
import { sayFigure } from "./say-number.js";
import { seeded, seedOf } from "./seeded.js";
import { bareShop, barShop, inchShop } from "./states.js";
import { TALK, WORDINGS } from "./wordings.js";

export interface Utterance {
  readonly id: string;
  readonly part: "tune" | "aside";
  readonly words: string;
  /** The figures said, in order, as said (inches stay inches). */
  readonly figures: readonly number[];
  readonly context: ReadingContext;
  /** Not for the log. */
  readonly talk: boolean;
}

const SHOPS = { bar: barShop, bare: bareShop, inch: inchShop } as const;
/** Figures that are lengths: said in eighths where the shop works in inches. */
const LENGTHS = new Set(["thick", "wide", "long", "depth", "crackLong"]);
const FILLINGS = 2;

function fill(part: Utterance["part"], index: number, filling: number): Utterance | undefined {
  const wording = WORDINGS[part][index];
  if (wording === undefined) return undefined;
  const id = `${part}-${String(index).padStart(2, "0")}-${filling}`;
  const chance = seeded(seedOf(id));
  const shop = SHOPS[wording.shop](chance);
  const figures: number[] = [];
  const words = wording.words.replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = shop.next[name];
    if (value === undefined) throw new RangeError(`${name} is no figure of shop ${wording.shop}`);
    figures.push(value);
    return sayFigure(value, wording.shop === "inch" && LENGTHS.has(name), chance);
  });
  return { id, part, words, figures, context: shop.context, talk: false };
}

function utterances(): Utterance[] {
  const all: Utterance[] = [];
  for (const part of ["tune", "aside"] as const)
    for (let index = 0; index < WORDINGS[part].length; index += 1)
      for (let filling = 0; filling < FILLINGS; filling += 1) {
        const one = fill(part, index, filling);
        if (one && (filling === 0 || one.figures.length > 0)) all.push(one);
      }
  TALK.forEach((words, index) => {
    const part = index % 2 === 0 ? "tune" : "aside";
    const id = `talk-${String(index).padStart(2, "0")}`;
    all.push({
      id,
      part,
      words,
      figures: [],
      context: barShop(seeded(seedOf(id))).context,
      talk: true,
    });
  });
  return all;
}

export const CORPUS: readonly Utterance[] = utterances();
