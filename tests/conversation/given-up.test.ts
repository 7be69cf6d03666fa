/** An ingot that is lost is closed in words: kept whole as a note, ended without a blade, taken back by undo. */
import { expect, it } from "vitest";
import { foldIngot, givenUp } from "../../src/logbook/index.js";
import { Talk } from "./talk.js";

async function withIngots(): Promise<Talk> {
  const talk = await Talk.start();
  await talk.say("new ingot 64 across 30 high 450 g");
  await talk.say("route spine");
  await talk.say("heat 1 at 950");
  await talk.say("new ingot 60 across 28 high 400 g");
  return talk;
}

it("ends the ingot in hand; status, next and the sheet know it; undo takes it back", async () => {
  const talk = await withIngots();
  await talk.say("heat 1 at 940");
  const said = await talk.say("that ingot is dead, it cracked through");
  expect(said).toContain("*Ingot 2 is given up: 1 heat · no cracks*");
  expect((await talk.say("next")).join("\n")).toBe("Ingot 2 was given up. Say: new ingot, or undo");
  expect((await talk.say("status"))[0]).toMatch(/^Ingot 2 · given up/);
  const sheet = (await talk.say("day sheet")).join("\n");
  expect(sheet).toMatch(/INGOT 2 · new · given up/);
  expect(sheet).not.toContain("Next, 2");
  expect((await talk.say("summary")).join("\n")).toContain("INGOT 2 · given up, no blade");
  const card = (await talk.say("summary")).join("\n");
  expect(card).toContain("Note: that ingot is dead, it cracked through");
  const undone = (await talk.say("undo")).join("\n");
  expect(undone).toContain("Taken back");
  expect((await talk.say("status"))[0]).not.toContain("given up");
  expect((await talk.say("next")).join("\n")).not.toContain("given up");
});

it("gives up another ingot by its name and leaves the one in hand", async () => {
  const talk = await withIngots();
  const said = await talk.say("scrapped ingot 1");
  expect(said).toContain("*Ingot 1 is given up: 1 heat · no cracks*");
  expect((await talk.say("status"))[0]).toMatch(/^Ingot 2 · (?!given)/);
  const { ingots } = await talk.store.view("chat", "imre", "2026-05-12T00:00:00.000Z");
  expect(ingots.map(({ finished, name }) => [name, finished])).toEqual([
    ["2", false],
    ["1", true],
  ]);
});

it("a name alone will do", async () => {
  const talk = await withIngots();
  await talk.say("new ingot Rook 58 across 26 high 380 g");
  await talk.say("new ingot Wren 58 across 26 high 380 g");
  expect((await talk.say("Rook is lost, the ring tore through")).join("\n")).toContain(
    "Ingot Rook is given up",
  );
  expect((await talk.say("gave up on wren")).join("\n")).toContain("Ingot Wren is given up");
  expect((await talk.store.finishedIngots("chat", 9)).map(({ name }) => name)).toEqual([
    "Wren",
    "Rook",
  ]);
  expect(givenUp("scrapped ingot seven")).toEqual({ name: "7" });
  expect(givenUp("Rook is lost")).toBeUndefined();
  expect(givenUp("Rook lost 20 g", ["Rook"])).toBeUndefined();
  expect(givenUp("lost 7", ["7"])).toBeUndefined();
});

it("asks which, where the name is not known", async () => {
  const talk = await withIngots();
  expect((await talk.say("scrapped ingot 9"))[0]).toContain("No ingot called 9");
  expect((await talk.say("Ingot 1")).join("\n")).toContain("Ingot 1 is given up");
});

it("what is told of the next ingot does not go to the one given up; more heats are questioned", async () => {
  const talk = await withIngots();
  await talk.say("lost this one");
  expect((await talk.say("heat 2 at 950")).join("\n")).toContain("Ingot 2 was given up");
  expect((await talk.say("62 across 29 high 420 g")).join("\n")).toContain("Ingot 3");
});

it("is evidence of cracks and losses, not of a blade", async () => {
  const talk = await withIngots();
  await talk.say("back to ingot 1");
  await talk.say("crack 8 deep on the spine");
  await talk.say("lost this one");
  const ended = await talk.store.finishedIngots("chat", 10);
  expect(ended.map(({ name }) => name)).toEqual(["1"]);
  const [first] = ended;
  const state = foldIngot(
    first?.ingotId ?? "",
    await talk.store.ingotLog("chat", first?.ingotId ?? ""),
  );
  expect(state.givenUp?.value).toBe("lost this one");
  expect(state.finish).toBeUndefined();
  expect((await talk.say("figures")).join("\n")).not.toContain("1 blade");
  await talk.say("undo");
  expect(await talk.store.finishedIngots("chat", 10)).toEqual([]);
});

it("before and after it the message is read as ever", async () => {
  const talk = await withIngots();
  const said = (
    await talk.say(
      "heat 1 at 950 and it cracked through, scrapped it. new ingot 50 across 25 high 300 g",
    )
  ).join("\n");
  expect(said).toContain("Ingot 2 is given up: 1 heat · 1 crack");
  expect((await talk.say("status"))[0]).toMatch(/^Ingot 3/);
});

it.each([
  "scrapped ingot 7",
  "that ingot is dead, it cracked through",
  "lost this one",
  "give up on this ingot",
  "I gave up on ingot rook after heat 5",
  "Scrapped #12.",
  "this one is scrap",
  "the bar is for the scrap bin",
  "drew it too cold and lost this one",
  "wrote it off",
  "ingot lost",
])("“%s” gives up", (words) => {
  expect(givenUp(words)).toBeDefined();
});

it.each([
  "lost 20 g",
  "lost this one to scale 20 g",
  "the ingot lost 20 g",
  "scrap that",
  "bin this one",
  "throw it away",
  "should I scrap this ingot?",
  "crack ground out, it is gone",
  "the pipe is gone",
  "nearly lost this one",
  "scrapped the plan",
  "lost it",
  "is this one dead",
])("“%s” does not", (words) => {
  expect(givenUp(words)).toBeUndefined();
});
