/** What needs no database of the work that several processes share: questions, leases. */
import { expect, test } from "vitest";
import { createLeases } from "../../src/chat/leases.js";
import { rememberedQuestions, signedQuestions } from "../../src/chat/open-questions.js";
import { jumpingClock, keptLog } from "./desk.js";

test.each([
  ["remembered", rememberedQuestions()],
  ["signed", signedQuestions("a secret")],
])("a %s question stands for who was asked, until its end", (_, questions) => {
  const name = questions.ask("7", 60_000);
  expect(name).toMatch(/^[A-Za-z0-9_-]{16}$/);
  expect(questions.standing(name, "7", 59_000)).toBe("open");
  expect(questions.standing(name, "8", 59_000)).toBe("not-theirs");
  expect(questions.standing(name, "7", 61_000)).toBe("over");
  expect(questions.standing("AAAAAAAAAAAAAAAA", "7", 1000)).not.toBe("open");
});

test("any process that knows the secret knows a signed question, no other does, nor can its end be moved", () => {
  const name = signedQuestions("a secret").ask("7", 60_000);
  expect(signedQuestions("a secret").standing(name, "7", 1000)).toBe("open");
  expect(signedQuestions("another").standing(name, "7", 1000)).toBe("not-theirs");
  const later = Buffer.from(name, "base64url");
  later.writeUInt32BE(9999);
  expect(signedQuestions("a secret").standing(later.toString("base64url"), "7", 1000)).not.toBe(
    "open",
  );
});

test("a lease that is not prolonged counts as lost here before another may have it", async () => {
  const clock = jumpingClock();
  const ended = new AbortController();
  let away = false;
  let asked = 0;
  const work = {
    renew: async (_kind: string, _worker: string, chats: readonly string[]) => {
      asked += 1;
      if (away) throw new Error("the database is away");
      return chats.filter((chat) => chat !== "lost");
    },
  };
  const leases = createLeases({ work, worker: "a", leaseMs: 10_000, clock, logger: keptLog() });
  leases.given("take", "7", 0);
  leases.given("send", "7", 0);
  leases.given("take", "lost", 0);
  expect(leases.holds("take", "7")).toBe(true);
  expect(leases.holds("take", "8")).toBe(false);
  const keeping = leases.keep(ended.signal);
  while (asked < 8) await new Promise((resolve) => setImmediate(resolve));
  expect(clock.at()).toBeGreaterThanOrEqual(10_000);
  expect([leases.holds("take", "7"), leases.holds("send", "7")]).toEqual([true, true]);
  expect(leases.holds("take", "lost")).toBe(false);
  away = true;
  const lastRenewed = clock.at();
  while (leases.holds("take", "7")) await new Promise((resolve) => setImmediate(resolve));
  // Well before the database lets another have it.
  expect(clock.at() - lastRenewed).toBeLessThan(10_000);
  leases.gone("take", "7");
  expect(leases.holds("take", "7")).toBe(false);
  ended.abort();
  await keeping;
});
