/**
 * How values travel. PostgreSQL's text cannot hold U+0000, which a message may: it is written as the control character
 * SUBSTITUTE (U+001A, made for such use) and 0, and a SUBSTITUTE itself as SUBSTITUTE and 1.
 */
import pg from "pg";

const MARKED = /[\0\u001a]/g;
const MARK = /\u001a([01])/g;

const written = (text: string): string =>
  text.replace(MARKED, (letter) => (letter === "\0" ? "\u001a0" : "\u001a1"));
const read = (text: string): string =>
  text.includes("\u001a")
    ? text.replace(MARK, (_, which) => (which === "0" ? "\0" : "\u001a"))
    : text;

export const toDatabase = (value: unknown): unknown =>
  typeof value === "string" ? written(value) : Array.isArray(value) ? value.map(toDatabase) : value;

const { builtins } = pg.types;
const TEXTS: ReadonlySet<number> = new Set([builtins.TEXT, builtins.VARCHAR, builtins.BPCHAR, 19]);
const NUMBERS: ReadonlySet<number> = new Set([builtins.INT8, builtins.NUMERIC]);

/** A whole number of the database that JavaScript can hold exactly, or a sum. */
function toNumber(text: string): number {
  const value = Number(text);
  if (/^-?\d+$/.test(text) && !Number.isSafeInteger(value)) {
    throw new RangeError(`a number too large to be held exactly: ${text}`);
  }
  return value;
}
const parseJson = (text: string): unknown =>
  JSON.parse(text, (_key, value) => (typeof value === "string" ? read(value) : value));

/** The driver's reading of values, ours where it differs. */
export const types: pg.CustomTypesConfig = {
  getTypeParser: ((oid: number, format?: "text") => {
    if (TEXTS.has(oid)) return read;
    if (NUMBERS.has(oid)) return toNumber;
    if (oid === builtins.JSON) return parseJson;
    return pg.types.getTypeParser(oid, format);
  }) as typeof pg.types.getTypeParser,
};
