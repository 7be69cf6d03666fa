/** Taking entries back; what they had taken the place of stands again, as a copy in the same place. */
import type { Entry, NewEntry } from "./log-store.js";

export function takeBack(
  entries: readonly Entry[],
  by: string,
  replaced: ReadonlyMap<string, Entry>,
  newId: () => string,
): {
  readonly takeBacks: readonly { readonly entryId: string; readonly by: string }[];
  readonly restored: readonly NewEntry[];
} {
  const takeBacks = entries.map((entry) => ({ entryId: entry.id, by }));
  const restored = entries.flatMap((entry) => {
    const before = entry.replaces === undefined ? undefined : replaced.get(entry.replaces);
    if (before?.fact === undefined || before.messageId === entry.messageId) return [];
    const { seq: _seq, place: _place, takenBackBy: _by, ...copy } = before;
    return [{ ...copy, id: newId(), replaces: before.id }];
  });
  return { takeBacks, restored };
}
