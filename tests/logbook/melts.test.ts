import { describe, expect, it } from "vitest";
import { chargeMassG, type FactOf, foldMelts } from "../../src/logbook/index.js";
import { rows } from "../report/log.js";

type Melt = Omit<FactOf<"melt">, "kind">;
const melts = (...said: readonly (readonly [string, Melt])[]) =>
  foldMelts(rows(said.map(([at, melt]) => ({ at, fact: { kind: "melt", ...melt } }))));

describe("melts", () => {
  it("puts together what is said of one melt in a day", () => {
    const all = melts(
      ["2026-05-12T08:00:00Z", { number: 12, charge: [{ what: "bar iron", massG: 640 }] }],
      ["2026-05-12T08:05:00Z", { charge: [{ what: "charcoal", massG: 14 }] }],
      ["2026-05-12T11:00:00Z", { temperatureC: 1520, durationMin: 35 }],
      ["2026-05-12T15:00:00Z", { number: 12, cooling: "in the furnace", ingotG: 610 }],
    );
    expect(all).toHaveLength(1);
    expect(all[0]?.number).toBe(12);
    expect(all[0]?.facts).toMatchObject({ temperatureC: 1520, durationMin: 35, ingotG: 610 });
    expect(chargeMassG(all[0]?.facts ?? {})).toBe(654);
    expect(all[0]?.entryIds).toEqual(["e1", "e2", "e3", "e4"]);
  });

  it("begins another when a word contradicts the last one or another day begins", () => {
    const all = melts(
      ["2026-05-12T08:00:00Z", { massG: 650 }],
      ["2026-05-12T13:00:00Z", { massG: 700 }],
      ["2026-05-13T08:00:00Z", { temperatureC: 1500 }],
    );
    expect(all.map(({ facts }) => facts.massG)).toEqual([650, 700, undefined]);
  });

  it("goes back to a melt by its number and lets an unnumbered one take its number later", () => {
    const all = melts(
      ["2026-05-12T08:00:00Z", { number: 1, massG: 650 }],
      ["2026-05-12T09:00:00Z", { number: 2, massG: 600 }],
      ["2026-05-12T12:00:00Z", { number: 1, ingotG: 610 }],
    );
    expect(all.map(({ facts }) => [facts.massG, facts.ingotG])).toEqual([
      [650, 610],
      [600, undefined],
    ]);
    const late = melts(
      ["2026-05-12T08:00:00Z", { massG: 650 }],
      ["2026-05-12T09:00:00Z", { number: 7, temperatureC: 1510 }],
    );
    expect(late).toHaveLength(1);
    expect(late[0]).toMatchObject({ number: 7, facts: { massG: 650, temperatureC: 1510 } });
  });

  it("counts days where the shop stands", () => {
    const said = rows([
      { at: "2026-05-12T14:30:00Z", fact: { kind: "melt", massG: 650 } },
      { at: "2026-05-12T15:30:00Z", fact: { kind: "melt", temperatureC: 1500 } },
    ]);
    expect(foldMelts(said)).toHaveLength(1);
    // 23:30 and 00:30 nine hours east of Greenwich.
    const tokyo = (iso: string): string =>
      new Date(Date.parse(iso) + 9 * 3_600_000).toISOString().slice(0, 10);
    expect(foldMelts(said, tokyo)).toHaveLength(2);
  });

  it("passes over what was taken back; a charge with an unweighed part has no mass", () => {
    expect(
      foldMelts(
        rows([
          { at: "2026-05-12T08:00:00Z", fact: { kind: "melt", massG: 650 }, takenBackBy: "e9" },
        ]),
      ),
    ).toEqual([]);
    expect(
      chargeMassG({ charge: [{ what: "iron", massG: 600 }, { what: "charcoal" }] }),
    ).toBeUndefined();
  });
});
