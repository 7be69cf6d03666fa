/**
 * A connection whose native objects live as long as the process. Since Node 24.16 the driver of our version stops the
 * process when one of its statements or connections is collected as garbage (docs/decisions/0004-nothing-collected.md);
 * so none ever is: each text is prepared once, and what is made is kept.
 */
import Database, { type Options, type Statement } from "better-sqlite3";

const kept: object[] = [];

export class KeptDatabase extends Database {
  readonly #prepared = new Map<string, Statement>();

  constructor(file: string, options?: Options) {
    super(file, options);
    kept.push(this);
  }

  /** The same text gives the same statement: never one that is still being iterated over. */
  override prepare: Database.Database["prepare"] = ((sql: string) => {
    const known = this.#prepared.get(sql);
    if (known !== undefined) return known;
    const made = super.prepare(sql);
    kept.push(made);
    this.#prepared.set(sql, made);
    return made;
  }) as Database.Database["prepare"];

  override pragma(source: string, options: { readonly simple?: boolean } = {}): unknown {
    const statement = this.prepare(`PRAGMA ${source}`);
    if (!statement.reader) return statement.run() && [];
    const rows = statement.all() as Record<string, unknown>[];
    return options.simple ? Object.values(rows[0] ?? {})[0] : rows;
  }
}
