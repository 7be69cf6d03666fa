/** What each way of writing a unit means, in the one internal system (mm, g, °C, min, kN, bar). */
import {
  celsiusFromFahrenheit,
  celsiusFromKelvin,
  G_PER_OUNCE,
  G_PER_POUND,
  KN_PER_SHORT_TON_FORCE,
  KN_PER_TONNE_FORCE,
  MM_PER_FOOT,
  MM_PER_INCH,
  MM_PER_THOU,
  PA_PER_BAR,
  PA_PER_PSI,
} from "../units/index.js";
import { UNIT_WORDS } from "./vocabulary.js";

export type Dimension =
  | "length"
  | "mass"
  | "temperature"
  | "duration"
  | "force"
  | "pressure"
  | "percent";
export interface Unit {
  readonly name: string;
  readonly dimension: Dimension;
  /** From the said figure to the internal system. */
  readonly take: (value: number) => number;
}

const by =
  (factor: number) =>
  (value: number): number =>
    value * factor;
const unit = (name: string, dimension: Dimension, take: (value: number) => number): Unit => ({
  name,
  dimension,
  take,
});

export const UNITS = {
  mm: unit("mm", "length", by(1)),
  cm: unit("cm", "length", by(10)),
  m: unit("m", "length", by(1000)),
  inch: unit("inch", "length", by(MM_PER_INCH)),
  foot: unit("foot", "length", by(MM_PER_FOOT)),
  thou: unit("thou", "length", by(MM_PER_THOU)),
  g: unit("g", "mass", by(1)),
  kg: unit("kg", "mass", by(1000)),
  oz: unit("oz", "mass", by(G_PER_OUNCE)),
  lb: unit("lb", "mass", by(G_PER_POUND)),
  c: unit("c", "temperature", by(1)),
  f: unit("f", "temperature", celsiusFromFahrenheit),
  k: unit("k", "temperature", celsiusFromKelvin),
  s: unit("s", "duration", (value) => value / 60),
  min: unit("min", "duration", by(1)),
  h: unit("h", "duration", by(60)),
  tonne: unit("tonne", "force", by(KN_PER_TONNE_FORCE)),
  shortton: unit("shortton", "force", by(KN_PER_SHORT_TON_FORCE)),
  kn: unit("kn", "force", by(1)),
  bar: unit("bar", "pressure", by(1)),
  psi: unit("psi", "pressure", (value) => (value * PA_PER_PSI) / PA_PER_BAR),
  percent: unit("percent", "percent", by(1)),
} as const satisfies Record<string, Unit>;

export type UnitName = keyof typeof UNITS;

/** Every spelling → the line it stands in (`degree` and `ton` are settled by their neighbours). */
export const UNIT_OF_WORD: ReadonlyMap<string, string> = new Map(
  Object.entries(UNIT_WORDS).flatMap(([name, words]) =>
    words.split(", ").map((word) => [word, name] as const),
  ),
);
