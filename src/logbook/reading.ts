/** What reading gives: drafts, what was left over, and a question where two readings matter. */
import type { DraftBody } from "./entry.js";

/** One thing said. `implied` names the fields that were not said but follow from a rule or the state. */
export interface Draft {
  readonly body: DraftBody;
  readonly implied: readonly string[];
  /** Share of such readings that are right, 0 to 1 (docs/reading.md, calibration table). */
  readonly confidence: number;
}

/** A way the message can be taken, as a button. */
export interface Choice {
  /** What the button says: figures first. */
  readonly label: string;
  /** What comes on top of the reading's own drafts; empty for leaving the figure out. */
  readonly drafts: readonly Draft[];
}

export interface Ask {
  /** Stable code, for the sentence that asks: `which-dimension`, `slip`, `unit`, `ingot`, `record`, … */
  readonly about: string;
  readonly choices: readonly Choice[];
}

export interface Reading {
  readonly text: string;
  readonly drafts: readonly Draft[];
  /** Stretches that carried meaning and were not understood, in order, as typed. */
  readonly unread: readonly string[];
  readonly ask?: Ask;
  /** Lowest confidence of the drafts, 1 when there are none. */
  readonly confidence: number;
  /** True for thanks, ok and the like: nothing to record, nothing to answer. */
  readonly smallTalk?: boolean;
  /** Which rule read what, for `npm run phrase`. */
  readonly trace: readonly string[];
}
