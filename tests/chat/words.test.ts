import fc from "fast-check";
import { expect, test } from "vitest";
import { readUpdate } from "../../src/chat/arrival.js";
import { createAttemptLimit } from "../../src/chat/attempt-limit.js";
import { createChatLanes } from "../../src/chat/chat-lanes.js";
import { messengerPages } from "../../src/chat/messenger-page.js";
import { plainName, plainWords } from "../../src/chat/plain-words.js";
import { redact } from "../../src/chat/redact.js";
import { describeTrouble, isStoreTrouble } from "../../src/chat/trouble.js";
import { StoreFailed } from "../../src/store/index.js";

const TOKEN = "123456789:AAtesttoken-testtoken_testtoken12345";

test("no text keeps a token, plain, in an address or encoded", () => {
  fc.assert(
    fc.property(fc.string(), fc.string(), (before, after) => {
      for (const token of [TOKEN, encodeURIComponent(TOKEN)]) {
        const text = redact(`${before}${token}${after} https://x/bot${TOKEN}/getMe`, TOKEN);
        expect(text).not.toContain(TOKEN);
        expect(text).not.toContain("testtoken_testtoken12345");
      }
    }),
  );
});

test("a text without a token stays as it is", () => {
  expect(redact("heat 4:950 at 10:40, 22:36:180", TOKEN)).toBe("heat 4:950 at 10:40, 22:36:180");
});

test("words keep no control or direction marks and no half letters", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), (text) => {
      const words = plainWords(text);
      expect(words).not.toMatch(
        /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/,
      );
      expect(Buffer.from(words).toString()).toBe(words);
      const name = plainName(text);
      expect(name).not.toContain("\n");
      expect(Array.from(name).length).toBeLessThanOrEqual(64);
    }),
    { numRuns: 3000 },
  );
});

test("no reply carries marks of the messenger that we did not write", () => {
  fc.assert(
    fc.property(fc.array(fc.string({ maxLength: 300 }), { maxLength: 8 }), (lines) => {
      const pages = messengerPages({
        lines: lines.map((text, index) => ({ text, bold: index === 0 })),
        buttons: [],
      });
      for (const { html } of pages) {
        const tags = html.match(/<[^>]*>?/g) ?? [];
        for (const tag of tags) expect(["<b>", "</b>"]).toContain(tag);
        expect(html.replace(/&(?:amp|lt|gt|quot);/g, "")).not.toContain("&");
      }
    }),
  );
});

test("a long answer goes in pages below the limit, nothing lost", () => {
  const lines = Array.from({ length: 300 }, (_, index) => ({
    text: `line ${index} ${"&".repeat(60)}`,
  }));
  const pages = messengerPages({ lines, buttons: [] });
  expect(pages.length).toBeGreaterThan(4);
  for (const { plain } of pages) expect(plain.length).toBeLessThanOrEqual(4096);
  expect(pages.map(({ plain }) => plain).join("\n")).toBe(lines.map(({ text }) => text).join("\n"));
});

test("no update, however broken, throws", () => {
  fc.assert(
    fc.property(fc.anything({ maxDepth: 5, withBigInt: true, withDate: true }), (raw) => {
      expect(readUpdate(raw)).toHaveProperty("kind");
    }),
    { numRuns: 3000 },
  );
});

test("trouble of the disk is told from our own faults, in words without the message", () => {
  const full = new StoreFailed("full", "/secret/path is full");
  expect(isStoreTrouble(full)).toBe(true);
  expect(describeTrouble(full)).toBe("the disk is full");
  expect(
    isStoreTrouble(new Error("x", { cause: Object.assign(new Error(), { code: "ENOSPC" }) })),
  ).toBe(true);
  expect(isStoreTrouble(new StoreFailed("unreadable", "row"))).toBe(false);
  expect(isStoreTrouble(Object.assign(new Error(), { code: "SQLITE_CONSTRAINT_CHECK" }))).toBe(
    false,
  );
  expect(isStoreTrouble(new StoreFailed("disk", "x", new TypeError("no such column")))).toBe(false);
  const io = Object.assign(new Error(), { code: "SQLITE_IOERR_WRITE" });
  expect(isStoreTrouble(new StoreFailed("disk", "x", io))).toBe(true);
  expect(describeTrouble(new TypeError(`at ${TOKEN}`))).toBe("TypeError");
  expect(describeTrouble("thrown words")).toBe("an unknown fault");
});

test("tries are limited per person and in all, and come back after the window", () => {
  const limit = createAttemptLimit({ perPerson: 2, inAll: 3, windowMs: 1000 });
  expect([0, 1, 2].map((at) => limit.allow("a", at))).toEqual([true, true, false]);
  expect(limit.allow("b", 3)).toBe(true);
  expect(limit.allow("c", 4)).toBe(false);
  expect(limit.allow("a", 1001)).toBe(true);
});

test("lanes keep order in a chat, run chats side by side, and survive a failure", async () => {
  const lanes = createChatLanes();
  const seen: string[] = [];
  let free = (): void => {};
  const held = new Promise<void>((resolve) => {
    free = resolve;
  });
  const first = lanes.run("a", async () => {
    await held;
    seen.push("a1");
    throw new Error("a1");
  });
  const second = lanes.run("a", async () => seen.push("a2"));
  await lanes.run("b", async () => seen.push("b1"));
  free();
  await expect(first).rejects.toThrow("a1");
  await second;
  await lanes.idle();
  expect(seen).toEqual(["b1", "a1", "a2"]);
});
