/** What the shop is: the standing settings of a chat, later ones over earlier ones. */
import type { Entry } from "./log-store.js";

export interface ShopSettings {
  readonly units?: "mm" | "inch" | undefined;
  readonly temperatureUnits?: "c" | "f" | undefined;
  readonly pressKn?: number | undefined;
  readonly hammerKg?: number | undefined;
  readonly handHammer?: boolean | undefined;
  readonly welder?: boolean | undefined;
  readonly timezone?: string | undefined;
  readonly spokenReplies?: boolean | undefined;
}

/** The settings of a chat from its standing `setting` entries, in the order they happened. */
export function foldShop(entries: readonly Entry[]): ShopSettings {
  let shop: ShopSettings = {};
  for (const { fact, takenBackBy } of entries) {
    if (takenBackBy !== undefined || fact?.kind !== "setting") continue;
    const { kind: _kind, at: _at, approx: _approx, ...said } = fact;
    shop = { ...shop, ...withoutUndefined(said) };
  }
  return shop;
}

/** Copies without the fields that are undefined, so that spreading never erases. */
export function withoutUndefined<T extends object>(value: T): T {
  return Object.fromEntries(Object.entries(value).filter(([, inner]) => inner !== undefined)) as T;
}
