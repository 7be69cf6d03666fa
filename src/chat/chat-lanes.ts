/** Jobs of one chat run in order, chats side by side. */
export interface ChatLanes {
  run<T>(chat: string, job: () => Promise<T>): Promise<T>;
  /** Resolves when every lane is empty. */
  idle(): Promise<void>;
}

export function createChatLanes(): ChatLanes {
  const tails = new Map<string, Promise<unknown>>();
  return {
    run(chat, job) {
      const before = tails.get(chat) ?? Promise.resolve();
      const mine = before.then(job, job);
      const tail = mine.catch(() => undefined);
      tails.set(chat, tail);
      void tail.then(() => {
        if (tails.get(chat) === tail) tails.delete(chat);
      });
      return mine;
    },
    async idle() {
      while (tails.size > 0) await Promise.all(tails.values());
    },
  };
}
