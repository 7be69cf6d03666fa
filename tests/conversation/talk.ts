/** A whole bot in memory: say something, get the lines of the reply. */
import { createHandler } from "../../src/conversation/index.js";
import type { Button, Incoming, LogStore, Reply } from "../../src/logbook/index.js";
import { openSqliteStore } from "../../src/store/index.js";

const MINUTE = 60_000;

export class Talk {
  readonly store: LogStore;
  readonly #handler: ReturnType<typeof createHandler>;
  #at: number;
  #count = 0;
  #ids = 0;
  last: Reply | undefined;

  private constructor(store: LogStore, start: string) {
    this.store = store;
    this.#at = Date.parse(start);
    this.#handler = createHandler({
      store,
      newId: () => `id${(++this.#ids).toString().padStart(5, "0")}`,
      timezone: "Europe/Berlin",
      onFailure: (_, cause) => {
        throw cause;
      },
    });
  }

  /** A fresh chat; `settled` has answered the first contact by skipping. */
  static async start(
    options: { settled?: boolean; at?: string; store?: LogStore } = {},
  ): Promise<Talk> {
    const now = (): string => options.at ?? "2026-05-12T08:00:00.000Z";
    const store = options.store ?? (await openSqliteStore({ file: ":memory:", now }));
    const talk = new Talk(store, now());
    if (options.settled !== false)
      for (const word of ["hello", "skip", "skip", "skip"]) await talk.say(word);
    return talk;
  }

  /** Lines of the reply; the bold one between stars. A minute passes with each message. */
  async say(text: string, more: Partial<Incoming> = {}): Promise<string[]> {
    this.#at += MINUTE;
    this.#count += 1;
    const chatId = more.chatId ?? "chat";
    await this.#handler.handle({
      id: `m${this.#count}`,
      sourceKey: `terminal:${chatId}:${this.#count}`,
      edge: "terminal",
      chatId,
      smithId: "imre",
      kind: "text",
      text,
      sentAt: new Date(this.#at).toISOString(),
      receivedAt: new Date(this.#at).toISOString(),
      ...more,
    });
    const replies = await this.store.unsent(10, chatId);
    for (const reply of replies)
      await this.store.markSent(reply.id, new Date(this.#at).toISOString());
    this.last = replies.at(-1);
    return (this.last?.body.lines ?? []).map(({ text: line, bold }) => (bold ? `*${line}*` : line));
  }

  /** Source key of the message said last, for edits and repeats. */
  key = (): string => `terminal:chat:${this.#count}`;

  buttons = (): Button[] => this.last?.body.buttons.flat() ?? [];

  /** Presses the button with this label under the last reply. */
  press(label: string): Promise<string[]> {
    const pressed = this.buttons().find((each) => each.label === label);
    if (pressed === undefined) {
      throw new RangeError(`no button ${label}, only ${this.buttons().map((b) => b.label)}`);
    }
    return this.say(pressed.code, { kind: "button" });
  }

  wait(minutes: number): this {
    this.#at += minutes * MINUTE;
    return this;
  }
}
