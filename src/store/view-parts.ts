/** Parts of a view that are picked from rows, newest first, until nothing older matters. */
import { type Entry, FACT_SCHEMAS } from "../logbook/index.js";
import { VIEW_LIMITS } from "./view-limits.js";

/** Of each setting the latest row that says it: what came before it no longer matters. */
export class StandingSettings {
  readonly #open = new Set(Object.keys(FACT_SCHEMAS.setting.shape));
  readonly #kept: Entry[] = [];

  constructor() {
    for (const name of ["kind", "at", "approx"]) this.#open.delete(name);
  }

  /** Takes the next older row; false if no older one can matter. */
  wants(entry: Entry): boolean {
    const said = Object.keys(entry.fact ?? {}).filter((name) => this.#open.delete(name));
    if (said.length > 0) this.#kept.push(entry);
    return this.#open.size > 0;
  }

  inOrder(): readonly Entry[] {
    return this.#kept.toReversed();
  }
}

/** What a smith said last, message by message. */
export class LastTurns {
  readonly turns: { readonly messageId: string; readonly entries: Entry[] }[] = [];

  /** Takes the next older row; false once there are as many messages as a view shows. */
  wants(entry: Entry): boolean {
    const last = this.turns.at(-1);
    if (last?.messageId === entry.messageId) {
      last.entries.unshift(entry);
      return true;
    }
    if (this.turns.length === VIEW_LIMITS.turns) return false;
    this.turns.push({ messageId: entry.messageId, entries: [entry] });
    return true;
  }
}
