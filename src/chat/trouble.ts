/**
 * What went wrong outside, in words that carry no secret: who failed and its code, never the
 * address that was called (it holds the token), never what a person wrote.
 */

/** Codes of the store, the database and the system that may pass by themselves or by the owner's hand. */
const PASSING =
  /^(?:full|not-writable|not-found|in-use|damaged|unreachable|not-let-in|slow|58[0-9P]|ENOSPC|EROFS|EDQUOT|EIO|EACCES|EMFILE|SQLITE_(?:FULL|READONLY|IOERR|BUSY|LOCKED|CANTOPEN|CORRUPT|NOTADB|PERM|PROTOCOL))/;

/** True if the disk or the database refused, so that the same message can be taken later. */
export function isStoreTrouble(error: unknown): boolean {
  return chainOf(error).some((link) => PASSING.test(codeOf(link) ?? ""));
}

/** One line on an error: a plain reason where the code is known, else its kind and code. */
export function describeTrouble(error: unknown): string {
  const codes = chainOf(error).flatMap((link) => codeOf(link) ?? []);
  for (const code of codes) {
    const known = KNOWN.find(([start]) => code.startsWith(start));
    if (known) return known[1];
  }
  const name = chainOf(error)[0]?.name ?? "an unknown fault";
  return codes[0] === undefined ? name : `${name} (${codes[0]})`;
}

/** Where an error arose: the first places of its stack, without its message. */
export function placeOfTrouble(error: unknown): readonly string[] {
  if (!(error instanceof Error)) return [];
  const stack = (error.stack ?? "").replace(error.message, "");
  const places = stack.split("\n").filter((line) => /^\s+at /.test(line));
  return places.slice(0, 3).map((line) => line.trim());
}

const KNOWN: readonly (readonly [string, string])[] = [
  ["full", "the disk is full"],
  ["SQLITE_FULL", "the disk is full"],
  ["ENOSPC", "the disk is full"],
  ["EDQUOT", "the disk is full"],
  ["not-writable", "the logbook file cannot be written"],
  ["SQLITE_READONLY", "the logbook file cannot be written"],
  ["EROFS", "the disk is read-only"],
  ["in-use", "another process holds the logbook file"],
  ["SQLITE_BUSY", "another process holds the logbook file"],
  ["damaged", "the logbook file is damaged"],
  ["SQLITE_CORRUPT", "the logbook file is damaged"],
  ["SQLITE_IOERR", "the disk cannot be read or written"],
  ["disk", "the disk cannot be read or written"],
  ["unreachable", "the database server does not answer"],
  ["58", "the database server's disk cannot be read or written"],
  ["not-let-in", "the database server does not let me in"],
  ["slow", "the database is too slow"],
  ["ENOENT", "there is no such file"],
];

/** Causes followed from an error, at most. */
const CHAIN_LIMIT = 8;

function chainOf(error: unknown): Error[] {
  const chain: Error[] = [];
  let link = error;
  while (link instanceof Error && chain.length < CHAIN_LIMIT) {
    chain.push(link);
    link = link.cause ?? ("error" in link ? link.error : undefined);
  }
  return chain;
}

function codeOf(error: Error): string | undefined {
  if ("code" in error && typeof error.code === "string") return error.code;
  if ("error_code" in error && error.error_code !== undefined) return String(error.error_code);
  return undefined;
}
