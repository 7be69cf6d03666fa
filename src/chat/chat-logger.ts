/** What this room writes to the log of the run: ids and codes, never words, names or tokens. */
type Write = (fields: Readonly<Record<string, unknown>>, message: string) => void;

/** A pino logger fits. */
export interface ChatLogger {
  readonly info: Write;
  readonly warn: Write;
  readonly error: Write;
}
