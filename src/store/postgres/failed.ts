/** What went wrong with a database server, named by cause. The server's codes: PostgreSQL documentation, appendix A. */
import { z } from "zod";
import { StoreFailed, type StoreFailure } from "../store-failed.js";

type Named = readonly [StoreFailure, string];
const AWAY: Named = [
  "unreachable",
  "the database server does not answer: check that it runs and that the address is right",
];
const NOT_LET_IN: Named = [
  "not-let-in",
  "the database server does not let this user in: check user and password",
];
const SLOW: Named = [
  "slow",
  "the database took too long and nothing was written: try again, and see what keeps it busy",
];

/** Codes, or their first two or three characters, the longer first. */
const CAUSES: Readonly<Record<string, Named>> = {
  "28": NOT_LET_IN,
  "3D000": ["not-found", "there is no such database on the server: create it first"],
  "42501": [
    "not-writable",
    "this user may not do that in the database: it must own the log's tables",
  ],
  "25006": [
    "not-writable",
    "the database is read-only: give the address of the server that takes writes",
  ],
  "42P01": ["wrong-version", "tables of the log are missing: start the bot on it once"],
  "53100": [
    "full",
    "the database server's disk is full: free some space; nothing written before is lost",
  ],
  "53300": [
    "in-use",
    "the database server has no connection left: let fewer workers run, or raise max_connections",
  ],
  "57014": SLOW,
  "55P03": SLOW,
  "25P03": SLOW,
  "40": ["in-use", "another process kept writing to the same rows: try again"],
  XX001: ["damaged", "the database is damaged: restore the latest backup beside it"],
  XX002: ["damaged", "an index of the database is damaged: run REINDEX, then look for the cause"],
  "58": ["disk", "the database server's disk failed to read or write"],
  "57P": AWAY,
  "08": AWAY,
  ECONNREFUSED: AWAY,
  ECONNRESET: AWAY,
  EPIPE: AWAY,
  ENOTFOUND: AWAY,
  EAI_AGAIN: AWAY,
  ENOENT: AWAY,
  ETIMEDOUT: AWAY,
  EHOSTUNREACH: AWAY,
  ENETUNREACH: AWAY,
};
/** What the driver says without a code. */
const BY_WORDS: readonly (readonly [RegExp, Named])[] = [
  [/^SASL|password must be/i, NOT_LET_IN],
  [
    /timeout exceeded when trying to connect|connection terminated|not queryable|connection error/i,
    AWAY,
  ],
  [/query read timeout/i, SLOW],
  [
    /does not support SSL|certificate|self.signed/i,
    [
      "unreachable",
      "no encrypted connection to the database server can be made: check sslmode in the address and the server's certificate",
    ],
  ],
];

/** `shown`: the address without its password; `clean` takes the password out of a line. */
export function asPostgresFailed(
  error: unknown,
  shown: string,
  clean: (line: string) => string,
): Error {
  if (error instanceof StoreFailed) {
    return error.message.startsWith(shown) ||
      error.code === "stale" ||
      error.code === "unknown-message"
      ? error
      : new StoreFailed(error.code, `${shown}: ${error.message}`, error.cause);
  }
  if (error instanceof RangeError) return error;
  if (error instanceof z.ZodError) {
    const fields = error.issues.map(({ path, message }) => `${path.join(".")}: ${message}`);
    const line = `${shown}: a row is not as its schema says (${fields.join("; ")})`;
    return new StoreFailed("unreadable", line, error);
  }
  const code = codeOf(error);
  const said = clean(error instanceof Error ? error.message : String(error));
  if (/^2[23]/.test(code)) {
    return new RangeError(`the log's tables refuse a row: ${said}`, { cause: error });
  }
  const named =
    CAUSES[code] ??
    CAUSES[code.slice(0, 3)] ??
    CAUSES[code.slice(0, 2)] ??
    (code === "" ? BY_WORDS.find(([words]) => words.test(said))?.[1] : undefined);
  if (named === undefined) return new StoreFailed("disk", `${shown}: ${said}`, error);
  return new StoreFailed(named[0], `${shown}: ${named[1]}`, error);
}

/** Whether the same work may well succeed when it is done again from its beginning. */
export function passes(error: unknown): boolean {
  const code = codeOf(error);
  if (/^(40001|40P01|57P0[1-3]|08...|ECONNREFUSED|ECONNRESET|EPIPE)$/.test(code)) return true;
  if (isOldPlan(error)) return true;
  return (
    code === "" &&
    error instanceof Error &&
    /connection terminated|not queryable/i.test(error.message)
  );
}

/** The tables were changed by a newer worker after this connection had planned its statement. */
export const isOldPlan = (error: unknown): boolean =>
  codeOf(error) === "0A000" && error instanceof Error && /cached plan/.test(error.message);

function codeOf(error: unknown): string {
  if (error instanceof AggregateError && error.errors.length > 0) return codeOf(error.errors[0]);
  return typeof error === "object" && error !== null && "code" in error ? String(error.code) : "";
}
