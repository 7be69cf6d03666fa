/** The log keeps a chat under its first id; the messenger may give it another when a group grows. */
import type { AccessStore } from "../logbook/index.js";

export interface ChatIds {
  /** Id in the log of a chat that the messenger calls `wireId`. */
  toLog(wireId: string): string;
  /** Id under which the messenger knows the log's chat now. */
  toWire(logId: string): string;
  moved(from: string, to: string): Promise<void>;
  /** The database knows that the log's chat has this id now: another process may have noted it. */
  learn(logId: string, wireId: string): void;
}

export async function loadChatIds(
  access: Pick<AccessStore, "movedChats" | "chatMoved">,
  now: () => string,
): Promise<ChatIds> {
  const log = new Map<string, string>();
  const wire = new Map<string, string>();
  const toLog = (wireId: string): string => log.get(wireId) ?? wireId;
  const note = (from: string, to: string): void => {
    const first = toLog(from);
    if (first === to) return;
    log.set(to, first);
    wire.set(first, to);
  };
  for (const { from, to } of await access.movedChats()) note(from, to);
  return {
    toLog,
    toWire: (logId) => wire.get(logId) ?? logId,
    learn(logId, wireId) {
      if (toLog(wireId) !== logId) note(logId, wireId);
    },
    async moved(from, to) {
      if (toLog(to) === toLog(from)) return;
      await access.chatMoved(toLog(from), to, now());
      note(from, to);
    },
  };
}
