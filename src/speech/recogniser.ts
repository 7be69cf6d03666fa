/** What every engine of the room gives: samples in, words with a confidence each out. */
import type { ReadingContext } from "../language/index.js";
import type { NoteTrouble } from "./note-trouble.js";

export interface HeardWord {
  readonly word: string;
  /** 0 to 1. */
  readonly confidence: number;
}

export interface Recognised {
  readonly kind: "words";
  readonly text: string;
  /** 0 to 1. */
  readonly confidence: number;
  readonly words: readonly HeardWord[];
  /** Likely readings that differ in a figure, likeliest first. */
  readonly others: readonly string[];
  /** True if `text` and the first of `others` are too near to choose between. */
  readonly doubtful: boolean;
}
export interface Unrecognised {
  readonly kind: "trouble";
  readonly trouble: NoteTrouble;
}

export interface Recogniser {
  /** `samples`: one channel at 16 kHz, -1 to 1. Works on the caller's thread. */
  recognise(samples: Float32Array, context: ReadingContext | undefined): Recognised | Unrecognised;
}

/** What came of a whole note. */
export type NoteHeard = (Recognised | Unrecognised) & {
  readonly durationS?: number;
  readonly tookS: number;
};
