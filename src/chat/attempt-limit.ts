/** How often something may be tried: per person and in all, in a sliding window; memory bounded. */
export interface AttemptLimit {
  /** Counts one attempt; false if it is one too many. */
  allow(who: string, nowMs: number): boolean;
}

export interface AttemptLimitOptions {
  readonly perPerson: number;
  readonly inAll: number;
  readonly windowMs: number;
}

/** Most people remembered; beyond it the oldest are forgotten, the limit in all still holds. */
const REMEMBERED = 10_000;

export function createAttemptLimit(options: AttemptLimitOptions): AttemptLimit {
  const people = new Map<string, { count: number; sinceMs: number }>();
  let all = { count: 0, sinceMs: Number.NEGATIVE_INFINITY };
  return {
    allow(who, nowMs) {
      if (nowMs - all.sinceMs >= options.windowMs) all = { count: 0, sinceMs: nowMs };
      const before = people.get(who);
      const mine =
        before && nowMs - before.sinceMs < options.windowMs ? before : { count: 0, sinceMs: nowMs };
      people.delete(who);
      people.set(who, mine);
      if (people.size > REMEMBERED) {
        const oldest = people.keys().next().value;
        if (oldest !== undefined) people.delete(oldest);
      }
      if (mine.count >= options.perPerson || all.count >= options.inAll) return false;
      mine.count += 1;
      all.count += 1;
      return true;
    },
  };
}
