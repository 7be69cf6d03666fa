/** Plain names of routes, places, methods and stages, as they stand on the card and the sheet. */
import type { FactOf } from "../logbook/index.js";
import { type ChatUnits, formatLength, formatSize } from "../units/index.js";

type RouteName = NonNullable<FactOf<"route">["route"]>;

export const ROUTE_LABELS: Readonly<Record<RouteName, string>> = {
  spine: "pipe to the spine",
  face: "pipe to a face",
  end: "pipe to one end",
  ring: "pipe punched out",
};

export const METHOD_LABELS: Readonly<Record<NonNullable<FactOf<"removal">["method"]>, string>> = {
  grind: "ground out",
  chisel: "chiselled out",
  cut: "cut off",
  punch: "punched out",
  file: "filed out",
};

/** "pipe to the spine, split in two"; undefined when no route was said. */
export function routeLabel(route: {
  readonly route?: RouteName | undefined;
  readonly split?: boolean | undefined;
}): string | undefined {
  const parts = [
    route.route === undefined ? undefined : ROUTE_LABELS[route.route],
    route.split === true ? "split in two" : undefined,
  ].filter((part) => part !== undefined);
  return parts.length === 0 ? undefined : parts.join(", ");
}

/** Sizes of a piece or a blade, cold, mm. What is not known is left out. */
export interface CardSize {
  readonly shape: "bar" | "disc" | "block" | "ring" | "blade";
  readonly thicknessMm?: number;
  readonly widthMm?: number;
  readonly lengthMm?: number;
  /** Of a ring: the outside. */
  readonly diameterMm?: number;
  readonly innerDiameterMm?: number;
  readonly heightMm?: number;
}

/** Units for what was measured: to a tenth of a millimetre, not to the half that a plan is told in. */
export const asMeasured = (units: ChatUnits): ChatUnits => ({ ...units, exact: true });

/** The size of a blade wanted or finished. */
export const bladeSize = (facts: {
  readonly lengthMm?: number | undefined;
  readonly widthMm?: number | undefined;
  readonly thicknessMm?: number | undefined;
}): CardSize => ({
  shape: "blade",
  ...(facts.thicknessMm === undefined ? {} : { thicknessMm: facts.thicknessMm }),
  ...(facts.widthMm === undefined ? {} : { widthMm: facts.widthMm }),
  ...(facts.lengthMm === undefined ? {} : { lengthMm: facts.lengthMm }),
});

/** "Ø 71 × 22 mm", "22 × 36 × 180 mm", "36 mm wide"; empty when nothing is known. */
export function sizeLabel(size: CardSize, units: ChatUnits): string {
  const round = [size.diameterMm, size.heightMm].filter((mm) => mm !== undefined);
  const inner =
    size.innerDiameterMm === undefined ? "" : `, hole ${formatLength(size.innerDiameterMm, units)}`;
  if (size.diameterMm !== undefined && round.length === 2) {
    return `Ø ${formatSize(round, units)}${inner}`;
  }
  if (size.diameterMm !== undefined) return `Ø ${formatLength(size.diameterMm, units)}${inner}`;
  // A blade is named by its length, as the trade does; a bar from the thinnest side on.
  const named = {
    thick: size.thicknessMm,
    wide: size.widthMm,
    high: size.heightMm,
    long: size.lengthMm,
  };
  const said = Object.entries(named).filter(
    (entry): entry is [string, number] => entry[1] !== undefined,
  );
  if (said.length >= 3) {
    const sizes = said.map(([, mm]) => mm);
    return formatSize(size.shape === "blade" ? [...sizes].reverse() : sizes, units);
  }
  return said.map(([label, mm]) => `${formatLength(mm, units)} ${label}`).join(", ");
}

const CARBON_FROM = { said: "", melt: " by the charge", assumed: " assumed" } as const;
/** "1.5 % C", "1.32 % C by the charge", "1.5 % C assumed". */
export const carbonLabel = (card: {
  readonly carbonPct: number;
  readonly carbonFrom: keyof typeof CARBON_FROM;
}): string => `${Math.round(card.carbonPct * 100) / 100} % C${CARBON_FROM[card.carbonFrom]}`;
