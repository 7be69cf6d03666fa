/** What is told bit by bit after a melt stays with it, and each ingot that comes out is one of its own. */
import { describe, expect, it } from "vitest";
import { Talk } from "./talk.js";

describe("after a melt", () => {
  it("keeps hold and peak with the melt: no ingot, no heat", async () => {
    const talk = await Talk.start();
    await talk.say("melt 14: 500 g iron 8 g charcoal");
    await talk.say("held 40 min");
    await talk.say("1530 for another 10 min");
    const kinds = (await talk.store.everything()).map(({ kind }) => kind);
    expect(new Set(kinds)).toEqual(new Set(["melt"]));
  });

  it("opens a second ingot when a second one comes out", async () => {
    const talk = await Talk.start();
    await talk.say("melt 14: 500 g iron 8 g charcoal");
    await talk.say("ingot came out at 295g 50 across 24 high");
    await talk.say("another melt: 500 g iron 8 g charcoal 20 g glass");
    expect((await talk.say("came out 60 across 30 high 490 g"))[0]).toMatch(
      /Ingot 2 · Ø 60 × 30 mm/,
    );
    expect((await talk.say("summary of 1")).join("\n")).toMatch(/Ø 50 × 24 mm/);
  });

  it("puts a heat on the ingot that is named behind it", async () => {
    const talk = await Talk.start();
    await talk.say("new ingot 50 across 24 high 295 g");
    await talk.say("new ingot 60 across 30 high 490 g");
    await talk.say("heat 3 at 900 15x25x95 on ingot 1");
    const heat = (await talk.store.everything()).find(({ kind }) => kind === "heat");
    const first = (await talk.store.everything()).find(({ kind }) => kind === "ingot");
    expect(heat?.ingotId).toBe(first?.ingotId);
  });
});

describe("a question about one figure", () => {
  it("takes a bare figure as its answer", async () => {
    const talk = await Talk.start();
    await talk.say("new ingot 64 across 30 high 450 g");
    await talk.say("heat 5 at 92");
    expect((await talk.say("925"))[0]).toMatch(/Heat 5 · 925 °C/);
  });
});

describe("told later of the ingot in hand", () => {
  it.each([
    ["carbon 1.5", "carbonPct", 1.5],
    ["1.6 carbon", "carbonPct", 1.6],
    ["it's a puck", "shape", "puck"],
  ])("%s", async (words, field, value) => {
    const talk = await Talk.start();
    await talk.say("new ingot 64 across 30 high 450 g");
    await talk.say("heat 1 at 900, 24x40x60");
    await talk.say(words);
    const ingots = (await talk.store.everything()).filter(({ kind }) => kind === "ingot");
    expect(new Set(ingots.map(({ ingotId }) => ingotId)).size).toBe(1);
    expect(ingots.at(-1)?.fact).toMatchObject({ [field]: value });
  });
});

describe("a crack right through", () => {
  it("is as deep as the piece is thick, and stops the work", async () => {
    const talk = await Talk.start();
    await talk.say("new ingot 50 across 24 high 380 g");
    await talk.say("heat 1 at 900, 20x32x70");
    const reply = (await talk.say("it cracked right thru")).join("\n");
    expect(reply).toMatch(/Large crack · 20 mm deep/);
    expect(reply).toMatch(/⚠ Stop/);
  });
});
