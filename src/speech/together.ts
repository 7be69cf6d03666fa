/** Figures of one note seen together: steel keeps its volume. Logarithms of chances. */
import type { ReadingContext } from "../language/index.js";
import type { FigureKind } from "./figure-kinds.js";

const DENSITY_G_MM3 = 0.0078;
const MM_PER_INCH = 25.4;
/** Share of notes whose figures do not belong together. Common practice, no source; 0.05 to 0.3. */
const APART = 0.15;
/** A bar measured by hand against its weight: spread of the logarithm. Common practice, no source; 0.03 to 0.1. */
const BAR_WIDTH = 0.06;
/** How full of steel the cylinder around an ingot is. Common practice, no source; 0.5 to 1. */
const FULL = 0.75;
const FULL_WIDTH = 0.2;

export type Figures = Partial<Record<FigureKind, number>>;

/** Near zero where the figures agree with the weight of the steel, down to about -5 where they can not. */
export function togetherLog(figures: Figures, context: ReadingContext): number {
  const unit = context.units === "inch" ? MM_PER_INCH : 1;
  const { thick, wide, long, across, high, newmass } = figures;
  let log = 0;
  const steel = knownVolume(context);
  if (thick !== undefined && wide !== undefined && long !== undefined && steel !== undefined) {
    log += agree(Math.log((thick * wide * long * unit ** 3) / steel), BAR_WIDTH);
    if (thick > wide) log -= 1;
  } else if (thick !== undefined && wide !== undefined && thick > wide) log -= 1;
  if (across !== undefined && high !== undefined) {
    if (newmass !== undefined) {
      const grams = newmass < 10 ? newmass * 1000 : newmass;
      const around = Math.PI * ((across * unit) / 2) ** 2 * high * unit;
      log += agree(Math.log(grams / DENSITY_G_MM3 / around / FULL), FULL_WIDTH);
    }
    if (high > across) log -= 1;
  }
  return log;
}

function knownVolume(context: ReadingContext): number | undefined {
  const { massG, piece } = context.ingot ?? {};
  if (
    piece?.thicknessMm !== undefined &&
    piece.widthMm !== undefined &&
    piece.lengthMm !== undefined
  ) {
    return piece.thicknessMm * piece.widthMm * piece.lengthMm;
  }
  return massG === undefined ? undefined : massG / DENSITY_G_MM3;
}

const agree = (off: number, width: number): number =>
  Math.log(
    (1 - APART) * Math.exp(-0.5 * (off / width) ** 2) +
      APART * Math.exp(-Math.abs(off) * 1.5) * 0.1 +
      1e-4,
  );
