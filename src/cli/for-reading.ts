/** Opens a log that only gets read, and finds the chat and the ingot that a command is about. */
import { foldIngot, type IngotState, type LogStore } from "../logbook/index.js";
import { openStore } from "../store/index.js";
import { Refused } from "./refused.js";

/** Runs `use` on the log at `db`, a path or an address, and closes it. Throws `StoreFailed` if there is none. */
export async function reading<T>(db: string, use: (store: LogStore) => Promise<T>): Promise<T> {
  const store = await openStore({
    db,
    readonly: true,
    now: () => new Date().toISOString(),
  });
  try {
    return await use(store);
  } finally {
    await store.close();
  }
}

/** The ingot of that name in any chat of the log, the latest if several have it. */
export async function findIngot(
  store: LogStore,
  name: string,
): Promise<{ chatId: string; state: IngotState }> {
  const found = [];
  for (const { chatId } of await store.chats()) {
    const ingot = await store.findIngot(chatId, name);
    if (ingot !== undefined) found.push({ chatId, ...ingot });
  }
  const latest = found.sort((a, b) => (a.openedAt < b.openedAt ? 1 : -1))[0];
  if (latest === undefined) throw new Refused(`no ingot called ${name} in this log`);
  const { chatId, ingotId } = latest;
  return { chatId, state: foldIngot(ingotId, await store.ingotLog(chatId, ingotId)) };
}
