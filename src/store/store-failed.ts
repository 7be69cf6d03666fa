import { z } from "zod";

/** What went wrong with the log's file, by cause, with one line that says what to do. */
export type StoreFailure =
  /** Disk full. */
  | "full"
  /** The file or its folder cannot be written. */
  | "not-writable"
  /** No such file, or it cannot be opened. */
  | "not-found"
  /** Another process writes to it, or the server has no connection left. */
  | "in-use"
  /** The file is damaged or no database. */
  | "damaged"
  /** The file is a database, but not ours, or of another version of the program. */
  | "wrong-version"
  /** The target of a copy exists. */
  | "exists"
  /** A turn for a message that was never received, or that does not belong to it. */
  | "unknown-message"
  /** What the turn wants to take back was taken back in the meantime: read the state and decide again. */
  | "stale"
  /** A row in the file that is not as its schema says. */
  | "unreadable"
  /** The database server does not answer, or went away. */
  | "unreachable"
  /** The database server does not let this user in. */
  | "not-let-in"
  /** It took longer than it may; nothing was written. */
  | "slow"
  /** Not a thing that this kind of database does by this program. */
  | "not-here"
  /** Anything else from the disk. */
  | "disk";

/** The store could not do what was asked. The message is for a person; the cause is kept for the log. */
export class StoreFailed extends Error {
  override readonly name = "StoreFailed";
  readonly code: StoreFailure;

  constructor(code: StoreFailure, line: string, cause?: unknown) {
    super(line, cause === undefined ? undefined : { cause });
    this.code = code;
  }
}

const LINES: Readonly<Record<string, readonly [StoreFailure, string]>> = {
  SQLITE_FULL: ["full", "the disk is full: free some space; nothing written before is lost"],
  SQLITE_READONLY: [
    "not-writable",
    "the log cannot be written: check who owns the file and its folder",
  ],
  SQLITE_PERM: [
    "not-writable",
    "the log may not be written: check who owns the file and its folder",
  ],
  SQLITE_CANTOPEN: [
    "not-found",
    "the log cannot be opened: check the path and who owns the folder",
  ],
  SQLITE_BUSY: ["in-use", "the log is in use by another process: stop it, or wait and try again"],
  SQLITE_LOCKED: ["in-use", "the log is in use by another process: stop it, or wait and try again"],
  SQLITE_CORRUPT: [
    "damaged",
    "the log is damaged: keep a copy of the file, then put the latest backup in its place",
  ],
  SQLITE_NOTADB: ["damaged", "this file is no log: check the path, or put the latest backup there"],
  SQLITE_IOERR: [
    "disk",
    "the disk failed to read or write: check the disk and the space left on it",
  ],
};
const FULL_BY_ANOTHER_NAME = /no space left|ENOSPC|EDQUOT/i;

/** Any error as a `StoreFailed`; what is our own mistake, a row that the tables refuse, as a RangeError. */
export function asStoreFailed(error: unknown, file: string): Error {
  if (error instanceof StoreFailed || error instanceof RangeError) return error;
  if (error instanceof z.ZodError) {
    const fields = error.issues.map(({ path, message }) => `${path.join(".")}: ${message}`);
    return new StoreFailed(
      "unreadable",
      `${file}: a row is not as its schema says (${fields.join("; ")})`,
      error,
    );
  }
  const code = codeOf(error);
  if (code.startsWith("SQLITE_CONSTRAINT")) {
    return new RangeError(`the log's tables refuse a row: ${messageOf(error)}`, { cause: error });
  }
  if (FULL_BY_ANOTHER_NAME.test(`${code} ${messageOf(error)}`)) {
    return new StoreFailed("full", `${file}: ${LINES.SQLITE_FULL?.[1]}`, error);
  }
  // Extended codes begin with the plain one: SQLITE_IOERR_WRITE, SQLITE_CONSTRAINT_CHECK.
  const found = Object.entries(LINES).find(([plain]) => code.startsWith(plain));
  if (found) {
    const [, [failure, line]] = found;
    return new StoreFailed(failure, `${file}: ${line}`, error);
  }
  if (code === "ENOENT") return new StoreFailed("not-found", `${file}: no such file`, error);
  if (["EACCES", "EPERM", "EROFS"].includes(code)) {
    return new StoreFailed("not-writable", `${file}: may not be written; check who owns it`, error);
  }
  return new StoreFailed("disk", `${file}: ${messageOf(error)}`, error);
}

const messageOf = (error: unknown): string =>
  error instanceof Error ? error.message : String(error);
const codeOf = (error: unknown): string =>
  typeof error === "object" && error !== null && "code" in error ? String(error.code) : "";
