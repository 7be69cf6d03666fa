/**
 * Names of glow colours. Published tables differ by more than 150 K on one name, and daylight shifts them all; so a
 * name is only ever an interval, the widest over the tables, and never a temperature.
 */
export interface ColourInterval {
  readonly lowC: number;
  readonly highC: number;
}

/** One row a table says about a colour, °C; a single figure stands for both ends. */
interface Row {
  readonly source: string;
  readonly lowC: number;
  readonly highC: number;
}
const row = (source: string, lowC: number, highC = lowC): Row => ({ source, lowC, highC });

/** Printed values, °C ([S33], [S34] converted from °F). [S34] and [S35] from memory or reprints. */
const TABLES = {
  "black red": [row("S31", 426, 593), row("S32", 525), row("S33", 514), row("S34", 532, 566)],
  "dull red": [row("S31", 594, 814), row("S32", 699), row("S33", 699), row("S34", 566, 635)],
  "dark cherry": [row("S32", 800), row("S33", 799), row("S34", 635)],
  cherry: [
    row("S31", 815, 870),
    row("S32", 900),
    row("S33", 902),
    row("S34", 746),
    row("S35", 760),
  ],
  "bright cherry": [row("S31", 871, 981), row("S32", 1000), row("S33", 1021), row("S34", 843)],
  orange: [
    row("S31", 982, 1092),
    row("S32", 1100),
    row("S33", 1099),
    row("S34", 899, 941),
    row("S35", 871),
  ],
  yellow: [
    row("S31", 1093, 1258),
    row("S32", 1200),
    row("S33", 1199),
    row("S34", 996),
    row("S35", 982),
  ],
  white: [
    row("S31", 1259, 1315),
    row("S32", 1300, 1400),
    row("S33", 1299, 1399),
    row("S34", 1204),
    row("S35", 1204),
  ],
} as const satisfies Record<string, readonly Row[]>;

export type ColourName = keyof typeof TABLES;
export const COLOUR_NAMES = Object.keys(TABLES) as readonly ColourName[];

/** Other names of the same colours, as the tables and the trade use them. */
const ALSO: Readonly<Record<string, ColourName>> = {
  "first red": "black red",
  "dark blood red": "black red",
  "blood red": "dull red",
  "dark red": "dull red",
  "low red": "dull red",
  "dull cherry": "dark cherry",
  "dark cherry red": "dark cherry",
  "dull cherry red": "dark cherry",
  "cherry red": "cherry",
  "full cherry": "cherry",
  "full cherry red": "cherry",
  "medium cherry": "cherry",
  "full red": "cherry",
  red: "cherry",
  "bright red": "bright cherry",
  "light red": "bright cherry",
  "light cherry": "bright cherry",
  "light cherry red": "bright cherry",
  "bright cherry red": "bright cherry",
  "clear cherry": "bright cherry",
  salmon: "orange",
  "deep orange": "orange",
  "dull orange": "orange",
  "dark orange": "orange",
  "light orange": "yellow",
  "clear orange": "yellow",
  "bright orange": "yellow",
  "light yellow": "yellow",
  lemon: "yellow",
  "lemon yellow": "yellow",
  "yellow white": "white",
  "white heat": "white",
  "bright white": "white",
};

/** Interval rounded outward to this, K: the tables are no finer. */
const GRAIN_K = 5;

/** What the tables say on a colour, row by row, with their source ids. */
export const colourRows = (name: ColourName): readonly Row[] => TABLES[name];

/** The name we use for a colour that a smith said in any of its names; nothing if the tables do not know it. */
export function colourName(said: string): ColourName | undefined {
  const name = said
    .toLowerCase()
    .replace(/[\s-]+/g, " ")
    .trim();
  if (Object.hasOwn(TABLES, name)) return name as ColourName;
  return Object.hasOwn(ALSO, name) ? ALSO[name] : undefined;
}

/**
 * Where a glow of this name may lie, °C: the widest interval over the published tables, rounded outward to 5 K.
 * Error: that is the interval; ambient light moves it further. Source: [S31] to [S35].
 */
export function heatColour(said: string): ColourInterval | undefined {
  const name = colourName(said);
  if (!name) return undefined;
  const rows: readonly Row[] = TABLES[name];
  return {
    lowC: Math.floor(Math.min(...rows.map((r) => r.lowC)) / GRAIN_K) * GRAIN_K,
    highC: Math.ceil(Math.max(...rows.map((r) => r.highC)) / GRAIN_K) * GRAIN_K,
  };
}
