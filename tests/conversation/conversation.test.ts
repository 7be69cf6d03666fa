/** Whole conversations: what a smith says, what stands in the reply. Figures of the planner have their own tests. */
import { describe, expect, it } from "vitest";
import { MOST_LINES } from "../../src/conversation/lines.js";
import { Talk } from "./talk.js";

const bold = (lines: readonly string[]): string[] => lines.filter((line) => line.startsWith("*"));
const INGOT = "new ingot 64 across 30 high 450 g";

describe("first contact", () => {
  it("asks three questions that can all be skipped, and states what is assumed", async () => {
    const talk = await Talk.start({ settled: false });
    const hello = await talk.say("hello");
    expect(hello.join("\n")).toMatch(/Assumed: mm, hand hammer, no welded handle/);
    expect(hello.at(-1)).toMatch(/Units\?/);
    expect((await talk.press("Skip")).join()).toMatch(/swings the hammer/);
    expect((await talk.press("Skip")).join()).toMatch(/weld a handle/);
    expect((await talk.press("Skip")).join()).toMatch(/new ingot/);
  });

  it("asks for the mass of a power hammer and takes a typed one", async () => {
    const talk = await Talk.start({ settled: false });
    await talk.say("hello");
    await talk.press("inch");
    expect((await talk.press("Power hammer")).join()).toMatch(/Tup mass/);
    const next = await talk.say("40 kg");
    expect(next[0]).toBe("Power hammer, tup 88 lb");
    expect(next.join()).toMatch(/weld a handle/);
  });

  it("takes a message about steel at once", async () => {
    const talk = await Talk.start({ settled: false });
    const lines = await talk.say(INGOT);
    expect(lines.join("\n")).toMatch(/450 g/);
    expect(bold(lines)).toHaveLength(1);
    expect(lines.length).toBeLessThanOrEqual(MOST_LINES);
  });
});

describe("a reply", () => {
  it("reads back first, sets the next size alone and bold, in at most five lines", async () => {
    const talk = await Talk.start();
    for (const words of [
      INGOT,
      "goal 150 by 28 single edge",
      "pipe to the spine",
      "heat 1 at 900, flattened to 70 across 16 high",
      "crack 2 deep 10 long on the spine",
      "ground off 3 g",
      "22 x 30 x 80, 430 g",
    ]) {
      const lines = await talk.say(words);
      expect(lines.length, words).toBeLessThanOrEqual(MOST_LINES);
      expect(bold(lines), words).toHaveLength(1);
      expect(bold(lines)[0], words).toMatch(/^\*Next: /);
      expect(lines[0], words).not.toMatch(/^\*/);
      expect(lines.join("\n"), words).not.toMatch(/NaN|undefined|Infinity|-\d+ g/);
    }
  });

  it("keeps to inches in an inch chat", async () => {
    const talk = await Talk.start();
    await talk.say("inches");
    for (const words of ['new ingot 2 1/2" across 1 1/4" high 1 lb', "goal 6 by 1 1/8", "plan"]) {
      const text = (await talk.say(words)).join("\n");
      expect(text, words).not.toMatch(/\d mm\b|\d g\b|°C|\bkN\b/);
    }
  });

  it("says back what was not understood beside what was", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    const lines = await talk.say("heat 2 at 910, frobbed the gimbal");
    expect(lines[0]).toMatch(/Heat 2 · 910 °C/);
    expect(lines.join("\n")).toMatch(/Not understood: .*gimbal/);
  });

  it("keeps words it cannot read as a note if told so", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    await talk.say("the moon is made of borax");
    expect(await talk.press("Keep as a note")).toContain("Noted: the moon is made of borax");
  });
});

describe("taking back and putting right", () => {
  it("undoes again and again, in order", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    await talk.say("heat 1 at 900");
    await talk.say("heat 2 at 910");
    await talk.say("no, 905");
    expect((await talk.say("undo"))[0]).toBe(
      "Taken back: Heat 2 · 905 °C, back to Heat 2 · 910 °C",
    );
    expect((await talk.say("undo"))[0]).toBe("Taken back: Heat 2 · 910 °C");
    expect((await talk.press("Undo"))[0]).toBe("Taken back: Heat 1 · 900 °C");
    expect((await talk.say("undo"))[0]).toMatch(/Taken back: Ingot 1/);
    expect((await talk.say("undo")).join()).toMatch(/take back|Taken back/);
  });

  it("corrects the last matching figure", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    await talk.say("22 thick 53 wide 60 long");
    expect((await talk.say("no, 36 not 53"))[0]).toBe("Width 36 mm, not 53 mm");
    expect((await talk.say("status"))[0]).toMatch(/22 × 36 × 60 mm/);
  });

  it("sorts bare figures again when one of them is put right", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    await talk.say("22 by 53 by 60");
    await talk.say("no, 36 not 53");
    expect((await talk.say("status"))[0]).toMatch(/22 × 36 × 60 mm/);
  });

  it("takes an edited message in place of its first words", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    await talk.say("heat 1 at 900");
    const edits = talk.key();
    await talk.say("heat 1 at 920", { kind: "edit", edits });
    const entries = await talk.store.everything();
    const standing = entries.filter(({ takenBackBy, kind }) => !takenBackBy && kind === "heat");
    expect(standing.map(({ fact }) => fact)).toEqual([
      { kind: "heat", number: 1, temperatureC: 920 },
    ]);
    expect(entries.filter(({ kind }) => kind === "heat")).toHaveLength(2);
  });

  it("answers a message that comes twice once", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    await talk.say("heat 1 at 900");
    await talk.say("heat 1 at 900", { sourceKey: talk.key(), id: "again" });
    const heats = (await talk.store.everything()).filter(({ kind }) => kind === "heat");
    expect(heats).toHaveLength(1);
  });
});

describe("ingots", () => {
  it("are switched by name, and an unknown name loses nothing that was said with it", async () => {
    const talk = await Talk.start();
    await talk.say("new ingot Rook 64 across 30 high 450 g");
    await talk.say("new ingot Heron 70 across 32 high 600 g");
    expect((await talk.say("back to Rook"))[0]).toMatch(/Ingot Rook in hand/);
    const asked = await talk.say("ingot Owl: heat 3 at 915");
    expect(asked.join("\n")).toMatch(/No ingot called Owl/);
    const answered = await talk.press("Ingot Heron");
    expect(answered[0]).toMatch(/Ingot Heron in hand · Heat 3 · 915 °C/);
  });

  it("in a group each smith has their own in hand", async () => {
    const talk = await Talk.start();
    await talk.say("new ingot Rook 64 across 30 high 450 g", { smithId: "imre" });
    await talk.say("new ingot Heron 70 across 32 high 600 g", { smithId: "sal" });
    await talk.say("heat 1 at 900", { smithId: "imre" });
    expect((await talk.say("status", { smithId: "imre" }))[0]).toMatch(/Ingot Rook/);
    expect((await talk.say("status", { smithId: "sal" }))[0]).toMatch(/Ingot Heron/);
  });

  it("of another chat cannot be reached", async () => {
    const talk = await Talk.start();
    await talk.say("new ingot Rook 64 across 30 high 450 g");
    const lines = await talk.say("back to Rook", { chatId: "other" });
    expect(lines.join("\n")).toMatch(/No ingot called Rook/);
  });
});

describe("safety lines", () => {
  it("come with the first heat of the day, once, and again the next day", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    const warned = (lines: readonly string[]): boolean =>
      lines.some((line) => /Glasses/.test(line));
    expect(warned(await talk.say("heat 1 at 900"))).toBe(true);
    expect(warned(await talk.say("heat 2 at 900"))).toBe(false);
    talk.wait(24 * 60);
    expect(warned(await talk.say("heat 3 at 900"))).toBe(true);
  });

  it("warn every time of a temperature over the ceiling of this steel", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    for (const words of ["heat 1 at 1050", "heat 2 at 1060"]) {
      expect((await talk.say(words)).join("\n")).toMatch(/⚠ 10[56]0 °C is over \d+ °C/);
    }
  });
});

describe("what was taken off", () => {
  it("leaves that much less to spare, weighed or not, and undo gives it back", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    await talk.say("goal 120 by 25 single edge");
    await talk.say("pipe to the spine");
    await talk.say("heat 1 at 900, 20 x 24 x 110");
    const spare = async (words: string): Promise<number> =>
      Number(/To spare (\d+) g/.exec((await talk.say(words)).join("\n"))?.[1]);
    const before = await spare("next size");
    expect(await spare("filed 5 g off the edge")).toBeLessThan(before);
    expect(await spare("undo")).toBe(before);
  });
});

describe("doubt", () => {
  it("is asked once, with the readings as buttons, and what was sure is kept meanwhile", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    await talk.say("22 by 36 by 70");
    await talk.say("45");
    expect(talk.buttons().length).toBeGreaterThanOrEqual(2);
    const long = talk.buttons().find(({ label }) => /long/.test(label));
    const lines = await talk.press(long?.label ?? "");
    expect(lines[0]).toMatch(/45 mm long/);
    expect((await talk.say(long?.code ?? "", { kind: "button" })).join()).toMatch(
      /Already answered/,
    );
  });
});

describe("questions", () => {
  it.each([
    ["next size", /\*Next: /],
    ["plan", /1\. /],
    ["status", /Ingot 1/],
    ["summary", /INGOT 1/],
    ["how long have I got at 12 by 30", /About \d+ s/],
    ["what force for a 40 bite", /About \d+ (kN|blows)/],
    ["help", /heat 4 at 950/],
  ])("%s is answered", async (words, wanted) => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    await talk.say("goal 150 by 28 single edge");
    await talk.say("heat 1 at 900, 22 by 36 by 70");
    expect((await talk.say(words)).join("\n")).toMatch(wanted);
  });

  it("the day's sheet is given on request", async () => {
    const talk = await Talk.start();
    await talk.say(INGOT);
    await talk.say("heat 1 at 900");
    expect((await talk.say("what did I do today")).join("\n")).toMatch(/DAY Tue 12 May 2026/);
  });
});
