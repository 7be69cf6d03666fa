/** Voice notes to words, and words to voice notes. */
export { createEars, type Ears, EarsBroken, type EarsOptions } from "./ears.js";
export { NOTE_LIMIT_S, type NoteTrouble, troubleLine } from "./note-trouble.js";
export type { HeardWord, NoteHeard, Recognised } from "./recogniser.js";
export { speakNote } from "./speak.js";
