/** Plays messages through the real bot: its own log, its own handler, the messages' times as the clock. */
import { createHandler } from "../src/conversation/index.js";
import type { Incoming, LogStore, Reply } from "../src/logbook/index.js";
import type { DemoMessage } from "./week.js";

export interface Turn {
  readonly message: DemoMessage;
  readonly replies: readonly Reply[];
}

/** Zone of a chat that has not set one. */
export const DEMO_TIMEZONE = "UTC";

/** Hands every message to the handler in order and gives each with its replies. A button goes to the last reply that has it. */
export async function* play(
  store: LogStore,
  messages: readonly DemoMessage[],
): AsyncGenerator<Turn> {
  let ids = 0;
  const newId = (): string => {
    ids += 1;
    return `d${ids.toString(36).padStart(8, "0")}`;
  };
  const handler = createHandler({
    store,
    newId,
    timezone: DEMO_TIMEZONE,
    onFailure: (_messageId, cause) => {
      throw cause;
    },
  });
  const sent: Reply[] = [];
  for (const [index, message] of messages.entries()) {
    await handler.handle(incoming(message, index, newId(), sent));
    const replies = await store.unsent(100, message.chat);
    for (const reply of replies) await store.markSent(reply.id, message.at);
    sent.push(...replies);
    yield { message, replies };
  }
}

function incoming(
  message: DemoMessage,
  index: number,
  id: string,
  sent: readonly Reply[],
): Incoming {
  return {
    id,
    sourceKey: `demo:${message.chat}:${index + 1}`,
    edge: "terminal",
    chatId: message.chat,
    smithId: message.smith.toLowerCase(),
    smithName: message.smith,
    ...(message.button === undefined
      ? { kind: "text", text: message.text ?? "" }
      : { kind: "button", text: codeOf(message.button, sent) }),
    sentAt: message.at,
    receivedAt: message.at,
  };
}

function codeOf(label: string, sent: readonly Reply[]): string {
  for (const { body } of [...sent].reverse()) {
    const hit = body.buttons.flat().find((button) => button.label === label);
    if (hit !== undefined) return hit.code;
  }
  throw new Error(`no reply has a button "${label}"`);
}
