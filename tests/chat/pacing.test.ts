import fc from "fast-check";
import { expect, test } from "vitest";
import { createPacing, PUBLISHED_LIMITS } from "../../src/chat/pacing.js";

interface Send {
  readonly chat: string;
  readonly at: number;
}

/** Books messages at the asked moments, first for their chat, then in all, and returns when each goes. */
function sendsOf(asks: readonly { readonly chat: number; readonly pauseMs: number }[]): Send[] {
  const pacing = createPacing(PUBLISHED_LIMITS);
  let now = 0;
  const freed = asks.map(({ chat, pauseMs }) => {
    now += pauseMs;
    const id = chat < 3 ? `-${chat + 1}` : String(chat);
    return { chat: id, at: now + pacing.bookChat(id, id.startsWith("-"), now) };
  });
  now = 0;
  return freed
    .sort((one, other) => one.at - other.at)
    .map(({ chat, at }) => {
      now = Math.max(now, at);
      for (let wait = pacing.askAll(now); wait > 0; wait = pacing.askAll(now)) now += wait;
      return { chat, at: now };
    });
}

function mostIn(windowMs: number, times: readonly number[]): number {
  const sorted = [...times].sort((one, other) => one - other);
  let most = 0;
  for (const [index, start] of sorted.entries()) {
    let end = index;
    while (end < sorted.length && (sorted[end] ?? 0) < start + windowMs) end += 1;
    most = Math.max(most, end - index);
  }
  return most;
}

const asks = fc.array(
  fc.record({ chat: fc.nat({ max: 6 }), pauseMs: fc.oneof(fc.constant(0), fc.nat({ max: 3000 })) }),
  { minLength: 1, maxLength: 300 },
);

test("never more than 30 in any second, 20 in any minute to a group", () => {
  fc.assert(
    fc.property(asks, (asked) => {
      const sends = sendsOf(asked);
      expect(
        mostIn(
          1000,
          sends.map(({ at }) => at),
        ),
      ).toBeLessThanOrEqual(30);
      for (const group of ["-1", "-2", "-3"]) {
        const times = sends.filter(({ chat }) => chat === group).map(({ at }) => at);
        expect(mostIn(60_000, times)).toBeLessThanOrEqual(20);
      }
    }),
  );
});

test("a chat takes a short burst at once, then one a second", () => {
  const burst = sendsOf(Array.from({ length: 6 }, () => ({ chat: 5, pauseMs: 0 })));
  expect(burst.map(({ at }) => at)).toEqual([0, 0, 0, 1000, 2000, 3000]);
});

test("order within a chat is kept", () => {
  fc.assert(
    fc.property(asks, (asked) => {
      const last = new Map<string, number>();
      for (const { chat, at } of sendsOf(asked)) {
        expect(at).toBeGreaterThanOrEqual(last.get(chat) ?? 0);
        last.set(chat, at);
      }
    }),
  );
});

test("a quiet chat does not wait for a busy one", () => {
  const sends = sendsOf([
    ...Array.from({ length: 20 }, () => ({ chat: 5, pauseMs: 0 })),
    { chat: 6, pauseMs: 1000 },
  ]);
  expect((sends.find(({ chat }) => chat === "6")?.at ?? 0) - 1000).toBeLessThan(50);
});
