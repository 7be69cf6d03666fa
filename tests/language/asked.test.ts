/** Bare words and questions: what is asked, with the figures that the command line's JSON hides. */
import { describe, expect, it } from "vitest";
import { bodies, reading } from "./reading-context.js";

describe("bare words", () => {
  it.each([
    ["day", "day"],
    ["day sheet", "day"],
    ["today", "day"],
    ["plan", "plan"],
    ["Plan?", "plan"],
    ["summary", "summary"],
    ["status", "status"],
    ["next", "next"],
    ["next size", "next"],
    ["help", "help"],
    ["loss", "loss"],
    ["losses", "loss"],
  ])("%s", (text, about) => {
    expect(bodies(text)).toEqual([{ kind: "question", about }]);
    expect(reading(text).unread).toEqual([]);
  });
});

describe("figures inside a question", () => {
  it.each([
    ["what blade can I get", { about: "plan", topic: "blade" }],
    ["which blade fits?", { about: "plan", topic: "blade" }],
    ["where is the pipe now", { about: "status", topic: "pipe" }],
    ["what if I cut 30 off", { about: "plan", topic: "cut", lengthMm: 30 }],
    ["what if I cut off an inch and a half", { about: "plan", topic: "cut", lengthMm: 38.1 }],
    ["what force for a 40 bite", { about: "force", topic: "bite", biteMm: 40 }],
    [
      "what force for a 40 mm bite at 950",
      { about: "force", topic: "bite", biteMm: 40, temperatureC: 950 },
    ],
    ["how long have I got at 12 by 30", { about: "time", thicknessMm: 12, widthMm: 30 }],
    [
      "charge for 600 g at 1.5 carbon",
      { about: "plan", topic: "charge", massG: 600, carbonPct: 1.5 },
    ],
    [
      "what charge for 1 lb 4 oz at 1.6 % carbon",
      { about: "plan", topic: "charge", massG: 566.9904625, carbonPct: 1.6 },
    ],
    ["status of 7", { about: "status", ingot: "7" }],
    ["how heavy is ingot 7", { about: "status", ingot: "7" }],
  ])("%s", (text, inner) => {
    const [body, ...more] = bodies(text);
    expect(more).toEqual([]);
    expect(Object.keys(body ?? {}).sort()).toEqual(["kind", ...Object.keys(inner)].sort());
    for (const [field, value] of Object.entries(inner)) {
      const got = (body as Record<string, unknown>)[field];
      if (typeof value === "number") expect(got).toBeCloseTo(value, 6);
      else expect(got).toBe(value);
    }
  });
  it("a charge that was weighed in is no question", () => {
    expect(bodies("charge 600 g iron")).toEqual([
      { kind: "melt", charge: [{ what: "iron", massG: 600 }] },
    ]);
  });
});
