import { describe, expect, it } from "vitest";
import { FACT_KINDS, fromContract } from "../../src/logbook/index.js";
import { exportColumns, exportRows, sheetHourTable, toCsv } from "../../src/report/index.js";
import { rows } from "./log.js";

describe("tables for export", () => {
  const log = [
    ...rows([
      {
        at: "2026-05-12T07:00:00Z",
        ingotId: "i1",
        fact: { kind: "ingot", name: "Wren", massG: 450 },
      },
      {
        at: "2026-05-12T07:10:00Z",
        ingotId: "i1",
        fact: { kind: "heat", number: 1, temperatureC: 950 },
        takenBackBy: "e3",
      },
    ]),
    {
      id: "e3",
      seq: 3,
      place: 3,
      chatId: "c1",
      smithId: "s1",
      messageId: "m3",
      kind: "undo" as const,
      at: "2026-05-12T07:11:00.000Z",
      arrived: "2026-05-12T07:11:00.000Z",
      implied: [],
      confidence: 1,
    },
  ].map((entry) => ({
    ...entry,
    smithName: "Marit",
    ...(entry.ingotId === undefined ? {} : { ingotName: "Wren" }),
  }));

  it("has a table a kind and a row an entry, with the fields of the contract", () => {
    const tables = exportRows(log);
    expect(tables.map(({ kind }) => kind)).toEqual(["ingot", "heat", "undo"]);
    expect(tables[1]?.rows).toEqual([
      {
        id: "e2",
        at: "2026-05-12T07:10:00.000Z",
        smith: "Marit",
        ingot: "Wren",
        message: "m2",
        taken_back: true,
        number: 1,
        temperature_c: 950,
      },
    ]);
    expect(tables[2]?.rows[0]).toMatchObject({ id: "e3", taken_back: false });
  });

  it("tells the hours of the day sheets where there are any", () => {
    expect(sheetHourTable([])).toEqual([]);
    const at = "2026-05-12T07:00:00.000Z";
    const [table] = sheetHourTable([
      { chatId: "c1", edge: "messenger", smithId: "s1", minute: 1140, at },
    ]);
    expect(toCsv(table?.rows ?? [], table?.columns ?? [])).toBe(
      `chat,minute,smith,at,done_on\r\nc1,1140,s1,${at},\r\n`,
    );
  });

  it("names every column with its unit, each field of the kind once", () => {
    expect(exportColumns("heat")).toEqual([
      "id",
      "at",
      "smith",
      "ingot",
      "message",
      "taken_back",
      "approx",
      "number",
      "temperature_c",
      "colour",
      "duration_min",
      "operation",
    ]);
    for (const kind of FACT_KINDS) {
      const columns = exportColumns(kind);
      expect(new Set(columns).size).toBe(columns.length);
    }
  });

  it("gives back what was said when a row is read again", () => {
    const row = exportRows(log)[1]?.rows[0] ?? {};
    const own = new Set(["id", "at", "smith", "ingot", "message", "taken_back"]);
    const fields = Object.entries(row).filter(([name]) => !own.has(name));
    expect(fromContract({ kind: "heat", ...Object.fromEntries(fields) })).toEqual({
      kind: "heat",
      number: 1,
      temperatureC: 950,
    });
  });
});

describe("comma-separated values (RFC 4180)", () => {
  it("quotes commas, quotes and line breaks, ends lines with CRLF, leaves the unknown empty", () => {
    // RFC 4180, section 2, rules 5 to 7: fields with line breaks, quotes and commas; a quote is doubled.
    const csv = toCsv(
      [
        { a: "aaa", b: 'b"bb', c: "c,cc" },
        { a: "z\r\nz", c: 3.5 },
      ],
      ["a", "b", "c"],
    );
    expect(csv).toBe('a,b,c\r\naaa,"b""bb","c,cc"\r\n"z\r\nz",,3.5\r\n');
  });
  it("keeps text from running as a formula, and figures as they are", () => {
    expect(toCsv([{ a: "=1+1", b: "@x", c: -20, d: "-20", e: "+1" }])).toBe(
      "a,b,c,d,e\r\n'=1+1,'@x,-20,'-20,'+1\r\n",
    );
  });
});
