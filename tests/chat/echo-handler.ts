/** A handler that says back what came in, so that the edges are tested without the bot's own words. */
import type { Handler } from "../../src/conversation/index.js";
import type { Incoming, LogStore, ReplyBody } from "../../src/logbook/index.js";

export interface EchoHandler extends Handler {
  /** Everything handled, in order. */
  readonly taken: Incoming[];
  /** Throws this instead, as often as it is there. */
  readonly faults: unknown[];
}

export const ECHO_BUTTONS: ReplyBody["buttons"] = [
  [
    { label: "Next size", code: "q:next" },
    { label: "Heat done", code: "heat" },
  ],
];

export function createEchoHandler(
  store: LogStore,
  newId: () => string,
  body: (incoming: Incoming) => ReplyBody = echo,
): EchoHandler {
  const taken: Incoming[] = [];
  const faults: unknown[] = [];
  const answer = async (incoming: Incoming): Promise<void> => {
    taken.push(incoming);
    await store.commit({
      messageId: incoming.id,
      chatId: incoming.chatId,
      smithId: incoming.smithId,
      entries: [],
      takeBacks: [],
      // Like the bot: a note without words is kept, the edge says why.
      replies: incoming.text === "" ? [] : [{ id: newId(), body: body(incoming), safety: [] }],
      unread: [],
      at: incoming.receivedAt,
    });
  };
  return {
    taken,
    faults,
    async handle(incoming) {
      const fault = faults.shift();
      if (fault !== undefined) throw fault;
      const seen = await store.receive(incoming);
      if (seen === "handled") return;
      const stored = seen === "new" ? incoming : await storedLike(store, incoming);
      await answer(stored);
    },
    async resume() {
      const waiting = await store.unhandled();
      for (const each of waiting) await answer(each);
      return waiting.length;
    },
  };
}

/** A message received before keeps its first id. */
async function storedLike(store: LogStore, incoming: Incoming): Promise<Incoming> {
  const waiting = await store.unhandled();
  return waiting.find((each) => each.sourceKey === incoming.sourceKey) ?? incoming;
}

function echo(incoming: Incoming): ReplyBody {
  return {
    lines: [
      { text: `${incoming.kind}: ${incoming.text}` },
      { text: "22 × 36 × 180 mm", bold: true },
    ],
    buttons: ECHO_BUTTONS,
  };
}
