/** Figures that steel cannot have: asked about once, nothing dropped, choices on top of what is recorded. */
import { describe, expect, it } from "vitest";
import { read } from "../../src/language/index.js";
import { loadCorpus } from "../corpus/index.js";
import { bodies, CONTEXT, reading } from "./reading-context.js";

const choices = (text: string, more = {}): [string, unknown[]][] =>
  (reading(text, more).ask?.choices ?? []).map((choice) => [
    choice.label,
    choice.drafts.map((draft) => draft.body),
  ]);
const lastSize = { last: [{ kind: "size", thicknessMm: 22, widthMm: 36, lengthMm: 178 }] } as const;

describe("one question, and the words of other doubts are handed back", () => {
  it("two impossible figures", () => {
    const found = reading("heat 5 at 2000, 45");
    expect(found.drafts.map((draft) => draft.body)).toEqual([{ kind: "heat", number: 5 }]);
    expect(found.ask?.about).toBe("which-dimension");
    expect(found.unread).toEqual(["2000"]);
  });
  it("three", () => {
    const found = reading("crack 3 mm on the spine, heat 9 at 2000, weighs 45000 g");
    expect(found.ask?.about).toBe("crack-figure");
    expect(found.unread).toEqual(["2000", "45000 g"]);
  });
  it("a list is handed back whole, with its labels", () => {
    const found = reading("heat 4 at 95, 22x36x1800", lastSize);
    const said = [found.ask?.choices.map((one) => one.label).join(" "), ...found.unread].join(" ");
    expect(said).toMatch(/95/);
    expect(said).toMatch(/180/);
  });
  it.each(["45, 5/8 thick or so", "45. 38. heat at 95", "12 or 20 thick, crack 4 mm"])(
    "every figure of “%s” is in an entry, in unread or in the question",
    (text) => {
      const found = reading(text);
      const all = JSON.stringify([found.drafts, found.unread, found.ask]);
      for (const figure of text.match(/\d+(?!\/)/g) ?? [])
        if (figure !== "8") expect(all).toContain(figure);
    },
  );
});

describe("choices", () => {
  it("an impossible heat offers the slip, the figure as said and leaving it out", () => {
    expect(choices("heat 5 at 2000")).toEqual([
      ["2000 °F, 1093 °C", [{ kind: "heat", number: 5, temperatureC: expect.closeTo(1093.33, 2) }]],
      ["2000 °C as said", [{ kind: "heat", number: 5, temperatureC: 2000 }]],
      ["Leave it out", []],
    ]);
  });
  it("a nought too many", () => {
    expect(choices("heat 5 at 9500").map(([label]) => label)).toEqual(["950 °C", "Leave it out"]);
  });
  it("a heat without a number is told by the next one, so it is not counted twice", () => {
    const ingot = { ingot: { heats: 6 } };
    expect(bodies("drew it out at 95 degrees", ingot)).toEqual([
      { kind: "heat", operation: "draw" },
    ]);
    expect(choices("drew it out at 95 degrees", ingot)[0]).toEqual([
      "950 °C",
      [{ kind: "heat", number: 7, temperatureC: 950 }],
    ]);
  });
  it("a crack's figure: what tells which crack, and the figure", () => {
    expect(bodies("crack 3 mm on the spine")).toEqual([{ kind: "crack", place: "spine" }]);
    expect(choices("crack 3 mm on the spine")).toEqual([
      ["3 mm deep", [{ kind: "crack", place: "spine", depthMm: 3 }]],
      ["3 mm long", [{ kind: "crack", place: "spine", lengthMm: 3 }]],
    ]);
  });
  it("a size too small for mm: the whole list in inches or in mm", () => {
    expect(choices("1.5 x 2 x 7").map(([label]) => label)).toEqual([
      "1.5 × 2 × 7 in",
      "1.5 × 2 × 7 mm",
      "Leave it out",
    ]);
  });
  it("a doubted size is kept back whole", () => {
    expect(bodies("22x36x1800", lastSize)).toEqual([]);
    expect(choices("22x36x1800", lastSize)[0]).toEqual([
      "180 mm long",
      [{ kind: "size", thicknessMm: 22, widthMm: 36, lengthMm: 180 }],
    ]);
  });
});

const asking = loadCorpus("tuning").filter((one) => one.ask === true);
describe("every question of the corpus", () => {
  it.each(asking.map((one) => [one.text, one] as const))("%s", (_, one) => {
    const last = (one.context?.last ?? []).map((entry) =>
      Object.fromEntries(
        Object.entries(entry).map(([field, value]) => [
          field.replace(/_([a-z])/g, (_all, letter: string) => letter.toUpperCase()),
          value,
        ]),
      ),
    );
    const found = read(one.text, {
      ...CONTEXT,
      units: one.context?.units ?? "mm",
      ...(last.length > 0 && { last: last as never }),
    });
    expect(found.ask?.choices.length).toBeGreaterThanOrEqual(2);
    expect(new Set(found.ask?.choices.map((choice) => choice.label)).size).toBe(
      found.ask?.choices.length,
    );
    for (const choice of found.ask?.choices ?? []) {
      if (choice.label !== "Leave it out") expect(choice.label).toMatch(/^\d/);
      expect(choice.drafts.length).toBe(choice.label === "Leave it out" ? 0 : 1);
      for (const draft of choice.drafts) {
        const again = found.drafts.find(({ body }) => body.kind === draft.body.kind);
        if (!again) continue;
        // Beside what tells which entry it is, nothing is said twice.
        const twice = Object.entries(draft.body).filter(
          ([field, value]) =>
            !["kind", "number", "place", "method", "name", "at"].includes(field) &&
            (again.body as Record<string, unknown>)[field] === value,
        );
        expect(twice).toEqual([]);
      }
    }
  });
});

describe("a figure that no rule took", () => {
  it.each([
    ["h13 890 bevelled, 5g vanishd, 618g", ["5 g", "618 g"], "massG"],
    ["heat 3 at 900, weighs 500 g blorp 618 g", ["500 g", "618 g"], "massG"],
  ])("%s: asked about with the one that was", (text, labels, field) => {
    const found = read(text, CONTEXT);
    expect(found.ask?.choices.map(({ label }) => label)).toEqual([...labels, "Leave it out"]);
    for (const { body } of found.drafts) expect(body).not.toHaveProperty(field);
  });

  it("of somebody else's talk leaves what was told alone", () => {
    const found = read("22x36x180. Bo fetch me the 12 mm drift", CONTEXT);
    expect(found.ask).toBeUndefined();
    expect(found.drafts[0]?.body).toMatchObject({ thicknessMm: 22, widthMm: 36, lengthMm: 180 });
  });
});
