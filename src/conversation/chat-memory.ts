/** What is kept between messages, by chat, so that it is not read again. */
import type { Entry, IngotState } from "../logbook/index.js";
import type { ShopNow } from "./shop-now.js";

/** What a chat's finished ingots have taught, and under which settings that was reckoned. */
export interface Taught {
  readonly finished: readonly IngotState[];
  readonly settings: string;
  readonly shop: ShopNow;
}

/** Chats that something is kept of. Common practice, no source; 100 to 10,000, some 50 kB each at most. */
const KEPT_CHATS = 2000;

/** Where several processes answer in a chat, none may go on with what it knew before another wrote. */
export class ChatMemory {
  /** A first guess; what the chat's settings say goes before it. */
  readonly zones = new Map<string, string>();
  readonly taught = new Map<string, Taught>();
  readonly melts = new Map<string, readonly Entry[]>();
  readonly #seen = new Map<string, number>();
  readonly #left = new Map<string, number>();

  /**
   * `messages`: how many the chat has answered, by the database. What is kept holds only if that is the
   * number that this process left it at; an answer that may not have been written leaves it at none.
   */
  check(chatId: string, messages: number): void {
    if (this.#left.get(chatId) !== messages) {
      this.taught.delete(chatId);
      this.melts.delete(chatId);
    }
    this.#left.delete(chatId);
    if (!this.#seen.has(chatId) && this.#seen.size >= KEPT_CHATS) this.#forgetAll();
    this.#seen.set(chatId, messages);
  }

  /** The answer to the message that `check` was called for is written. */
  answered(chatId: string): void {
    const seen = this.#seen.get(chatId);
    if (seen !== undefined) this.#left.set(chatId, seen + 1);
  }

  #forgetAll(): void {
    for (const kept of [this.zones, this.taught, this.melts, this.#seen, this.#left]) kept.clear();
  }
}
