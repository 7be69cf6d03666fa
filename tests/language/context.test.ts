/** What the words before say: names of open ingots, the one before, the heats so far. */
import { describe, expect, it } from "vitest";
import type { ReadingContext } from "../../src/language/index.js";
import { bodies, reading } from "./reading-context.js";

const open: Partial<ReadingContext> = {
  names: ["Rook", "7", "small one", "Wren", "Magpie"],
  previous: "Rook",
  ingot: { name: "7", heats: 3 },
};
const to = (ingot: string): unknown => ({ kind: "switch", ingot });

describe("names of open ingots", () => {
  it.each([
    ["back to the small one", [to("small one")]],
    ["the small one", [to("small one")]],
    ["the other bar", [to("Rook")]],
    ["back to the other one", [to("Rook")]],
    ["the previous one", [to("Rook")]],
    ["ROOK", [to("Rook")]],
    ["back to roock", [to("Rook")]],
    ["wrenn", [to("Wren")]],
    ["rook: heat 4 at 950", [to("Rook"), { kind: "heat", number: 4, temperatureC: 950 }]],
    ["7: heat 3 at 940", [to("7"), { kind: "heat", number: 3, temperatureC: 940 }]],
    [
      "magpei 22x36x180",
      [to("Magpie"), { kind: "size", thicknessMm: 22, widthMm: 36, lengthMm: 180 }],
    ],
  ])("%s", (text, want) => {
    expect(bodies(text, open)).toEqual(want);
    expect(reading(text, open).unread).toEqual([]);
  });
  it("words of the trade are not taken for a name", () => {
    const names = { names: ["Cracks", "Draws"] };
    expect(bodies("crack on the rim", names)).toEqual([{ kind: "crack", place: "rim" }]);
    expect(bodies("drew to 180 long", names)).toEqual([
      { kind: "heat", operation: "draw" },
      { kind: "size", lengthMm: 180 },
    ]);
  });
  it("between two names as near, none is taken", () => {
    expect(bodies("wrek", { names: ["Wren", "Wreb"] })).toEqual([]);
    expect(reading("wrek", { names: ["Wren", "Wreb"] }).unread).toEqual(["wrek"]);
  });
  it("the other of two open ingots, without one before", () => {
    const two = { names: ["7", "Wren"], ingot: { name: "7" } };
    expect(bodies("the other bar", two)).toEqual([to("Wren")]);
  });
  it("without names the words are kept as typed", () => {
    expect(bodies("back to the small one")).toEqual([to("small one")]);
    expect(bodies("the other bar")).toEqual([to("other bar")]);
  });
});

describe("what the piece is now", () => {
  it("one size is changed, the rest stays unsaid", () => {
    expect(bodies("it's now 180 long", open)).toEqual([{ kind: "size", lengthMm: 180 }]);
  });
});

describe("punching out the middle", () => {
  const ring = { kind: "route", route: "ring" };
  it.each([{}, { ingot: { heats: 0 } }])("before any heat it is the ring route", (context) => {
    expect(bodies("punch it out", context)).toEqual([ring]);
    expect(bodies("I'll punch it out", context)).toEqual([ring]);
    expect(bodies("punch it out and open the ring", context)).toEqual([ring]);
  });
  it("after heats it is a removal", () => {
    expect(bodies("punch it out", open)).toEqual([{ kind: "removal", method: "punch" }]);
  });
  it("what was done is a removal at any time", () => {
    expect(bodies("punched it out, lost 12 g")).toEqual([
      { kind: "removal", method: "punch", massG: 12 },
    ]);
  });
});

it("a share of the weight is no figure of an entry: handed back", () => {
  expect(bodies("4 % to scale")).toEqual([]);
  expect(reading("4 % to scale").unread).toEqual(["4 % to scale"]);
});
