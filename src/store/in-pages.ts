/** Rows of a query a page at a time, for who stops at the first few that he needs. */
import type { Statement } from "better-sqlite3";

/** Rows of one page: what most turns need of settings, hands and last messages. */
const PAGE = 32;

/** `statement` ends in `LIMIT ? OFFSET ?`. The driver's own iterator is a native object (docs/decisions/0004). */
export function* inPages<Row>(
  statement: Statement<(string | number)[], Row>,
  ...values: readonly string[]
): Generator<Row> {
  for (let offset = 0; ; offset += PAGE) {
    const rows = statement.all(...values, PAGE, offset);
    yield* rows;
    if (rows.length < PAGE) return;
  }
}
