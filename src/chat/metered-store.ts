/** A store whose calls are counted and timed; nothing else about it changes. */
import type { Metrics } from "./metrics.js";

/** Every method of `store` returns a promise. Names of calls are those of the code. */
export function meteredStore<T extends object>(store: T, metrics: Metrics): T {
  return new Proxy(store, {
    get(target, name) {
      const member: unknown = Reflect.get(target, name, target);
      if (typeof member !== "function" || typeof name !== "string") return member;
      return async (...args: unknown[]): Promise<unknown> => {
        const from = performance.now();
        try {
          return await (Reflect.apply(member, target, args) as Promise<unknown>);
        } catch (error) {
          metrics.databaseError(codeOf(error));
          throw error;
        } finally {
          metrics.databaseCall(name, (performance.now() - from) / 1000);
        }
      };
    },
  });
}

const codeOf = (error: unknown): string =>
  error instanceof Error && "code" in error ? String(error.code) : "own";
