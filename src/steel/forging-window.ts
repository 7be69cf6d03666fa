/** Between which temperatures this steel may be worked, and what sets each end. */
import type { Composition } from "./composition.js";
import {
  a1C,
  acmC,
  EUTECTOID_CARBON_PCT,
  MOST_CARBON_IN_AUSTENITE_PCT,
  solidusC,
} from "./iron-carbon.js";
import type { SteelNote } from "./range.js";

/** Where the last phosphorus-rich liquid of a casting freezes, and so melts again, °C (950 to 954). [S15] */
export const PHOSPHIDE_EUTECTIC_C = 952;
/** Phosphorus of that liquid, wt%. [S15] */
export const PHOSPHIDE_EUTECTIC_P_PCT = 6.89;
/** Share of phosphorus that freezing austenite takes from the liquid. [S13], from memory, high. */
const PHOSPHORUS_PARTITION = 0.13;
/** Iron–iron sulphide eutectic, °C. [S10], from memory, high. */
export const SULPHIDE_EUTECTIC_C = 988;

/** Judgements, each with the range within which a careful smith may set another. */
export const WINDOW_RULES = {
  /** K over A1 below which forging stops: force is high and pearlite comes back. 15 to 50. */
  floorOverA1K: 25,
  /** K under Acm at the top of the working band. 20 to 50. Memory of [S17]. */
  workUnderAcmK: 30,
  /** K under Acm at the bottom of the working band: the fall within one heat. 200 to 250. Memory of [S17]. */
  workSpanK: 250,
  /** K that the hottest spot stays under the solidus. 80 to 150. Common practice, no source. */
  underSolidusK: 100,
  /** Ceiling of the first heats of a casting with phosphorus, °C: 12 to 22 K under its last liquid. 930 to 940. */
  phosphorusCeilingC: 935,
  /** wt% P from which the last liquid counts. 0.03 to 0.08; unknown counts as above. */
  phosphorusFromPct: 0.05,
  /** Ceiling with sulphur that no manganese ties, °C. 960 to 975. */
  sulphurCeilingC: 968,
  /** wt% S from which it counts, and Mn/S that ties it. 3 to 5. From memory, high. */
  sulphurFromPct: 0.01,
  manganeseToSulphur: 5,
  /** The window is never taken narrower than this, K: with little carbon the ceiling then stands above Acm, and a note says so. */
  leastSpanK: 100,
} as const;

export type FloorReason = "a1";
export type CeilingReason = "acm" | "solidus" | "phosphorus" | "sulphur";

export interface ForgingWindow {
  /** Stop here and heat again, °C. */
  readonly floorC: number;
  /** Never hotter than this, °C. */
  readonly ceilingC: number;
  /** The band to work in, °C. */
  readonly workFromC: number;
  readonly workToC: number;
  readonly acmC: number;
  readonly solidusC: number;
  readonly floorReason: FloorReason;
  readonly ceilingReason: CeilingReason;
  readonly notes: readonly SteelNote[];
}

export interface SteelInHand extends Composition {
  /** True after a homogenising soak or many cycles: the casting's last liquid has spread. Taken as false if not said. */
  readonly homogenised?: boolean;
}

/**
 * Share of a casting that freezes last as phosphide eutectic, 0 to 1, at most (phosphorus spreads back and lessens it).
 * Shape: (P_eutectic / P)^(1/(k−1)), k = 0.13: 0.77 % of it at 0.10 %P. Holds: P above 0. Source: [S16], [S15], [S13].
 */
export function lastLiquidFraction(pPct: number): number {
  if (pPct <= 0) return 0;
  return Math.min(1, (PHOSPHIDE_EUTECTIC_P_PCT / pPct) ** (1 / (PHOSPHORUS_PARTITION - 1)));
}

/**
 * The forging window of a steel in hand, °C.
 * Floor: A1 + 25. Ceiling: the lowest of Acm (above it the carbides that carry the pattern dissolve), solidus − 100, the
 * phosphorus limit of a casting not homogenised, and the sulphur limit. Working band: Acm − 250 to Acm − 30, inside both.
 * Holds: 0.77 to 2.05 %C. Error: ±15 K on each end; the margins are judgements, see `WINDOW_RULES`.
 * Source: [S09], [S11], [S15], [S16]; habits of the trade as recalled from [S17], [S18].
 */
export function forgingWindow(steel: SteelInHand): ForgingWindow {
  const rules = WINDOW_RULES;
  const acm = acmC(steel.carbonPct, steel);
  const solidus = solidusC(steel.carbonPct, steel);
  const floorC = a1C(steel) + rules.floorOverA1K;
  const notes = new Set<SteelNote>();
  if (steel.carbonPct < EUTECTOID_CARBON_PCT) notes.add("carbon-below-eutectoid");
  if (steel.carbonPct > MOST_CARBON_IN_AUSTENITE_PCT) notes.add("cast-iron");
  if (steel.siPct) notes.add("alloy-shift-from-memory");
  if (acm < floorC + rules.leastSpanK) notes.add("ceiling-above-acm");

  const limits: { readonly reason: CeilingReason; readonly tempC: number }[] = [
    { reason: "acm", tempC: Math.max(acm, floorC + rules.leastSpanK) },
    { reason: "solidus", tempC: solidus - rules.underSolidusK },
  ];
  const phosphorus = phosphorusNote(steel);
  if (phosphorus) notes.add(phosphorus);
  if (!steel.homogenised) {
    notes.add("not-homogenised");
    if (phosphorus !== "phosphorus-below-limit") {
      limits.push({ reason: "phosphorus", tempC: rules.phosphorusCeilingC });
    }
  }
  if (sulphurIsLoose(steel)) {
    notes.add("sulphur-not-tied");
    limits.push({ reason: "sulphur", tempC: rules.sulphurCeilingC });
  }
  const lowest = limits.reduce((least, next) => (next.tempC < least.tempC ? next : least));
  const ceilingC = lowest.tempC;
  const top = Math.min(ceilingC, Math.max(acm - rules.workUnderAcmK, floorC + rules.leastSpanK));
  return {
    floorC,
    ceilingC,
    workFromC: Math.min(top, Math.max(floorC, acm - rules.workSpanK)),
    workToC: top,
    acmC: acm,
    solidusC: solidus,
    floorReason: "a1",
    ceilingReason: lowest.reason,
    notes: [...notes],
  };
}

function phosphorusNote({ pPct, homogenised }: SteelInHand): SteelNote | undefined {
  if (pPct === undefined) return homogenised ? undefined : "phosphorus-unknown";
  if (pPct < WINDOW_RULES.phosphorusFromPct) return "phosphorus-below-limit";
  return homogenised ? undefined : "phosphorus-segregated";
}

function sulphurIsLoose({ sPct, mnPct }: SteelInHand): boolean {
  if (sPct === undefined || sPct < WINDOW_RULES.sulphurFromPct) return false;
  return (mnPct ?? 0) / sPct < WINDOW_RULES.manganeseToSulphur;
}
