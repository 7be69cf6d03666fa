/** Writing logs for tests: entries in a row, a few words each. */
import {
  type ChatView,
  type Decision,
  type Draft,
  type DraftBody,
  decide,
  type Entry,
  type Fact,
  type Incoming,
  type IngotName,
} from "../../src/logbook/index.js";

const START = Date.parse("2026-05-12T08:00:00Z");
const MINUTE = 60_000;

export const minute = (n: number): string => new Date(START + n * MINUTE).toISOString();

/** A log of one smith: a list of messages, each a list of facts. All of ingot `i1` unless shop-wide. */
export class Log {
  readonly rows: Entry[] = [];
  readonly messages: string[] = [];
  #ids = 0;

  newId = (): string => `n${(++this.#ids).toString().padStart(4, "0")}`;

  /** Takes what a decision wrote, as a store would. */
  take(decision: Decision): this {
    for (const { entryId, by } of decision.takeBacks) {
      const index = this.rows.findIndex(({ id }) => id === entryId);
      const row = this.rows[index];
      if (row !== undefined) this.rows[index] = { ...row, takenBackBy: by };
    }
    for (const entry of decision.entries) {
      const seq = this.rows.length + 1;
      const place = this.rows.find(({ id }) => id === entry.replaces)?.place ?? seq;
      this.rows.push({ ...entry, seq, place });
    }
    return this;
  }

  /** One message with these drafts, decided and taken. */
  say(bodies: readonly DraftBody[], more: Partial<Incoming> = {}): Decision {
    const decision = this.decided(bodies, more);
    this.take(decision);
    return decision;
  }

  decided(
    bodies: readonly DraftBody[],
    more: Partial<Incoming> = {},
    implied: readonly string[] = [],
  ): Decision {
    const number = this.messages.length + 1;
    const message: Incoming = {
      id: `m${number}`,
      sourceKey: `terminal:c:${number}`,
      edge: "terminal",
      chatId: "c",
      smithId: "s",
      kind: "text",
      text: "",
      sentAt: minute(number),
      receivedAt: minute(number),
      ...more,
    };
    this.messages.push(message.id);
    const drafts: Draft[] = bodies.map((body) => ({ body, implied, confidence: 1 }));
    const edited =
      message.edits === undefined
        ? []
        : this.rows.filter(({ messageId }) => `terminal:c:${messageId.slice(1)}` === message.edits);
    return decide({
      message,
      drafts,
      view: this.view(),
      logs: new Map(
        this.ingotIds().map((id) => [id, this.rows.filter((row) => row.ingotId === id)]),
      ),
      named: this.names(),
      edited,
      replaced: new Map(this.rows.map((row) => [row.id, row])),
      newId: this.newId,
    });
  }

  standing = (): Entry[] =>
    this.rows.filter(({ takenBackBy, fact }) => takenBackBy === undefined && fact !== undefined);
  facts = (): Fact[] =>
    [...this.standing()].sort((a, b) => a.place - b.place).map(({ fact }) => fact as Fact);
  ingotIds = (): string[] => [...new Set(this.rows.flatMap(({ ingotId }) => ingotId ?? []))];

  names(): Map<string, IngotName> {
    return new Map(
      this.standing().flatMap(({ fact, ingotId, at }) =>
        fact?.kind === "ingot" && fact.name !== undefined && ingotId !== undefined
          ? [[fact.name.toLowerCase(), { ingotId, name: fact.name, finished: false, openedAt: at }]]
          : [],
      ),
    );
  }

  view(): ChatView {
    const held = this.standing().filter(
      ({ ingotId, kind }) => ingotId !== undefined && (kind === "switch" || kind === "ingot"),
    );
    const inHand = held.at(-1)?.ingotId;
    const previous = held.map(({ ingotId }) => ingotId).findLast((id) => id !== inHand);
    const lastTurns = [...this.messages]
      .reverse()
      .map((messageId) => ({
        messageId,
        entries: this.standing().filter((row) => row.messageId === messageId),
      }))
      .filter(({ entries }) => entries.length > 0);
    return {
      messages: this.messages.length,
      settings: this.standing().filter(({ kind }) => kind === "setting"),
      ...(inHand === undefined ? {} : { inHand }),
      ...(previous === undefined ? {} : { previousInHand: previous }),
      ingotsOpened: this.ingotIds().length,
      ingots: [...this.names().values()].reverse(),
      lastTurns,
      safetyShown: [],
      entriesSince: 0,
    };
  }
}
