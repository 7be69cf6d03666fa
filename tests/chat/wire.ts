/** The messenger's HTTP interface under nock: updates to hand out, calls to look at, answers to script. */
import nock from "nock";

export const TOKEN = "123456789:AAtesttoken-testtoken_testtoken12345";
export const ROOT = "https://api.telegram.org";

export interface Call {
  readonly method: string;
  readonly body: Record<string, unknown>;
}
type Answer = readonly [status: number, body: unknown];

export interface Wire {
  /** Updates not yet acknowledged by an offset. */
  readonly updates: { update_id: number }[];
  readonly calls: Call[];
  /** Answers for a method, used up in order before the usual one. */
  readonly script: (method: string, ...answers: readonly Answer[]) => void;
  readonly sent: (chatId?: string) => Call[];
  /** Resolves when the condition holds; rejects after 20 s. */
  readonly until: (holds: () => boolean) => Promise<void>;
  readonly close: () => void;
}

export function openWire(): Wire {
  const updates: { update_id: number }[] = [];
  const calls: Call[] = [];
  const scripted = new Map<string, Answer[]>();
  let messageId = 1000;

  function usual(method: string, body: Record<string, unknown>): Answer {
    const ok = (result: unknown): Answer => [200, { ok: true, result }];
    if (method === "getMe")
      return ok({ id: 1, is_bot: true, first_name: "B", username: "forge_bot" });
    if (method === "getUpdates") {
      const offset = Number(body.offset ?? 0);
      while (updates[0] !== undefined && updates[0].update_id < offset) updates.shift();
      return ok(updates.slice(0, 100));
    }
    if (method === "sendMessage" || method === "sendDocument") {
      return ok({ message_id: messageId++, date: 1, chat: { id: body.chat_id, type: "private" } });
    }
    return ok(true);
  }

  nock.disableNetConnect();
  nock(ROOT)
    .persist()
    .post(new RegExp(`^/bot${TOKEN}/`))
    .reply((uri, raw) => {
      const method = uri.split("/").at(-1) ?? "";
      const body = typeof raw === "object" ? raw : { raw };
      calls.push({ method, body });
      const [status, answer] = scripted.get(method)?.shift() ?? usual(method, body);
      return [status, answer as nock.Body];
    });

  return {
    updates,
    calls,
    script: (method, ...answers) => {
      scripted.set(method, [...(scripted.get(method) ?? []), ...answers]);
    },
    sent: (chatId) =>
      calls.filter(
        ({ method, body }) =>
          method === "sendMessage" && (chatId === undefined || String(body.chat_id) === chatId),
      ),
    until: async (holds) => {
      const end = performance.now() + 20_000;
      while (!holds()) {
        if (performance.now() > end)
          throw new Error(
            `waited in vain; ${JSON.stringify(updates)}; calls: ${JSON.stringify(calls.slice(-6))}`,
          );
        await new Promise((resolve) => setTimeout(resolve, 5));
      }
    },
    close: () => {
      nock.cleanAll();
      nock.enableNetConnect();
    },
  };
}

let nextUpdate = 5000;
export const updateId = (): number => nextUpdate++;

export interface SaidBy {
  readonly from?: number;
  readonly chat?: number;
  readonly type?: string;
  readonly name?: string;
  readonly messageId?: number;
}

let nextMessage = 1;
const DATE = 1_772_438_400;

export function messageOf(by: SaidBy, more: object): Record<string, unknown> {
  const { from = 7, chat = by.from ?? 7, type = "private", name = "Wenna" } = by;
  return {
    message_id: by.messageId ?? nextMessage++,
    date: DATE,
    chat: { id: chat, type, ...(type === "private" ? {} : { title: "Forge" }) },
    from: { id: from, is_bot: false, first_name: name },
    ...more,
  };
}

export const says = (text: string, by: SaidBy = {}) => ({
  update_id: updateId(),
  message: messageOf(by, { text }),
});

export const edits = (text: string, messageId: number, editDate: number, by: SaidBy = {}) => ({
  update_id: updateId(),
  edited_message: messageOf({ ...by, messageId }, { text, edit_date: editDate }),
});

export const presses = (data: string, queryId: string, by: SaidBy = {}) => ({
  update_id: updateId(),
  callback_query: {
    id: queryId,
    from: { id: by.from ?? 7, is_bot: false, first_name: by.name ?? "Wenna" },
    message: messageOf(by, { text: "a reply" }),
    chat_instance: "1",
    data,
  },
});
