/** What reading may know beside the words. Every field of `ingot` is optional: say only what is known. */
import type { Fact } from "../logbook/index.js";

export interface KnownPiece {
  readonly shape: string;
  readonly thicknessMm?: number | undefined;
  readonly widthMm?: number | undefined;
  readonly lengthMm?: number | undefined;
  readonly diameterMm?: number | undefined;
  readonly heightMm?: number | undefined;
}

/** The ingot in hand, as far as the state knows it. */
export interface KnownIngot {
  readonly name?: string | undefined;
  /** Heats reported so far. */
  readonly heats?: number | undefined;
  readonly massG?: number | undefined;
  /** Steel that must still be there, g: what was weighed less what was told to be taken off; undefined after a cut or a punch without a weight. */
  readonly wholeG?: number | undefined;
  readonly carbonPct?: number | undefined;
  readonly piece?: KnownPiece | undefined;
  readonly temperatureC?: number | undefined;
  readonly lastRemovalG?: number | undefined;
  readonly volumeMm3?: number | undefined;
}

export interface ReadingContext {
  /** ISO 8601. */
  readonly now: string;
  /** IANA name. */
  readonly timezone: string;
  readonly units: "mm" | "inch";
  readonly temperatureUnits?: "c" | "f" | undefined;
  /** Entries of the message before: for corrections and `same again`. */
  readonly last?: readonly Fact[] | undefined;
  readonly ingot?: KnownIngot | undefined;
  /** Names of the open ingots. */
  readonly names?: readonly string[] | undefined;
  /** Name of the ingot in hand before this one. */
  readonly previous?: string | undefined;
  /** What the bot asked for last: `ingot`, `goal`, `units`, `hammer`, `welder`, `mass`, `size`, … */
  readonly expects?: string | undefined;
}
