/** Tables as text that a spreadsheet opens. */

/** What a spreadsheet would run as a formula at the start of a cell. */
const RUNS = /^[=+\-@\t\r]/;

/**
 * Comma-separated values after RFC 4180: first line the names, CRLF, quotes doubled. Text that a spreadsheet would take for a
 * formula gets an apostrophe in front; figures are left as they are.
 */
export function toCsv(
  rows: readonly Readonly<Record<string, unknown>>[],
  columns: readonly string[] = [...new Set(rows.flatMap(Object.keys))],
): string {
  const lines = [columns, ...rows.map((row) => columns.map((column) => row[column]))];
  return lines.map((cells) => `${cells.map(cell).join(",")}\r\n`).join("");
}

function cell(value: unknown): string {
  if (value === undefined || value === null) return "";
  if (typeof value === "number" || typeof value === "boolean") return String(value);
  const text = typeof value === "string" ? value : JSON.stringify(value);
  const safe = RUNS.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
