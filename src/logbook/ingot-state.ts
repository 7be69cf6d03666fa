/** What is known of one ingot: the shape that folding its entries gives. */
import type { FactOf } from "./entry.js";

/** A thing that was said, with where it stands in the log. */
export interface Placed<T> {
  readonly entryId: string;
  readonly at: string;
  /** Heats that had been reported before it. */
  readonly afterHeats: number;
  readonly value: T;
}

export type IngotFacts = Omit<FactOf<"ingot">, "kind" | "at" | "approx">;
export type GoalFacts = Omit<FactOf<"goal">, "kind" | "at" | "approx">;
export type RouteFacts = Omit<FactOf<"route">, "kind" | "at" | "approx">;
export type HeatFacts = Omit<FactOf<"heat">, "kind" | "at"> & { readonly number: number };
export type SizeFacts = Omit<FactOf<"size">, "kind" | "at">;
export type CrackFacts = Omit<FactOf<"crack">, "kind" | "at">;
export type RemovalFacts = Omit<FactOf<"removal">, "kind" | "at">;
export type FinishFacts = Omit<FactOf<"finish">, "kind" | "at">;

/** The piece on the anvil as last reported; fields that were not said again are carried on. */
export interface PieceState {
  readonly shape: "bar" | "disc" | "block" | "ring";
  readonly thicknessMm?: number;
  readonly widthMm?: number;
  readonly lengthMm?: number;
  readonly diameterMm?: number;
  readonly heightMm?: number;
  readonly at: string;
  readonly afterHeats: number;
}

export interface Crack extends Placed<CrackFacts> {
  /** Entry of the removal that took it out, if one did. */
  readonly takenOutBy?: string;
}

/** A weighing: what the scale said, after how many heats. */
export interface Weighing {
  readonly at: string;
  readonly afterHeats: number;
  readonly massG: number;
  /** Mass known to have been cut, ground or punched off before it. */
  readonly removedG: number;
}

export interface IngotState {
  readonly ingotId: string;
  readonly name: string;
  readonly openedAt?: string;
  readonly facts: IngotFacts;
  readonly goal?: GoalFacts;
  readonly route?: RouteFacts;
  readonly piece?: PieceState;
  readonly heats: readonly Placed<HeatFacts>[];
  readonly sizes: readonly Placed<SizeFacts>[];
  readonly weighings: readonly Weighing[];
  readonly cracks: readonly Crack[];
  readonly removals: readonly Placed<RemovalFacts>[];
  readonly notes: readonly Placed<string>[];
  /** Every blade that came of it, in order. */
  readonly finishes: readonly Placed<FinishFacts>[];
  /** The last of them. */
  readonly finish?: Placed<FinishFacts>;
  /** The note that gave it up, if one did: it ended without a blade, or the blade was lost. */
  readonly givenUp?: Placed<string>;
}

/** Nothing more is to be forged of it. */
export const isEnded = ({ finish, givenUp }: IngotState): boolean =>
  finish !== undefined || givenUp !== undefined;

export const emptyIngot = (ingotId: string): IngotState => ({
  ingotId,
  name: "",
  facts: {},
  heats: [],
  sizes: [],
  weighings: [],
  cracks: [],
  removals: [],
  notes: [],
  finishes: [],
});
