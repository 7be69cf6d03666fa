/** What deciding is handed and what it gives. */
import type { Correction } from "./correct.js";
import type { DraftOf } from "./entry.js";
import type { IngotState } from "./ingot-state.js";
import type { ChatView, Entry, Incoming, IngotName, NewEntry } from "./log-store.js";
import type { Draft } from "./reading.js";

/** What stands in the way of recording something, as data; worded by the conversation. */
export type Issue =
  | { readonly code: "no-such-ingot"; readonly name: string; readonly rest: readonly Draft[] }
  | { readonly code: "nothing-to-undo" }
  | {
      readonly code: "nothing-to-correct";
      readonly from?: number | string;
      readonly to?: number | string;
    }
  | { readonly code: "out-of-range"; readonly field: string; readonly value: number | string };

export interface DecideInput {
  readonly message: Incoming;
  readonly drafts: readonly Draft[];
  readonly view: ChatView;
  /** All rows of the ingot in hand, and of ingots the message names, by ingot id. */
  readonly logs: ReadonlyMap<string, readonly Entry[]>;
  /** States of those ingots that are folded already. */
  readonly folded?: ReadonlyMap<string, IngotState>;
  /** Ingots the message names, by the name as said. */
  readonly named: ReadonlyMap<string, IngotName>;
  /** For an edited message: the rows of what it said before. */
  readonly edited: readonly Entry[];
  /** Rows that standing entries of the last turns took the place of, by id. */
  readonly replaced: ReadonlyMap<string, Entry>;
  readonly newId: () => string;
}

export interface Decision {
  readonly entries: readonly NewEntry[];
  readonly takeBacks: readonly { readonly entryId: string; readonly by: string }[];
  /** Ingot in hand after this message. */
  readonly inHand?: string;
  /** Its state after this message. */
  readonly state?: IngotState;
  /** Name of an ingot opened by this message, and whether the name was ours. */
  readonly opened?: { readonly name: string; readonly implied: boolean };
  readonly switchedTo?: string;
  /** The ingot that this message gave up, as it is now. */
  readonly gaveUp?: IngotState;
  readonly questions: readonly AskedOf[];
  readonly corrections: readonly Correction[];
  /** What undo took back. */
  readonly undone: readonly Entry[];
  readonly issues: readonly Issue[];
}

/** A question, and the ingot that it names; else it is about the one in hand. */
export interface AskedOf {
  readonly question: DraftOf<"question">;
  readonly state?: IngotState | undefined;
}
