/** Rooms that think use no clock, chance, environment or disk: the import rules cannot see globals. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";

const PURE = [
  "units",
  "steel",
  "shape",
  "forging",
  "melt",
  "logbook",
  "language",
  "report",
  "conversation",
];
const FORBIDDEN = [
  /\bDate\.now\b/,
  /\bnew Date\(\s*\)/,
  /\bMath\.random\b/,
  /\bprocess\./,
  /\bperformance\./,
  /\bset(Timeout|Interval|Immediate)\b/,
  /\bfetch\(/,
  /\bcrypto\./,
  /\bconsole\./,
];

const files = PURE.flatMap((room) =>
  readdirSync(join("src", room), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .map((name) => join("src", room, name)),
);

describe("pure rooms", () => {
  it("are all there", () => {
    for (const room of PURE) expect(files.some((file) => file.includes(`/${room}/`))).toBe(true);
  });
  it.each(files)("%s touches no clock, chance, environment or disk", (file) => {
    const code = readFileSync(file, "utf8").replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, "");
    expect(FORBIDDEN.filter((pattern) => pattern.test(code)).map(String)).toEqual([]);
  });
  it("would notice the clock", () => {
    expect(FORBIDDEN.some((pattern) => pattern.test("const now = new Date();"))).toBe(true);
    expect(FORBIDDEN.some((pattern) => pattern.test("new Date(iso)"))).toBe(false);
  });
});
