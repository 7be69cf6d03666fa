import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { foldIngot } from "../../src/logbook/index.js";
import { Log, minute } from "./given.js";

const state = (log: Log) => foldIngot(log.ingotIds()[0] ?? "", log.rows);

describe("folding an ingot", () => {
  it("keeps what was not said again of the same piece", () => {
    const log = new Log();
    log.say([{ kind: "size", thicknessMm: 22, widthMm: 36, lengthMm: 170 }]);
    log.say([{ kind: "size", lengthMm: 180 }]);
    expect(state(log).piece).toMatchObject({ thicknessMm: 22, widthMm: 36, lengthMm: 180 });
  });

  it("does not carry a disc's figures into a bar", () => {
    const log = new Log();
    log.say([{ kind: "size", shape: "disc", diameterMm: 78, heightMm: 20 }]);
    log.say([{ kind: "size", thicknessMm: 30, widthMm: 30 }]);
    expect(state(log).piece).toMatchObject({ shape: "bar", thicknessMm: 30, widthMm: 30 });
    expect(state(log).piece).not.toHaveProperty("diameterMm");
  });

  it("counts heats on where no number was said, and takes a working alone as the heat's in hand", () => {
    const log = new Log();
    log.say([{ kind: "heat", number: 4, temperatureC: 950 }]);
    log.say([
      { kind: "heat", operation: "draw" },
      { kind: "size", thicknessMm: 20, widthMm: 36 },
    ]);
    log.say([{ kind: "heat", operation: "draw" }]);
    log.say([{ kind: "heat" }]);
    expect(state(log).heats.map(({ value }) => [value.number, value.operation])).toEqual([
      [4, "draw"],
      [5, "draw"],
      [6, undefined],
    ]);
  });

  it("takes a heat told again by its number as that heat, and the same number a day later as another", () => {
    const log = new Log();
    log.say([{ kind: "heat", number: 1, temperatureC: 900, operation: "flatten" }]);
    log.say([{ kind: "heat", number: 2, temperatureC: 960 }]);
    log.say([{ kind: "heat", number: 3 }]);
    log.say([{ kind: "heat", number: 2, temperatureC: 940 }]);
    expect(state(log).heats.map(({ value }) => [value.number, value.temperatureC])).toEqual([
      [1, 900],
      [2, 940],
      [3, undefined],
    ]);
    log.say([{ kind: "heat", number: 1, temperatureC: 890, at: minute(26 * 60) }]);
    expect(state(log).heats).toHaveLength(4);
  });

  it("places a late message where it happened, and later figures follow", () => {
    const log = new Log();
    log.say([{ kind: "ingot", massG: 450 }]);
    log.say([{ kind: "heat", number: 1 }]);
    log.say([{ kind: "size", massG: 440 }]);
    expect(state(log).weighings.at(-1)?.afterHeats).toBe(1);
    log.say([{ kind: "heat", at: minute(2) }]);
    log.say([{ kind: "removal", method: "grind", massG: 5, at: minute(2) }]);
    expect(state(log).weighings.at(-1)).toMatchObject({ afterHeats: 2, removedG: 5, massG: 440 });
  });

  it("closes a crack with the removal that names its place, or the only one open", () => {
    const log = new Log();
    log.say([{ kind: "crack", place: "spine", depthMm: 2 }]);
    log.say([{ kind: "crack", place: "edge" }]);
    log.say([{ kind: "removal", method: "grind" }]);
    expect(state(log).cracks.filter(({ takenOutBy }) => takenOutBy)).toHaveLength(0);
    log.say([{ kind: "removal", method: "grind", place: "spine" }]);
    log.say([{ kind: "removal" }]);
    expect(state(log).cracks.every(({ takenOutBy }) => takenOutBy !== undefined)).toBe(true);
  });

  it("adds depth and length to the crack just reported; a second depth is another crack", () => {
    const log = new Log();
    log.say([{ kind: "crack", place: "spine" }]);
    log.say([{ kind: "crack", depthMm: 2, lengthMm: 10 }]);
    expect(state(log).cracks).toHaveLength(1);
    expect(state(log).cracks[0]?.value).toEqual({ place: "spine", depthMm: 2, lengthMm: 10 });
    log.say([{ kind: "crack", place: "spine", depthMm: 1 }]);
    expect(state(log).cracks).toHaveLength(2);
  });

  it("takes the figure of a removal that was reported without one", () => {
    const log = new Log();
    log.say([{ kind: "removal", method: "grind", place: "spine" }]);
    log.say([{ kind: "removal", method: "grind", massG: 6 }]);
    log.say([{ kind: "removal", method: "grind", massG: 4 }]);
    expect(state(log).removals.map(({ value }) => value)).toEqual([
      { method: "grind", place: "spine", massG: 6 },
      { method: "grind", massG: 4 },
    ]);
  });

  it("makes a bar shorter by what was cut off, until it is measured again", () => {
    const log = new Log();
    log.say([{ kind: "size", thicknessMm: 22, widthMm: 36, lengthMm: 180 }]);
    log.say([{ kind: "removal", method: "cut", lengthMm: 30 }]);
    expect(state(log).piece?.lengthMm).toBe(150);
  });

  it("gives the same state whatever the order of the rows handed in", () => {
    const log = new Log();
    log.say([{ kind: "ingot", diameterMm: 64, heightMm: 30, massG: 450 }]);
    log.say([
      { kind: "heat", number: 1, temperatureC: 900 },
      { kind: "size", diameterMm: 78 },
    ]);
    log.say([{ kind: "crack", place: "top", depthMm: 2 }]);
    log.say([{ kind: "removal", method: "chisel", massG: 11, place: "top" }]);
    log.say([{ kind: "correct", from: 900, to: 920 }]);
    const wanted = state(log);
    const id = log.ingotIds()[0] ?? "";
    fc.assert(
      fc.property(fc.shuffledSubarray(log.rows, { minLength: log.rows.length }), (rows) => {
        expect(foldIngot(id, rows)).toEqual(wanted);
      }),
    );
  });

  it("with an entry and its undo equals the fold without the entry", () => {
    const facts = fc.constantFrom(
      { kind: "heat", temperatureC: 910 } as const,
      { kind: "size", thicknessMm: 20, widthMm: 30, lengthMm: 150 } as const,
      { kind: "crack", place: "edge", depthMm: 1 } as const,
      { kind: "removal", method: "grind", massG: 4 } as const,
      { kind: "note", note: "clean" } as const,
      { kind: "size", massG: 430 } as const,
    );
    fc.assert(
      fc.property(fc.array(facts, { maxLength: 8 }), facts, (said, extra) => {
        const plain = new Log();
        const undone = new Log();
        for (const log of [plain, undone]) {
          log.say([{ kind: "ingot", massG: 450 }]);
          for (const fact of said) log.say([fact]);
        }
        undone.say([extra]);
        undone.say([{ kind: "undo" }]);
        expect(state(undone)).toEqual({ ...state(plain), ingotId: state(undone).ingotId });
      }),
    );
  });
});
