/** Every source that code or a page names is listed in docs/sources.md, once. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { acmC, COLOUR_NAMES, heatColour } from "../../src/steel/index.js";
import { sourceIds } from "./rows.js";

const root = new URL("../..", import.meta.url).pathname;
const files = (folder: string, ending: string): readonly string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(ending))
    .map((name) => join(folder, name));

describe("sources", () => {
  const listed = sourceIds();

  it("are listed once each", () => {
    const page = readFileSync(join(root, "docs/sources.md"), "utf8");
    const ids = [...page.matchAll(/^- \*\*\[(S\d{2})\]\*\*/gm)].map((match) => match[1]);
    expect(ids.length).toBe(new Set(ids).size);
    expect(ids.length).toBeGreaterThan(40);
  });

  it.each([...files("src", ".ts"), ...files("docs", ".md")])(
    "%s names only listed ones",
    (file) => {
      const named = [...readFileSync(join(root, file), "utf8").matchAll(/\[(S\d{2})[\],]/g)];
      expect(named.map((match) => match[1]).filter((id) => !listed.has(id as string))).toEqual([]);
    },
  );
});

describe.each([
  ["docs/steel.md", 13],
  ["docs/melt.md", 7],
])("%s", (name, least) => {
  it("has each anchor once, and links only to anchors that are there", () => {
    const text = readFileSync(join(root, name), "utf8");
    const ids = (of: string) => [...of.matchAll(/<a id="([a-z0-9-]+)"><\/a>/g)].map((m) => m[1]);
    const anchors = ids(text);
    expect(anchors.length).toBeGreaterThanOrEqual(least);
    expect(anchors.length).toBe(new Set(anchors).size);
    for (const [, file, anchor] of text.matchAll(/\]\(([a-z]+\.md)#([a-z0-9-]+)\)/g)) {
      expect(ids(readFileSync(join(root, "docs", file as string), "utf8"))).toContain(anchor);
    }
  });
});

describe("docs/steel.md", () => {
  const page = readFileSync(join(root, "docs/steel.md"), "utf8");

  /** Cells of a table row that begins with this cell, without that first cell if it is a label. */
  const cells = (start: string) =>
    (page.split("\n").find((line) => line.startsWith(`| ${start} |`)) ?? "")
      .split("|")
      .map((cell) => cell.trim())
      .filter((cell) => cell !== "");

  it("prints the Acm that the code gives", () => {
    const carbons = cells("%C").slice(1).map(Number);
    expect(carbons.length).toBe(8);
    expect(cells("Acm °C").slice(1).map(Number)).toEqual(
      carbons.map((carbonPct) => Math.round(acmC(carbonPct))),
    );
  });

  it("prints the colour intervals that the code gives", () => {
    expect(cells("black red")).toEqual([...COLOUR_NAMES]);
    const printed = COLOUR_NAMES.map((name) => {
      const interval = heatColour(name);
      return `${interval?.lowC}–${interval?.highC}`;
    });
    expect(cells("425–595")).toEqual(printed);
  });
});
