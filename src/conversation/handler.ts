/** One handler for all edges: an incoming message in; entries, reply and question written in one turn. */
import type { Incoming, LogStore } from "../logbook/index.js";

export interface HandlerDeps {
  readonly store: LogStore;
  /** A fresh id, at most 20 characters of [0-9a-z]. */
  readonly newId: () => string;
}

export interface Handler {
  /** Stores the message, answers it, writes the turn. The same message twice is handled once. */
  handle(incoming: Incoming): Promise<void>;
  /** Answers what was stored but not yet handled when the last run ended. */
  resume(): Promise<number>;
}

export function createHandler(_deps: HandlerDeps): Handler {
  throw new RangeError("createHandler: being written");
}
