/** A second engine for who brings a model: not there yet. */
import type { Recogniser } from "./recogniser.js";

export function createModelListener(_folder: string): Recogniser {
  throw new RangeError("SPEECH_MODEL is not read in this version");
}
