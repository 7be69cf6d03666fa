/** Messages and turns of an invented shop, for the tests and benchmarks of the store. */
import type { Fact, Incoming, NewEntry, Turn } from "../../src/logbook/index.js";

/** Second `n` of the shop's day, UTC. */
export const atSecond = (n: number): string =>
  new Date(Date.UTC(2026, 2, 2, 8, 0, 0) + n * 1000).toISOString();

export interface Sample {
  /** Makes every id of the turn; two samples with one id are the same message. */
  readonly id: string;
  readonly chatId?: string;
  readonly smithId?: string;
  readonly second?: number;
  readonly text?: string;
}

export function sampleMessage(sample: Sample): Incoming {
  const { id, chatId = "anvil", smithId = "odo", second = 0, text = "heat 4 at 950" } = sample;
  return {
    id: `m-${id}`,
    sourceKey: `terminal:${chatId}:${id}`,
    edge: "terminal",
    chatId,
    smithId,
    smithName: smithId === "odo" ? "Odo" : "Wenna",
    kind: "text",
    text,
    sentAt: atSecond(second),
    receivedAt: atSecond(second),
  };
}

export interface Said {
  readonly fact: Fact;
  /** Opening row of the ingot; `self` for the row that opens it. */
  readonly ingotId?: string;
  readonly at?: string;
  readonly replaces?: string;
}

/** A turn that logs facts: entry ids are `<id>-0`, `<id>-1`, …, the reply is `r-<id>`. */
export function sampleTurn(sample: Sample, said: readonly Said[], more: Partial<Turn> = {}): Turn {
  const { id, chatId = "anvil", smithId = "odo", second = 0 } = sample;
  const entries = said.map((one, index): NewEntry => {
    const entryId = `${id}-${index}`;
    const ingotId = one.ingotId === "self" ? entryId : one.ingotId;
    return {
      id: entryId,
      chatId,
      smithId,
      messageId: `m-${id}`,
      ...(ingotId !== undefined && { ingotId }),
      kind: one.fact.kind,
      at: one.at ?? atSecond(second),
      arrived: atSecond(second),
      ...(one.replaces !== undefined && { replaces: one.replaces }),
      implied: [],
      confidence: 1,
      fact: one.fact,
    };
  });
  return {
    messageId: `m-${id}`,
    chatId,
    smithId,
    entries,
    takeBacks: [],
    replies: [
      {
        id: `r-${id}`,
        body: {
          lines: [{ text: "heat 4, 950 °C" }, { text: "next 20 × 38 × 190 mm", bold: true }],
          buttons: [[{ label: "heat done", code: "h" }]],
        },
        safety: [],
      },
    ],
    unread: [],
    at: atSecond(second),
    ...more,
  };
}

/** What a smith says between two heats. */
export const heatAndSize = (number: number, ingotId: string): readonly Said[] => [
  { fact: { kind: "heat", number, temperatureC: 950, operation: "draw" }, ingotId },
  { fact: { kind: "size", thicknessMm: 22, widthMm: 36, lengthMm: 180 }, ingotId },
];
