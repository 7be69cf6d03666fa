/** Why a voice note was not read, and the one line that says so. */

/** Longest note that is read, s. */
export const NOTE_LIMIT_S = 60;
/** Most bytes of a note: a minute of the widest WAV that is read, and what the messenger lets a bot fetch. */
export const NOTE_LIMIT_BYTES = 24_000_000;

export const NOTE_TROUBLES = [
  "missing",
  "empty",
  "too-big",
  "too-long",
  "not-audio",
  "broken",
  "silent",
  "not-for-the-log",
  "busy",
  "failed",
] as const;
export type NoteTrouble = (typeof NOTE_TROUBLES)[number];

const LINES: Readonly<Record<NoteTrouble, string>> = {
  missing: "There is no such file.",
  empty: "That note is empty. Hold the button while you speak.",
  "too-big": `That file is too big for a voice note. Keep it under ${NOTE_LIMIT_S} seconds.`,
  "too-long": `That note is longer than ${NOTE_LIMIT_S} seconds. Say it in parts.`,
  "not-audio": "That is no voice note that I can read. Send OGG/Opus or WAV.",
  broken: "That note is broken off or damaged. Say it again.",
  silent: "I heard no words in that note. Say it again, closer.",
  "not-for-the-log": "I heard talk, but nothing for the log. Say it again, or type it.",
  busy: "Too many notes at once. Send it again in a minute.",
  failed: "I could not hear that note. Send it again, or type it.",
};

export const troubleLine = (trouble: NoteTrouble): string => LINES[trouble];
