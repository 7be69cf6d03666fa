import { describe, expect, it } from "vitest";
import { foldIngot } from "../../src/logbook/index.js";
import { Log, minute } from "./given.js";

const bar = { kind: "size", thicknessMm: 22, widthMm: 83, lengthMm: 180 } as const;

describe("which ingot a fact belongs to", () => {
  it("opens an ingot with the next number as its name when none is in hand", () => {
    const log = new Log();
    const { opened } = log.say([{ kind: "heat", number: 1, temperatureC: 950 }]);
    expect(opened).toEqual({ name: "1", implied: true });
    expect(log.facts().map(({ kind }) => kind)).toEqual(["ingot", "heat"]);
  });

  it("adds what was not said yet to the ingot in hand, and opens another for a second body", () => {
    const log = new Log();
    log.say([{ kind: "ingot", diameterMm: 64, heightMm: 30 }]);
    log.say([{ kind: "ingot", massG: 450, carbonPct: 1.5 }]);
    expect(log.ingotIds()).toHaveLength(1);
    const { opened } = log.say([{ kind: "ingot", diameterMm: 70, heightMm: 32 }]);
    expect(opened).toEqual({ name: "2", implied: true });
    expect(log.ingotIds()).toHaveLength(2);
  });

  it("takes round sizes and a weight said of a fresh ingot as its own", () => {
    const log = new Log();
    log.say([{ kind: "ingot", name: "Rook" }]);
    const { state } = log.say([{ kind: "size", diameterMm: 64, heightMm: 30, massG: 450 }]);
    expect(state?.facts).toEqual({ name: "Rook", diameterMm: 64, heightMm: 30, massG: 450 });
    expect(state?.piece).toBeUndefined();
  });

  it("switches by name, back to the other one, and says when there is none of that name", () => {
    const log = new Log();
    log.say([{ kind: "ingot", name: "Rook", massG: 450 }]);
    log.say([{ kind: "ingot", name: "Heron", massG: 600 }]);
    expect(log.say([{ kind: "switch", ingot: "rook" }]).state?.name).toBe("Rook");
    expect(log.say([{ kind: "switch", ingot: "other bar" }]).state?.name).toBe("Heron");
    const rest = { kind: "heat", temperatureC: 900 } as const;
    const { issues, entries } = log.say([{ kind: "switch", ingot: "Owl" }, rest]);
    expect(entries).toEqual([]);
    expect(issues).toMatchObject([{ code: "no-such-ingot", name: "Owl", rest: [{ body: rest }] }]);
  });
});

describe("undo", () => {
  it("takes back the last message's entries, again and again, in order", () => {
    const log = new Log();
    log.say([{ kind: "ingot", massG: 450 }]);
    log.say([{ kind: "heat", number: 1 }, bar]);
    log.say([{ kind: "crack", place: "spine" }]);
    log.say([{ kind: "undo" }]);
    expect(log.facts().map(({ kind }) => kind)).toEqual(["ingot", "heat", "size"]);
    log.say([{ kind: "undo" }]);
    expect(log.facts().map(({ kind }) => kind)).toEqual(["ingot"]);
    log.say([{ kind: "undo" }]);
    expect(log.say([{ kind: "undo" }]).issues).toEqual([{ code: "nothing-to-undo" }]);
    expect(log.rows.filter(({ fact }) => fact !== undefined)).toHaveLength(4);
  });

  it("of a correction makes the first figure stand again, and then takes that back too", () => {
    const log = new Log();
    log.say([{ kind: "heat", number: 1, temperatureC: 900 }, bar]);
    log.say([{ kind: "correct", from: 83, to: 38 }]);
    expect(log.facts()).toContainEqual({ ...bar, widthMm: 38 });
    log.say([{ kind: "undo" }]);
    expect(log.facts()).toContainEqual(bar);
    log.say([{ kind: "undo" }]);
    expect(log.facts()).toEqual([]);
  });
});

describe("corrections", () => {
  it("change the last matching figure and keep its place in the sequence", () => {
    const log = new Log();
    log.say([bar]);
    log.say([{ kind: "heat", number: 2, temperatureC: 930 }]);
    const { corrections, state } = log.say([{ kind: "correct", from: 83, to: 38 }]);
    expect(corrections).toMatchObject([{ field: "widthMm", from: 83, to: 38 }]);
    expect(log.facts().map(({ kind }) => kind)).toEqual(["ingot", "size", "heat"]);
    expect(state?.sizes[0]).toMatchObject({ afterHeats: 0, value: { widthMm: 38 } });
  });

  it("without the old figure go to the field said, or to the nearest figure", () => {
    const log = new Log();
    log.say([{ kind: "heat", number: 4, temperatureC: 905 }, bar]);
    log.say([{ kind: "correct", to: 950 }]);
    expect(log.facts()).toContainEqual({ kind: "heat", number: 4, temperatureC: 950 });
    log.say([{ kind: "correct", field: "thickness_mm", to: 24 }]);
    expect(log.facts()).toContainEqual({ ...bar, thicknessMm: 24 });
  });

  it("sort three bare figures again", () => {
    const log = new Log();
    const implied = ["thicknessMm", "widthMm", "lengthMm"];
    const body = { kind: "size", thicknessMm: 22, widthMm: 60, lengthMm: 83 } as const;
    log.take(log.decided([body], {}, implied));
    log.say([{ kind: "correct", from: 83, to: 38 }]);
    expect(log.facts().at(-1)).toEqual({ ...body, widthMm: 38, lengthMm: 60 });
  });

  it("refuse a figure that the field cannot hold, and change nothing", () => {
    const log = new Log();
    log.say([{ kind: "heat", number: 1, temperatureC: 905 }]);
    const { issues, takeBacks } = log.say([{ kind: "correct", field: "temperature_c", to: 9050 }]);
    expect(issues).toEqual([{ code: "out-of-range", field: "temperatureC", value: 9050 }]);
    expect(takeBacks).toEqual([]);
  });

  it("move the last message to the ingot it was about", () => {
    const log = new Log();
    log.say([{ kind: "ingot", name: "7", massG: 450 }]);
    log.say([{ kind: "ingot", name: "8", massG: 500 }]);
    log.say([{ kind: "heat", number: 1, temperatureC: 905 }]);
    const { state } = log.say([{ kind: "correct", field: "ingot", to: "7" }]);
    expect(state?.name).toBe("7");
    expect(state?.heats).toHaveLength(1);
    const eight = log.names().get("8")?.ingotId ?? "";
    expect(foldIngot(eight, log.rows).heats).toHaveLength(0);
  });
});

describe("an edited message", () => {
  it("replaces what the first words said, where they stood", () => {
    const log = new Log();
    log.say([{ kind: "ingot", massG: 450 }]);
    log.say([bar]);
    log.say([{ kind: "heat", number: 2 }]);
    log.say([{ ...bar, widthMm: 38 }], { kind: "edit", edits: "terminal:c:2" });
    expect(log.facts().map(({ kind }) => kind)).toEqual(["ingot", "size", "heat"]);
    expect(log.facts()[1]).toEqual({ ...bar, widthMm: 38 });
    expect(log.standing().find(({ kind }) => kind === "size")?.at).toBe(minute(2));
  });

  it("edited into an undo takes back itself once, and the message before it", () => {
    const log = new Log();
    log.say([{ kind: "ingot", massG: 450 }]);
    log.say([{ kind: "heat", number: 1 }]);
    log.say([bar]);
    const { takeBacks } = log.say([{ kind: "undo" }], { kind: "edit", edits: "terminal:c:3" });
    expect(new Set(takeBacks.map(({ entryId }) => entryId)).size).toBe(takeBacks.length);
    expect(log.facts().map(({ kind }) => kind)).toEqual(["ingot"]);
  });

  it("that says nothing any more leaves nothing standing", () => {
    const log = new Log();
    log.say([{ kind: "ingot", massG: 450 }]);
    log.say([bar]);
    log.say([], { kind: "edit", edits: "terminal:c:2" });
    expect(log.facts().map(({ kind }) => kind)).toEqual(["ingot"]);
  });
});
