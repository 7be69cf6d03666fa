/** Somebody is hurt: first aid comes first, and nobody else is told about it. */
import { describe, expect, it } from "vitest";
import { injuryLine } from "../../src/conversation/injury.js";
import { Talk } from "./talk.js";

describe("first aid", () => {
  it.each([
    ["burnt my hand", /^⚠ Burn: cool running water 20 min/],
    ["I burned my finger on the bar", /^⚠ Burn/],
    ["got a spark in my eye", /^⚠ Eye: do not rub/],
    ["something in my eye", /^⚠ Eye/],
    ["scale flew into his eye", /^⚠ Eye/],
    ["burned myself", /^⚠ Burn/],
    ["cut my thumb on the flash", /^⚠ Stop. Bleeding: press hard/],
    ["smashed my finger", /^⚠ Stop/],
    ["i feel dizzy", /^⚠ Everybody out/],
    ["the CO alarm is beeping", /^⚠ Everybody out/],
  ])("%s", (words, line) => expect(injuryLine(words)).toMatch(line));

  it.each([
    "burnt off 4 g",
    "crack at the eye of the ring",
    "cut 12 off the tang",
    "heat 4 at 950, drew it",
    "my hand hammer is 1.5 kg",
    "sparks flew",
    "got 8 burned off as scale",
    "hit the edge harder",
    "can't see any cracks",
    "got my eye on the next bar",
    "chip at the eye of the ring",
    "burnt 4 g off, hand hammer only",
    "keep an eye on it",
  ])("%s: nobody is hurt", (words) => expect(injuryLine(words)).toBeUndefined());

  it("stands first in the reply, and what was said is kept", async () => {
    const talk = await Talk.start();
    await talk.say("new ingot 64 across 30 high 450 g");
    const [first] = await talk.say("heat 1 at 900, burnt my hand");
    expect(first).toMatch(/^\*?⚠ Burn/);
    expect((await talk.say("status")).join(" ")).toMatch(/1 heat/);
  });
});
